"""`board mark`: record that something happened to a load, a step, a batch or a pit."""

from datetime import datetime
from pathlib import Path
from typing import Any

import click

from board.commands.backing import backed_up
from board.commands.recording import house_of, options, tell, who_and_when
from board.errors import LedgerError
from board.ledger import find, write
from board.ledger.open import Ledger, open_ledger
from board.ledger.stages import BATCH_ORDER, LOAD_ORDER, STAGE_OF_STEP
from board.ledger.state import BatchStage, Entry, LoadStage
from board.ledger.where import ledger_path

LOAD_WORDS = {**{str(stage): stage for stage in LOAD_ORDER}, **STAGE_OF_STEP, "serve": LoadStage.SERVED}
BATCH_WORDS = {
    **{str(stage): stage for stage in BATCH_ORDER},
    "make": BatchStage.MADE,
    "use": BatchStage.USED,
    "discard": BatchStage.DISCARDED,
}
MOVE_WORDS = ("moved", "move")
PIT_WORDS = ("light", "lit", "out")


@click.command()
@click.argument("what")
@click.argument("name")
@click.option("--pit", help="The pit a load went on, when not the planned one, or was moved to.")
@click.option("--zone", help="The zone of that pit, where it has zones.")
@click.option("--portions", type=click.IntRange(0), help="Portions a load gave, when counted.")
@click.option("--lot", help="The lot number of a batch made [one that the board gives].")
@click.option("--reason", help="Why a batch is discarded.")
@click.option("--setpoint", help="The temperature asked of a pit, such as '225 F'.")
@options
def command(
    what: str,
    name: str,
    *,
    at: str | None,
    who: str | None,
    ledger: Path | None,
    as_json: bool,
    **details: Any,
) -> None:
    """Record that WHAT happened to NAME.

    \b
    a load:   board mark wrapped 1219-brisket-1   (prepped on wrapped pulled resting holding served lost)
              board mark moved 1219-brisket-1 --pit south
    a step:   board mark rub 1219-brisket-1       (or: board mark done STEP)
    a batch:  board mark made 1219-glaze-1        (made ready used discarded)
    a pit:    board mark lit north --setpoint '225 F'      board mark out north
    """
    with backed_up(open_ledger(ledger_path(ledger))) as opened:
        entry = _mark(opened, what.lower(), name, details, who_and_when(opened, who, at))
        tell(opened, entry, as_json, f"{_done(entry, what)} {entry.data.get('load') or entry.subject}")


def _mark(ledger: Ledger, what: str, name: str, details: dict[str, Any], said: dict[str, Any]) -> Entry:
    """Record it with whatever of that name there is near that moment."""
    at = said["at"]
    if what in PIT_WORDS and not find.is_known(ledger, "steps", name, at):
        _takes_only(what, details, *(() if what == "out" else ("setpoint",)))
        return _mark_pit(ledger, what, name, details["setpoint"], said)
    if find.is_known(ledger, "batches", name, at):
        _takes_only(what, details, "reason" if BATCH_WORDS.get(what) is BatchStage.DISCARDED else "lot")
        return _mark_batch(ledger, what, name, details, said)
    if find.is_known(ledger, "steps", name, at):
        _takes_only(what, details)
        return _mark_step(ledger, what, name, said)
    if what in MOVE_WORDS:
        _takes_only(what, details, "pit", "zone")
        if details["pit"] is None:
            raise LedgerError(f"say which pit {name} was moved to: --pit south")
        pit = _known_pit(ledger, details["pit"])
        zone = _known_zone(ledger, pit, details["zone"])
        return write.move_load(ledger, name, pit, zone=zone, **said)
    if what in LOAD_WORDS:
        _takes_only(what, details, "pit", "zone", "portions")
        return _mark_load(ledger, what, name, details, said)
    _takes_only(what, details)
    return _done_step(ledger, _step_of_load(ledger, what, name, at), said)


def _mark_load(ledger: Ledger, what: str, name: str, details: dict[str, Any], said: dict[str, Any]) -> Entry:
    planned = find.load(ledger, name, said["at"]).pit
    pit = None if details["pit"] is None else _known_pit(ledger, details["pit"])
    elsewhere = details["zone"] is not None or pit not in (None, planned)
    zone = _known_zone(ledger, pit or planned, details["zone"]) if elsewhere else None
    return write.mark_load(
        ledger, name, LOAD_WORDS[what], pit=pit, zone=zone, portions=details["portions"], **said
    )


