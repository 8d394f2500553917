"""The demo's ledger: the stored plans committed, and what happened until the clock's moment."""

import tomllib
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from board.commands.night_holds import held_warm, walk_in
from board.commands.night_told import Act, Event, Night, awake, core_read, done_at, place_read
from board.errors import BoardError, LedgerError
from board.house.files import NIGHT
from board.house.model import House
from board.house.text_file import read_text
from board.house.units import parse_temperature_c, parse_temperature_difference_k
from board.ledger import write
from board.ledger.open import Ledger
from board.ledger.state import BatchStage, BatchState, LoadStage
from board.planning.cures import cures_over
from board.planning.plan import Plan, PlannedStep
from board.views.facts import Facts
from board.views.taking import took

_AFTER_LIGHTING = timedelta(minutes=80)
_SALES_EVERY = timedelta(minutes=30)
_AFTER_MEAT = timedelta(minutes=20)
_TO_CLOSE = timedelta(minutes=20)
MEMBERS = 32


def read_night(folder: Path) -> dict[str, Any]:
    """The demo's night from its house's folder.

    Raises:
        BoardError: when there is none, or it is not TOML.
    """
    path = folder / NIGHT
    try:
        return tomllib.loads(read_text(path))
    except ValueError as error:
        raise BoardError(f"{path.name}: {error}; allowed a TOML file beside the house's own") from error


def record_night(ledger: Ledger, night: Night, others: list[Plan], until: datetime) -> None:
    """Commit the plans and record everything that happened until a moment, in one transaction."""
    committed = night.moment(night.told["committed"])
    who = str(night.told["committed_by"])
    with ledger.writing():
        for plan in (night.plan, *others):
            if refused := cures_over(night.house, plan):
                raise LedgerError(f"not committed: {'; '.join(refused)}")
            write.commit_plan(ledger, plan, "", who=who, at=committed, noted_at=committed)
        happened = [
            *events(night, until),
            *(event for plan in others for event in _prepared(night.house, plan)),
            *_burnt_out([night.plan, *others]),
            *(event for plan in (night.plan, *others) for event in _closed(plan)),
        ]
        for event in sorted(happened, key=lambda event: event.at):
            if committed < event.at <= until:
                event.act(ledger, {"who": event.who, "at": event.at, "noted_at": event.at})


def events(night: Night, until: datetime) -> Iterator[Event]:
    """All of it until a moment: steps, temperatures, what was told, and the day's sales."""
    yield from _steps(night)
    yield from _cores(night, until)
    yield from _airs(night)
    yield from held_warm(night)
    yield from walk_in(night, until)
    yield from _falls(night)
    yield from _words(night)
    yield from _sales(night)


def _steps(night: Night) -> Iterator[Event]:
    loads = {load.id: load for load in night.plan.loads}
    for step in night.plan.steps:
        load = loads.get(step.load or "")
        yield from _done(night.house, night.plan, step, done_at(night, step, load))


def _prepared(house: House, plan: Plan) -> Iterator[Event]:
    """The steps of another day's plan, as planned: what has begun days ahead."""
    for step in plan.steps:
        yield from _done(house, plan, step, step.at)


def _done(house: House, plan: Plan, step: PlannedStep, at: datetime) -> Iterator[Event]:
    """A step done by whoever it was planned for; what is pulled by its core has it read as it comes off."""
    who = step.who or "crew"
    for load in plan.loads:
        cut = house.cuts[load.cut]
        if step.what == "pull" and load.id == step.load and not cut.tender_minutes:
            yield Event(at, who, core_read(load, cut.end_core_c))
    yield Event(at, who, _mark(house, plan, step))


def _burnt_out(plans: Sequence[Plan]) -> Iterator[Event]:
    """Each fire put out soon after the last meat that any plan has on it."""
    last: dict[tuple[str, datetime], datetime] = {}
    for load in (load for plan in plans for load in plan.loads):
        fire = (load.pit, load.light_at)
        last[fire] = max(last.get(fire, load.pull_at.p90), load.pull_at.p90)
    for (pit, lit_at), off in last.items():
        kept = any(pit == other and lit_at < again <= off + _AFTER_MEAT for other, again in last)
        if not kept:
            yield Event(off + _AFTER_MEAT, "crew", _out(pit))


def _out(pit: str) -> Act:
    return lambda ledger, said: write.put_out(ledger, pit, **said)


def _closed(plan: Plan) -> Iterator[Event]:
    """What was cooked for a day, said to be served soon after its last service."""
    pulled = {step.load for step in plan.steps if step.what == "pull"}
    over = max((occasion.until for occasion in plan.occasions), default=None)
    for load in plan.loads:
        if over is not None and load.id in pulled:
            yield Event(over + _TO_CLOSE, "crew", _served(load.id))


