"""Everything that can happen, one function each; each is one transaction and returns its entry.

All take `who` did it, `at` which moment it happened and `noted_at`, the moment it is written down.
When the function returns, the entry is on disk. When what is asked for is in the record already,
nothing is written and the entry found is returned with `already` set.
"""

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from board.errors import LedgerError
from board.ledger import find, making, marking, menu, store, typed
from board.ledger.answering import answer_alarm, put_off_alarm
from board.ledger.append import already, append, last
from board.ledger.checking import act_on, check_probe, correct, sign
from board.ledger.clock_right import put_times_right, settle_clock
from board.ledger.facts import PitFacts, PromiseFacts, SaleFacts
from board.ledger.keys import menu_key, pit_key
from board.ledger.making import make_batch, mark_batch, weigh
from board.ledger.open import Ledger
from board.ledger.ordering import put_due, strike_order, take_order
from board.ledger.pinning import pin_load, unpin_load
from board.ledger.plans import commit_plan
from board.ledger.regrouping import join_loads, split_load
from board.ledger.signers import Vouched, set_pin, vouched_for
from board.ledger.stages import STAGE_OF_STEP, STEP_OF_STAGE
from board.ledger.state import Entry, LoadStage, Read, Took
from board.ledger.times import day_text
from board.ledger.undo import undo, undo_together
from board.ledger.watching import end_watch, freeze, start_watch, take_out

__all__ = [
    "act_on",
    "answer_alarm",
    "check_probe",
    "commit_plan",
    "correct",
    "end_watch",
    "freeze",
    "handover",
    "join_loads",
    "light",
    "make_batch",
    "mark_batch",
    "mark_load",
    "mark_step",
    "move_load",
    "note",
    "pin_load",
    "put_due",
    "put_off_alarm",
    "put_out",
    "put_times_right",
    "sell",
    "set_pin",
    "set_pit",
    "set_promise",
    "settle_clock",
    "sign",
    "sold_out",
    "split_load",
    "start_watch",
    "strike_order",
    "take_order",
    "take_out",
    "take_reading",
    "take_readings",
    "undo",
    "undo_together",
    "unpin_load",
    "weigh",
]


def mark_load(
    ledger: Ledger,
    load_id: str,
    stage: LoadStage,
    *,
    who: str,
    at: datetime,
    noted_at: datetime,
    pit: str | None = None,
    zone: str | None = None,
    portions: int | None = None,
    thrown_kg: float | None = None,
) -> Entry:
    """Mark the stage a load has reached; its planned step, if it has one, is done with it.

    Args:
        ledger: where to record it.
        load_id: the load, of the plan nearest the moment.
        stage: any but planned.
        who: did it.
        at: when it happened; may be in the past.
        noted_at: now.
        pit: where it went, when not where the plan says.
        zone: in which zone of that pit.
        portions: how many it gave, when counted.
        thrown_kg: how much of it was thrown away, when weighed.

    Raises:
        LedgerError: no such load, a stage that cannot be, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        load = find.load(ledger, load_id, said.at)
        what = STEP_OF_STAGE.get(LoadStage(stage))
        step = find.step_of_load(ledger, load, what) if what else None
        data = _seen(pit, zone, portions)
        if thrown_kg is not None:
            data["thrown_kg"] = typed.grams(1000.0 * thrown_kg) / 1000.0
        return marking.reach(ledger, said, load, LoadStage(stage), data=data, step=step)


def _seen(pit: str | None, zone: str | None, portions: int | None) -> dict[str, Any]:
    """What was seen of a load as it was marked: where it went, and how much it gave."""
    data: dict[str, Any] = {}
    if pit:
        data["pit"] = typed.name(pit, "the pit")
    if zone:
        data["zone"] = typed.name(zone, "the zone")
    if portions is not None:
        data["portions"] = typed.portions(portions, 0)
    return data


def mark_step(
    ledger: Ledger,
    step_id: str,
    *,
    took: Sequence[Took] = (),
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Mark a planned step done, and with it what it does to its load, its batch or its pit.

    `took` is how much of which batches the step put into or on its load.

    Raises:
        LedgerError: no such step, a stage that cannot be, a batch not there, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        step = find.step(ledger, step_id, said.at)
        if step.done_seq:
            return already(ledger, step.done_seq)
        if step.load and step.what in STAGE_OF_STEP:
            load = marking.load_of(ledger, step)
            return marking.reach(ledger, said, load, STAGE_OF_STEP[step.what], data={}, step=step.id)
        if step.batch and step.what.startswith("make"):
            batch = marking.batch_of(ledger, step)
            return making.made(ledger, said, batch, step.id)
        if step.pit and step.what in marking.FIRE_STEPS:
            return marking.fire_by_step(ledger, said, step)
        uses = making.taken(ledger, said, took) if step.load else []
        data = marking.work_data(ledger, step)
        return append(ledger, said, "step", step.id, data | ({"took": uses} if uses else {}))


def move_load(
    ledger: Ledger,
    load_id: str,
    pit: str,
    *,
    zone: str | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Carry a load that is cooking over to another pit, or to another zone of its own.

    Raises:
        LedgerError: no such load, not on a pit then, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        load, there = find.load(ledger, load_id, said.at), typed.name(pit, "the pit")
        return marking.carry(ledger, said, load, there, typed.name(zone, "the zone") if zone else None)


def light(
    ledger: Ledger, pit: str, setpoint_c: float, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Light a pit, or ask a lit one for another temperature (°C).

    Raises:
        LedgerError: no kitchen temperature, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        pit, setpoint = typed.name(pit, "the pit"), typed.setpoint(setpoint_c)
        now = store.stored(ledger, pit_key(pit))
        if isinstance(now, PitFacts) and now.lit_at and now.setpoint_c == setpoint:
            return already(ledger, last(ledger, pit_key(pit)).seq)
        return marking.fire(ledger, said, pit, setpoint)


def set_pit(
    ledger: Ledger, pit: str, setpoint_c: float, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Ask a lit pit for another temperature (°C) than planned; no planned step is done with it.

    Raises:
        LedgerError: the pit is not lit, no kitchen temperature, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        pit, setpoint = typed.name(pit, "the pit"), typed.setpoint(setpoint_c)
        now = store.stored(ledger, pit_key(pit))
        if not isinstance(now, PitFacts) or now.lit_at is None:
            raise LedgerError(f"{pit} is not lit; light it first")
        if now.setpoint_c == setpoint:
            return already(ledger, last(ledger, pit_key(pit)).seq)
        return append(ledger, said, "light", pit, {"setpoint_c": setpoint, "afresh": False})


def put_out(ledger: Ledger, pit: str, *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Let a pit go out.

    Raises:
        LedgerError: the pit is not lit, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        pit = typed.name(pit, "the pit")
        now = store.stored(ledger, pit_key(pit))
        if not isinstance(now, PitFacts):
            raise LedgerError(f"{pit} was never lit; light it first")
        if now.lit_at is None:
            return already(ledger, last(ledger, pit_key(pit)).seq)
        return append(ledger, said, "out", pit, {})


def take_reading(
    ledger: Ledger,
    temperature_c: float,
    *,
    place: str | None = None,
    load: str | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Record a temperature in °C, of a load's core or of a place (a pit, hold, cooler or brine).

    Equal readings are all kept: that it did not change is a fact too.

    Raises:
        LedgerError: no kitchen temperature, no such load, a doubtful time, or not just one of place
            and load.
    """
    if (place is None) == (load is None):
        raise LedgerError("a reading is of a place or of a load; name one of them")
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        return _reading(ledger, said, Read(temperature_c, place, load))