def _takes_only(what: str, details: dict[str, Any], *taken: str) -> None:
    """Refuse an option that would go unrecorded."""
    for option, value in details.items():
        if value is not None and option not in taken:
            allowed = " and ".join(f"--{each}" for each in taken) or "none of its kind"
            raise LedgerError(f"--{option} does not go with {what}, which takes {allowed}; leave it out")


def _mark_pit(ledger: Ledger, what: str, pit: str, setpoint: str | None, said: dict[str, Any]) -> Entry:
    pit = _known_pit(ledger, pit)
    if what == "out":
        return write.put_out(ledger, pit, **said)
    if setpoint is None:
        raise LedgerError(f"say what temperature {pit} was lit to: --setpoint '225 F'")
    from board.house.units import parse_temperature_c  # noqa: PLC0415 - units only where one is typed

    return write.light(ledger, pit, parse_temperature_c(setpoint), **said)


def _known_pit(ledger: Ledger, typed: str) -> str:
    """The id of a pit known by that id or name; as typed when there is no house to ask."""
    house = house_of(ledger)
    if house is None:
        return typed
    for pit in house.pits.values():
        if typed.casefold() in (pit.id.casefold(), pit.name.casefold()):
            return pit.id
    raise LedgerError(f"there is no pit {typed}; the pits are {', '.join(house.pits)}")


def _known_zone(ledger: Ledger, pit: str, typed: str | None) -> str | None:
    """The id of a zone of a pit by that id or name; a pit that has zones must have one named."""
    house = house_of(ledger)
    if house is not None and pit not in house.pits:  # the plan is of a house that had it
        raise LedgerError(
            f"the house has no pit {pit} any more; say which it is on: --pit {', '.join(house.pits)}"
        )
    zones = house.pits[pit].zones if house is not None else ()
    if house is None or (typed is None and not zones):
        return typed
    for zone in zones:
        if typed is not None and typed.casefold() in (zone.id.casefold(), zone.name.casefold()):
            return zone.id
    allowed = ", ".join(zone.id for zone in zones)
    if not zones:
        raise LedgerError(f"{pit} has no zones; leave --zone out")
    if typed is None:
        raise LedgerError(f"say which zone of {pit}: --zone, one of {allowed}")
    raise LedgerError(f"{pit} has no zone {typed}; its zones are {allowed}")


def _mark_batch(
    ledger: Ledger, what: str, batch: str, details: dict[str, Any], said: dict[str, Any]
) -> Entry:
    stage = BATCH_WORDS.get(what)
    if stage is None:
        raise LedgerError(f"a batch is not marked {what}; mark it one of {', '.join(BATCH_ORDER)}")
    if stage is BatchStage.MADE:
        return write.make_batch(ledger, batch, details["lot"], **said)
    return write.mark_batch(ledger, batch, stage, reason=details["reason"], **said)


def _mark_step(ledger: Ledger, what: str, step: str, said: dict[str, Any]) -> Entry:
    planned = find.step(ledger, step, said["at"]).what
    if what not in ("done", planned, STAGE_OF_STEP.get(planned)):
        raise LedgerError(
            f"the step {step} is to {planned}, not to be marked {what}; mark it done or {planned}"
        )
    return _done_step(ledger, step, said)


def _done_step(ledger: Ledger, step: str, said: dict[str, Any]) -> Entry:
    """Mark a step done, with what it took of which batch where there is a house to tell."""
    known = find.step(ledger, step, said["at"])
    house = house_of(ledger) if known.load else None
    if house is None:
        return write.mark_step(ledger, step, **said)
    from board.views.facts import find_step  # noqa: PLC0415 - only work on meat uses batches
    from board.views.gather import gather  # noqa: PLC0415
    from board.views.taking import took  # noqa: PLC0415

    facts = gather(ledger, house, said["at"])
    plan = facts.plans.get(known.day)
    planned = find_step(plan, step)
    used = took(facts, plan, planned) if plan and planned else ()
    return write.mark_step(ledger, step, took=used, **said)


def _step_of_load(ledger: Ledger, what: str, name: str, at: datetime) -> str:
    """The load's planned step of that kind."""
    load = find.load(ledger, name, at)
    step = find.step_of_load(ledger, load, what, done_too=True)
    if step is None:
        known = find.work_on_load(ledger, load)
        raise LedgerError(f"{name} is not marked {what}; mark it one of {', '.join([*LOAD_ORDER, *known])}")
    return step


def _done(entry: Entry, what: str) -> str:
    if entry.kind == "move":
        return "moved"
    return str(entry.data.get("stage") or entry.data.get("what") or what)