def _served(load: str) -> Act:
    return lambda ledger, said: write.mark_load(ledger, load, LoadStage.SERVED, **said)


def _mark(house: House, plan: Plan, step: PlannedStep) -> Act:
    """A step done, with what it took of the batches made before it."""
    made = {
        (plan.day, one.batch): BatchState(one.batch, plan.day, BatchStage.MADE, one.ends_at, one.who, None)
        for one in plan.steps
        if one.batch is not None and one.what == "make" and one.ends_at <= step.at
    }
    used = took(Facts(house, step.at, {plan.day: plan}, batches=made), plan, step)
    return lambda ledger, said: write.mark_step(ledger, step.id, took=used, **said)


def _cores(night: Night, until: datetime) -> Iterator[Event]:
    """Readings of each core from loading until it is pulled, on the middle course of its cook."""
    from board.cooking.estimate import estimate  # noqa: PLC0415 - arrays load only for the demo
    from board.planning.load_cook import cook_of  # noqa: PLC0415 - arrays load only for the demo

    on = [load for load in night.plan.loads if load.load_at + night.delay(load) < until]
    courses = estimate(
        [cook_of(night.house, load) for load in on], members=MEMBERS, curves=True, thin_ends=False
    )
    every = int(night.told["cores"]["every_minutes"])
    for load, course in zip(on, courses, strict=True):
        on_at, curve = load.load_at + night.delay(load), course.curve
        assert curve is not None
        for minute in range(every, int(course.minutes.p50), every):
            moment = on_at + timedelta(minutes=minute)
            middle = min(range(len(curve.minutes)), key=lambda n: abs(curve.minutes[n] - minute))
            yield Event(moment, awake(night, moment), core_read(load, round(float(curve.core_p50[middle]))))


def _airs(night: Night) -> Iterator[Event]:
    """Readings of each lit pit's air, near what was asked, but for the minutes of a fall."""
    every = timedelta(minutes=night.told["air"]["every_minutes"])
    off = [parse_temperature_difference_k(text) for text in night.told["air"]["off"]]
    for step in night.plan.steps:
        loads = [ld for ld in night.plan.loads if ld.pit == step.pit and ld.load_at >= step.at]
        if step.what != "light" or not loads:
            continue
        setpoint = min(loads, key=lambda ld: ld.load_at).setpoint_c
        last = max(ld.pull_at.p50 for ld in loads)
        moment, turn = step.at + _AFTER_LIGHTING, 0
        while moment < last:
            if not _is_falling(night, str(step.pit), moment):
                yield Event(
                    moment, awake(night, moment), place_read(str(step.pit), setpoint + off[turn % len(off)])
                )
            moment, turn = moment + every, turn + 1


def _is_falling(night: Night, pit: str, moment: datetime) -> bool:
    return any(pit == p and start <= moment <= end for p, start, end in _stretches(night))


def _stretches(night: Night) -> list[tuple[str, datetime, datetime]]:
    found = []
    for told in night.told.get("fall", ()):
        load = night.first_of(told["cut"])
        if load is not None:
            start = night.moment(told["at"])
            found.append((load.pit, start, start + timedelta(minutes=told["minutes"])))
    return found


def _falls(night: Night) -> Iterator[Event]:
    for told in night.told.get("fall", ()):
        load = night.first_of(told["cut"])
        if load is not None:
            start, low = night.moment(told["at"]), parse_temperature_c(told["to"])
            end = start + timedelta(minutes=told["minutes"])
            yield Event(start, told["who"], place_read(load.pit, low))
            yield Event(end, told["who"], place_read(load.pit, load.setpoint_c - 1))


def _words(night: Night) -> Iterator[Event]:
    for told in night.told.get("note", ()):
        yield Event(night.moment(told["at"]), told["who"], _note(told["text"]))
    for told in night.told.get("handover", ()):
        yield Event(night.moment(told["at"]), told["who"], _handover(told["text"]))


def _note(text: str) -> Act:
    return lambda ledger, said: write.note(ledger, text, **said)


def _handover(text: str) -> Act:
    return lambda ledger, said: write.handover(ledger, text, **said)


def _sales(night: Night) -> Iterator[Event]:
    """Each promised portion sold evenly over its service; an order goes all at once."""
    for occasion in night.plan.occasions:
        turns = max(1, (occasion.until - occasion.at) // _SALES_EVERY)
        for item, portions in occasion.promises.items():
            for turn in range(turns):
                count = portions * (turn + 1) // turns - portions * turn // turns
                if count:
                    at = occasion.at + _SALES_EVERY * (turn + 1)
                    yield Event(at, awake(night, at), _sale(night.plan.day, occasion.id, item, count))


def _sale(day: date, service: str, item: str, count: int) -> Act:
    return lambda ledger, said: write.sell(ledger, day, service, item, count, **said)
