"""`board feed status` and `board feed aside`: how feeds and probes stand, and what could not be taken."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from board.commands.feed.counts import Counts
from board.commands.open_board import house_of
from board.commands.options import ledger_option
from board.house.model import House
from board.house.probes import Probe
from board.house.read_probes import silence_of
from board.house.spans import minutes_between
from board.house.units import format_temperature
from board.house.wording import clock_and_day, clock_time, duration
from board.ledger import feeding
from board.ledger.facts import PlacingFacts
from board.ledger.open import Ledger, open_ledger
from board.ledger.where import ledger_path
from board.views.text import inert

MOST_TOLD = 100_000  # more than all feeds of a house set aside
_json_option = click.option("--json", "as_json", is_flag=True, help="Print it as one JSON document.")


@click.command("status")
@_json_option
@ledger_option
def status(*, ledger: Path | None, as_json: bool) -> int:
    """How each feed and each probe stands; ends with 1 where a probe of the house is silent."""
    with open_ledger(ledger_path(ledger)) as opened:
        house, now = house_of(opened), datetime.now(UTC)
        probes = _probes(opened, house, now)
        if as_json:
            click.echo(json.dumps({"feeds": _feeds(opened), "probes": probes}, indent=2, ensure_ascii=False))
        else:
            _print(opened, house, probes, now)
    return 1 if any(one["silent"] for one in probes) else 0


@click.command("aside")
@click.option(
    "--most",
    type=click.IntRange(1, MOST_TOLD),
    default=20,
    show_default=True,
    help="How many, the latest first.",
)
@_json_option
@ledger_option
def aside(*, most: int, ledger: Path | None, as_json: bool) -> None:
    """The messages that could not be taken, and why."""
    with open_ledger(ledger_path(ledger)) as opened:
        found = feeding.asides(opened, most)
        if as_json:
            click.echo(
                json.dumps({"aside": [_aside(opened, one) for one in found]}, indent=2, ensure_ascii=False)
            )
            return
        now = datetime.now(UTC)
        for one in found:
            click.echo(f"{opened.clock_beside(one.at, now)}  {inert(one.source)}: {inert(one.why)}")
            click.echo(f"    {_one_line(one.message)}")
        if not found:
            click.echo("no message was set aside")


def _aside(ledger: Ledger, one: feeding.Aside) -> dict[str, Any]:
    return {"source": one.source, "at": ledger.with_offset(one.at), "why": one.why, "message": one.message}


def _feeds(ledger: Ledger) -> list[dict[str, Any]]:
    return [
        {
            "source": one.source,
            "began_at": ledger.with_offset(one.began_at),
            "wrote_at": ledger.with_offset(one.flushed_at),
            **_counts(one),
        }
        for one in feeding.feeds(ledger)
    ]


def _counts(one: feeding.FeedState) -> dict[str, int]:
    return {"kept": one.kept, "thinned": one.thinned, "doubled": one.doubled, "bad": one.bad}


def _probes(ledger: Ledger, house: House, now: datetime) -> list[dict[str, Any]]:
    """The probes of the house, and those that fed before they were left out of it."""
    last = {one.id: one for one in feeding.probe_states(ledger)}
    placed = {one.probe: one for one in feeding.placed_last(ledger)}
    return [
        {
            **_probe(ledger, house, id, last.get(id), now),
            **_where(house.probes.get(id), last.get(id), placed.get(id)),
        }
        for id in dict.fromkeys((*house.probes, *last, *placed))
    ]


def _where(
    of_house: Probe | None, last: feeding.ProbeState | None, placed: PlacingFacts | None
) -> dict[str, str | None]:
    """Where a probe is: where it was put since it last fed, else where it fed from, else its usual place."""
    usual = of_house.place if of_house else None
    if placed is not None and (last is None or placed.at > last.at):
        place, load, day = None if placed.load else usual, placed.load, placed.load_day
    elif last is not None:
        place, load, day = last.place, last.load, last.load_day
    else:
        place, load, day = usual, None, None
    return {"place": place, "load": load, "day": str(day) if day else None}


def _probe(
    ledger: Ledger, house: House, id: str, last: feeding.ProbeState | None, now: datetime
) -> dict[str, Any]:
    of_house = house.probes.get(id)
    quiet = last is None or minutes_between(last.sent_at, now) > (
        silence_of(house).minutes(id) if of_house else 0.0
    )
    return {
        "probe": id,
        "at": ledger.with_offset(last.at) if last else None,
        "temperature_c": last.temperature_c if last else None,
        "silent": quiet and of_house is not None,
    }


def _print(ledger: Ledger, house: House, probes: list[dict[str, Any]], now: datetime) -> None:
    for one in feeding.feeds(ledger):
        wrote = _when(ledger, house, one.flushed_at, now)
        click.echo(f"{inert(one.source)}: {Counts(**_counts(one)).sentence()}; wrote last {wrote}")
    for probe in probes:
        click.echo(f"{'!' if probe['silent'] else ' '} {_probe_line(ledger, house, probe, now)}")


def _probe_line(ledger: Ledger, house: House, probe: dict[str, Any], now: datetime) -> str:
    where = probe["load"] or probe["place"] or "in no load"
    if probe["at"] is None:
        return f"{inert(probe['probe'])}, {inert(where)}: nothing yet"
    at = datetime.fromisoformat(probe["at"])
    shown = format_temperature(probe["temperature_c"], house.display)
    ago = (
        f"silent for {duration(minutes_between(at, now))}"
        if probe["silent"]
        else _when(ledger, house, at, now)
    )
    return f"{inert(probe['probe'])}, {inert(where)}: {shown}, {ago}"


def _when(ledger: Ledger, house: House, at: datetime, now: datetime) -> str:
    same_day = ledger.day(at) == ledger.day(now)
    return clock_time(at, house) if same_day else clock_and_day(at, house)


def _one_line(text: str) -> str:
    return " ".join(inert(text).split())