def take_readings(
    ledger: Ledger,
    readings: Sequence[Read],
    *,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> list[Entry]:
    """Record several temperatures at once: all of them or none.

    Raises:
        LedgerError: as of a single one; then none is recorded.
    """
    with ledger.together():
        said = typed.said(ledger, who, at, noted_at)
        return [_reading(ledger, said, one) for one in readings]


def _reading(ledger: Ledger, said: typed.Said, one: Read) -> Entry:
    data: dict[str, Any] = {"temperature_c": typed.temperature(one.temperature_c)}
    if one.load is None:
        return append(ledger, said, "reading", typed.name(one.place or "", "the place"), data)
    found = find.load(ledger, one.load, said.at)
    return append(ledger, said, "reading", found.id, data | {"day": day_text(found.day)})


def note(ledger: Ledger, text: str, about: str = "", *, who: str, at: datetime, noted_at: datetime) -> Entry:
    """Write a note, about a load, a pit or anything by its name.

    Raises:
        LedgerError: empty or too long, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        subject = typed.name(about, "what the note is about") if about else ""
        return append(ledger, said, "note", subject, {"text": typed.text(text, "note")})


def handover(
    ledger: Ledger,
    text: str,
    *,
    told: Sequence[str] = (),
    vouched: Vouched | None = None,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Sign the handover: what this shift tells the next; `told` is how things stood, in sentences.

    `vouched` is that they showed their PIN, in a house that asks for it.

    Raises:
        LedgerError: empty or too long, another person's PIN, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        data: dict[str, Any] = {"text": typed.text(text, "handover"), **vouched_for(said.who, vouched)}
        if told:
            data["told"] = [typed.text(sentence[: typed.LONGEST_TEXT], "handover") for sentence in told]
        return append(ledger, said, "handover", "", data)


def set_promise(
    ledger: Ledger,
    day: date,
    service: str,
    item: str,
    portions: int,
    *,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Promise so many portions of an item at a service of a day, in place of what was promised.

    Raises:
        LedgerError: no such number of portions, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        where = menu.place(day, service, item)
        key = menu_key("promise", **where)
        now = store.stored(ledger, key)
        if isinstance(now, PromiseFacts) and now.portions == portions:
            return already(ledger, last(ledger, key).seq)
        return append(
            ledger, said, "promise", where["service"], {**where, "portions": typed.portions(portions, 0)}
        )


def sell(
    ledger: Ledger,
    day: date,
    service: str,
    item: str,
    portions: int,
    *,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Sell portions of an item; they come from the loads that are off the pit, those for that service first.

    Raises:
        LedgerError: no such number of portions, or a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        where, count = menu.place(day, service, item), typed.portions(portions, 1)
        data = {**where, "portions": count, "from": menu.taken(ledger, where, count, said.at)}
        return append(ledger, said, "sale", where["service"], data)


def sold_out(
    ledger: Ledger, day: date, service: str, item: str, *, who: str, at: datetime, noted_at: datetime
) -> Entry:
    """Mark an item sold out at a service.

    Raises:
        LedgerError: a doubtful time.
    """
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        where = menu.place(day, service, item)
        key = menu_key("sale", **where)
        now = store.stored(ledger, key)
        if isinstance(now, SaleFacts) and now.sold_out_at:
            return already(ledger, last(ledger, key, kind="sold out").seq)
        return append(ledger, said, "sold out", where["service"], where)
