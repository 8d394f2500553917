"""What a new plan changes of an old one, in sentences, what the crew must do first ahead of the rest."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.model import House
from board.planning.plan import Plan, PlannedLoad, PlannedStep, Short
from board.planning.replan.worded import SAME_DEGREES_K, Worded

# A chance or a likely time that moves less than this is the same for the crew.
_SAME_CHANCE = 0.05
_SAME_MINUTES = timedelta(minutes=5)
_FIRES = ("light", "set")


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that changes: a sentence, when the crew must have heard it, and the load it is about."""

    at: datetime
    says: str
    load: str | None = None


def differences(before: Plan, after: Plan, house: House) -> tuple[Difference, ...]:
    """All that changes from one plan of a day to another; nothing when nothing does.

    A load keeps its identity by its id: one that moves, grows or becomes late is told of once.
    """
    words = Worded(house, before, after)
    found = [
        *_loads(words, before, after),
        *_fires(words, before, after),
        *_steps(words, before, after),
        *_batches(words, before, after),
        *_shorts(words, before, after),
    ]
    return tuple(sorted(found, key=lambda d: (d.at, d.says)))


def moved(before: Plan, after: Plan) -> tuple[str, ...]:
    """The ids of loads of both plans that change their pit, zone, setpoint or loading time."""
    old = {load.id: load for load in before.loads}
    return tuple(load.id for load in after.loads if load.id in old and not stays(old[load.id], load))


def stays(was: PlannedLoad, load: PlannedLoad) -> bool:
    """Whether a load keeps its pit, zone, setpoint and loading time."""
    same = (load.pit, load.zone, load.load_at) == (was.pit, was.zone, was.load_at)
    return same and abs(load.setpoint_c - was.setpoint_c) < SAME_DEGREES_K


def _loads(words: Worded, before: Plan, after: Plan) -> Iterator[Difference]:
    old = {load.id: load for load in before.loads}
    new = {load.id: load for load in after.loads}
    for load in before.loads:
        if load.id not in new:
            yield Difference(load.load_at, words.dropped(load), load.id)
    for load in after.loads:
        was = old.get(load.id)
        if was is None:
            yield Difference(load.load_at, words.added(load), load.id)
        elif says := _changed(words, was, load):
            at = min(was.load_at, load.load_at) if not stays(was, load) else load.load_at
            yield Difference(at, says, load.id)


def _changed(words: Worded, was: PlannedLoad, load: PlannedLoad) -> str:
    """What changes about one load, in one sentence; empty where nothing does."""
    moves, grows = not stays(was, load), load.pieces != was.pieces
    clauses = [words.goes_on(was, load)] if moves else []
    if late := _lateness(words, was, load):
        clauses.append(late)
    elif not moves and _apart(load.pull_at.p50, was.pull_at.p50):
        clauses.append(words.off(was, load))
    if load.services != was.services or load.needed_at != was.needed_at:
        clauses.append(words.serves(load))
    if grows and not moves:
        return ", ".join([words.more(was, load), *clauses])
    name = words.grown(was, load) if grows else words.called(load)
    return f"{name} {', and '.join(clauses)}" if clauses else ""


def _apart(one: datetime, other: datetime) -> bool:
    return abs(one - other) >= _SAME_MINUTES


def _lateness(words: Worded, was: PlannedLoad, load: PlannedLoad) -> str:
    if load.spare_minutes_p50 < 0 and _minutes_apart(was, load):
        return words.late(load)
    if was.spare_minutes_p50 < 0 <= load.spare_minutes_p50:
        return words.in_time_again(load)
    if was.chance - load.chance >= _SAME_CHANCE:
        return words.chance(was, load)
    return ""


def _minutes_apart(was: PlannedLoad, load: PlannedLoad) -> bool:
    if was.spare_minutes_p50 >= 0:
        return True
    return abs(load.spare_minutes_p50 - was.spare_minutes_p50) >= _SAME_MINUTES / timedelta(minutes=1)


def _fires(words: Worded, before: Plan, after: Plan) -> Iterator[Difference]:
    """Fires by pit and kind in order of time: each is earlier, later, new, or not lit at all."""
    old, new = _by_pit(before.steps), _by_pit(after.steps)
    for key in sorted({*old, *new}):
        gone = [s for s in old.get(key, []) if s.at not in {n.at for n in new.get(key, [])}]
        come = [s for s in new.get(key, []) if s.at not in {o.at for o in old.get(key, [])}]
        stay = {s.at: s for s in old.get(key, [])}
        for step in new.get(key, []):
            if step.at in stay and step.who != stay[step.at].who:
                yield Difference(step.at, words.fire_given(stay[step.at], step))
        for was, step in zip(gone, come, strict=False):
            yield Difference(min(was.at, step.at), words.fire_moved(was, step))
        for step in come[len(gone) :]:
            yield Difference(step.at, words.fire_new(step))
        for was in gone[len(come) :]:
            yield Difference(was.at, words.fire_gone(was))


def _by_pit(steps: Sequence[PlannedStep]) -> dict[tuple[str, str], list[PlannedStep]]:
    found: dict[tuple[str, str], list[PlannedStep]] = {}
    for step in sorted(steps, key=lambda s: s.at):
        if step.pit is not None and step.what in _FIRES:
            found.setdefault((step.pit, step.what), []).append(step)
    return found


def _steps(words: Worded, before: Plan, after: Plan) -> Iterator[Difference]:
    """Work at another time, or for another person, of loads and batches that stay as they are."""
    gone = {*moved(before, after), *_made_anew(words, before, after)}
    old = {step.id: step for step in before.steps}
    for step in after.steps:
        if step.what in _FIRES:
            continue
        was = old.get(step.id)
        if was is None or {step.load, step.batch} & gone:
            continue
        if step.at != was.at:
            yield Difference(min(step.at, was.at), words.step_moved(was, step))
        elif step.who != was.who:
            yield Difference(step.at, words.step_given(was, step))


def _made_anew(words: Worded, before: Plan, after: Plan) -> set[str]:
    old = {batch.id: words.making(batch) for batch in before.batches}
    return {batch.id for batch in after.batches if old.get(batch.id) != words.making(batch)}


def _batches(words: Worded, before: Plan, after: Plan) -> Iterator[Difference]:
    old = {batch.id: batch for batch in before.batches}
    new = {batch.id: batch for batch in after.batches}
    for batch in before.batches:
        if batch.id not in new:
            yield Difference(batch.make_by, words.batch_gone(batch))
    for batch in after.batches:
        was = old.get(batch.id)
        if was is None:
            yield Difference(batch.make_by, words.batch_new(batch))
        elif words.making(was) != words.making(batch):
            yield Difference(min(was.make_by, batch.make_by), words.batch_changed(was, batch))


def _shorts(words: Worded, before: Plan, after: Plan) -> Iterator[Difference]:
    old, new = _lacking(before.short), _lacking(after.short)
    for service, item in sorted({*old, *new}):
        was, now = old.get((service, item), 0), new.get((service, item), 0)
        if was != now:
            yield Difference(words.served_at(service), words.short(service, item, was, now))


def _lacking(short: Sequence[Short]) -> dict[tuple[str, str], int]:
    found: dict[tuple[str, str], int] = {}
    for one in short:
        found[one.service, one.item] = found.get((one.service, one.item), 0) + one.portions
    return found
