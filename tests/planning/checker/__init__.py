"""A check of a finished plan that shares nothing with the planner but the plan and the house.

It works in moments and sums, never on a grid, and asks only what a careful cook would: does it all fit,
is it hot, is somebody there, does the time add up, is what is promised there or told as short?
"""

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from dateutil.rrule import rrulestr

from board.house.model import House, Recurrence, StepRule
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from tests.planning.checker.away import away, break_faults
from tests.planning.checker.batches import batch_faults
from tests.planning.checker.cooked import cooked_faults
from tests.planning.checker.holds import hold_faults
from tests.planning.checker.idle import idle_faults
from tests.planning.checker.promises import due_faults, last_due, promise_faults
from tests.planning.checker.spots import spot_faults
from tests.planning.checker.walk_in import walk_in_faults
from tests.planning.checker.watching import There, pulling_faults, watching_faults

# The planner works in five-minute slots and rounds work up to them.
SLACK = timedelta(minutes=5)
MINUTE = timedelta(minutes=1)
# A plan's document keeps areas to 1 cm² and masses to 1 g.
DOCUMENT_ROUNDS = 1e-3
Stay = tuple[datetime, datetime, float]


def faults(plan: Plan, house: House, now: datetime | None = None) -> list[str]:
    """Everything wrong with a plan, a sentence each; an empty list for a plan that can be cooked from."""
    return [
        *_load_faults(plan, house),
        *_room_faults(plan, house),
        *_fire_faults(plan, house),
        *_empty_fires(plan),
        *_waiting_faults(plan, house),
        *_step_faults(plan, house),
        *_people_faults(plan, house),
        *_prep_faults(plan, house),
        *batch_faults(plan, house),
        *promise_faults(plan, house),
        *spot_faults(plan, house),
        *hold_faults(plan, house),
        *break_faults(plan, house, _begins(plan, house)),
        *watching_faults(plan, house, _there(plan, house)),
        *pulling_faults(plan, house, _there(plan, house)),
        *idle_faults(plan, house, _there(plan, house), now),
        *walk_in_faults(plan, house),
        *cooked_faults(plan, house),
        *_result_faults(plan),
        *([] if now is None else [f"{s.id} lies in the past" for s in plan.steps if s.at < now]),
    ]


def _load_faults(plan: Plan, house: House) -> Iterator[str]:
    for load in plan.loads:
        yield from _pit_faults(house, load)
        yield from _time_faults(plan, house, load)
        yield from _chance_faults(load)
        yield from _after_the_pit_faults(plan, house, load)


def _pit_faults(house: House, load: PlannedLoad) -> Iterator[str]:
    cut, pit = house.cuts[load.cut], house.pits[load.pit]
    if pit.takes and cut.id not in pit.takes:
        yield f"{load.id}: {pit.name} does not take {cut.name}"
    if not pit.setpoint_c[0] - 0.06 <= load.setpoint_c <= pit.setpoint_c[1] + 0.06:
        yield f"{load.id}: {pit.name} cannot be set to {load.setpoint_c}"
    if not cut.pit_c.low - 0.06 <= load.setpoint_c <= cut.pit_c.high + 0.06:
        yield f"{load.id}: {cut.name} does not cook at {load.setpoint_c}"
    change_over = timedelta(minutes=pit.change_over_minutes)
    if load.load_at - load.light_at < min(timedelta(minutes=pit.warm_up_minutes), change_over):
        yield f"{load.id}: loaded into a cold pit"
    if abs(load.area_m2 - load.pieces * cut.area_m2) > DOCUMENT_ROUNDS:
        yield f"{load.id}: area does not match its pieces"


def _time_faults(plan: Plan, house: House, load: PlannedLoad) -> Iterator[str]:
    shortest = timedelta(minutes=house.cuts[load.cut].rest_minutes[0])
    if not load.load_at < load.pull_at.p10 <= load.pull_at.p50 <= load.pull_at.p90:
        yield f"{load.id}: pulled before it cooked"
    if load.wrap_at is not None and not load.load_at < load.wrap_at <= load.pull_at.p50 + SLACK:
        yield f"{load.id}: wrapped at {load.wrap_at}, outside its cook"
    if abs(load.ready_at.p50 - load.pull_at.p50 - shortest - _finishing(house, load)) > SLACK:
        yield f"{load.id}: rest and finish do not add up"
    spare = (load.needed_at - load.ready_at.p50) / MINUTE
    if abs(spare - load.spare_minutes_p50) > 0.2:
        yield f"{load.id}: spare is {spare}, told {load.spare_minutes_p50}"
    yield from due_faults(plan, house, load)


def _after_the_pit_faults(plan: Plan, house: House, load: PlannedLoad) -> Iterator[str]:
    cut = house.cuts[load.cut]
    held = (last_due(plan, load) - _finishing(house, load) - load.pull_at.p50) / MINUTE - load.rest_minutes
    if not -0.2 <= max(0.0, held) - load.hold_minutes_p50 <= _rounding(house, load) / MINUTE + 0.2:
        yield f"{load.id}: waits {held} min, told {load.hold_minutes_p50}"
    if load.hold_minutes_p50 > cut.hold_longest_minutes:
        yield f"{load.id}: held {load.hold_minutes_p50} min"
    longest = max(cut.rest_minutes[1], cut.rest_minutes[0] + 5)
    if not cut.rest_minutes[0] - 0.2 <= load.rest_minutes <= longest:
        yield f"{load.id}: rests {load.rest_minutes} min"


def _chance_faults(load: PlannedLoad) -> Iterator[str]:
    """The chance must agree with the span: beyond the 90th percentile at least 90 %, and so on."""
    ready = load.ready_at
    known = ((ready.p10, 0.1), (ready.p50, 0.5), (ready.p90, 0.9))
    for moment, share in known:
        if load.needed_at >= moment + SLACK and load.chance < share - 0.01:
            yield f"{load.id}: chance {load.chance} though {share} are ready before it is needed"
        if load.needed_at <= moment - SLACK and load.chance > share + 0.01:
            yield f"{load.id}: chance {load.chance} though only {share} are ready when it is needed"


def _room_faults(plan: Plan, house: House) -> Iterator[str]:
    for pit in house.pits.values():
        here = [load for load in plan.loads if load.pit == pit.id]
        stays = [(load.load_at, load.pull_at.p90, load.area_m2) for load in here]
        yield from _overfull(stays, pit.area_m2, pit.name)


def _overfull(stays: list[Stay], room: float, name: str) -> Iterator[str]:
    for moment in sorted({start for start, end, _ in stays if end > start}):
        used = sum(area for start, end, area in stays if start <= moment < end)
        if used > room + 1e-6:
            yield f"{name} holds {used:.3f} m² of {room:.3f} at {moment}"


def _fire_faults(plan: Plan, house: House) -> Iterator[str]:
    for load in plan.loads:
        pit = house.pits[load.pit]
        for start, end in _occasions_of(pit.out_of_use, house.zone, load.light_at, load.pull_at.p90):
            if load.light_at < end and start < load.pull_at.p90:
                yield f"{load.id} cooks on {pit.name} while it is out of use"
        fires = [
            s for s in plan.steps if s.pit == pit.id and s.what in {"light", "set"} and s.at <= load.load_at
        ]
        if not fires or max(fires, key=lambda s: s.at).at != load.light_at:
            yield f"{load.id}: no step lights {pit.name} at {load.light_at}"
        elif max(fires, key=lambda s: s.at).what == "light":
            heat = load.load_at - load.light_at
            if heat < timedelta(minutes=pit.warm_up_minutes):
                yield f"{load.id}: {pit.name} has had {heat} to heat up"
        if pit.tend_fraction > 0 and not _covered(plan, house, load.light_at, load.pull_at.p90):
            yield f"{load.id}: nobody is on shift all through the fire of {pit.name}"


def _empty_fires(plan: Plan) -> Iterator[str]:
    """A fire nobody needs: lit, and no load counts its warm-up from it."""
    lit = {(load.pit, load.light_at) for load in plan.loads}
    for step in plan.steps:
        if step.what in {"light", "set"} and (step.pit, step.at) not in lit:
            yield f"{step.id}: a fire for no meat"


def _waiting_faults(plan: Plan, house: House) -> Iterator[str]:
    bench = sum(h.area_m2 for h in house.holds.values() if h.setpoint_c is None)
    hot = sum(h.area_m2 for h in house.holds.values() if h.setpoint_c is not None)
    resting, holding = [], []
    for load in plan.loads:
        rested = load.pull_at.p50 + timedelta(minutes=load.rest_minutes)
        served = last_due(plan, load) - _finishing(house, load)
        resting.append((load.pull_at.p50 + SLACK, rested, load.area_m2))
        holding.append((rested + SLACK, served - SLACK - _rounding(house, load), load.area_m2))
    yield from _overfull(resting, bench, "the bench")
    yield from _overfull(holding, hot, "the hold")


def _step_faults(plan: Plan, house: House) -> Iterator[str]:
    for load in plan.loads:
        steps = {s.what: s for s in plan.steps if s.load == load.id}
        wanted = {
            "load",
            "pull",
            *(["wrap"] if load.wrap_at else []),
            *(r.what for r in house.cuts[load.cut].prep),
        }
        for what in sorted(wanted - set(steps)):
            yield f"{load.id}: no step to {what}"
        if "load" in steps and steps["load"].at != load.load_at:
            yield f"{load.id}: the step to load is at {steps['load'].at}"
        if "pull" in steps and abs(steps["pull"].at - load.pull_at.p50) > SLACK:
            yield f"{load.id}: the step to pull is at {steps['pull'].at}"
        for rule in _finish_rules(house, load):
            step = steps.get(rule.what)
            if (
                step is None
                or step.at
                < load.pull_at.p50 + timedelta(minutes=house.cuts[load.cut].rest_minutes[0]) - SLACK
            ):
                yield f"{load.id}: {rule.what} before it has rested"
            elif load.spare_minutes_p50 >= 0 and step.ends_at > load.needed_at:
                yield f"{load.id}: {rule.what} after it is needed"


def _people_faults(plan: Plan, house: House) -> Iterator[str]:
    named = [s for s in plan.steps if s.who is not None]
    for step in plan.steps:
        if step.who is None:
            yield f"{step.id}: nobody does it"
    for step in named:
        person = house.people[step.who or ""]
        if person.can and step.what not in person.can:
            yield f"{step.id}: {person.name} does not {step.what}"
        if not _on_shift(house, person.id, step.at, step.ends_at):
            yield f"{step.id}: {person.name} is not on shift at {step.at}"
    for person_id in house.people:
        theirs = sorted((s for s in named if s.who == person_id and s.minutes > 0), key=lambda s: s.at)
        for a, b in pairwise(theirs):
            if a.ends_at > b.at:
                yield f"{house.people[person_id].name} does {a.id} and {b.id} at once"


def _prep_faults(plan: Plan, house: House) -> Iterator[str]:
    for load in plan.loads:
        chain = [_step_of(plan, load, rule.what) for rule in house.cuts[load.cut].prep]
        following = [*chain[1:], _step_of(plan, load, "load")][: len(chain)]
        for rule, step, after in zip(house.cuts[load.cut].prep, chain, following, strict=True):
            if step is None or after is None:
                continue
            gap = after.at - step.ends_at
            shortest, longest = (timedelta(minutes=min(m, 1e6)) for m in rule.gap_minutes)
            if not shortest <= gap <= longest + SLACK:
                yield f"{step.id}: {gap} until {after.what}, allowed {shortest} to {longest}"


def _result_faults(plan: Plan) -> Iterator[str]:
    if plan.result in {"proved", "good"} and plan.short:
        yield "the result hides a shortage"
    if plan.bound > plan.cost + 1e-6:
        yield "the bound lies above the cost"


def _finish_rules(house: House, load: PlannedLoad) -> tuple[StepRule, ...]:
    return house.items[load.item].finish if load.item in house.items else ()


def _rounding(house: House, load: PlannedLoad) -> timedelta:
    """Finishing may begin this much sooner than its minutes ask: each of its steps is rounded up."""
    return SLACK * (1 + len(_finish_rules(house, load)))


def _finishing(house: House, load: PlannedLoad) -> timedelta:
    return timedelta(minutes=sum(r.work.minutes(load.pieces) for r in _finish_rules(house, load)))


def _step_of(plan: Plan, load: PlannedLoad, what: str) -> PlannedStep | None:
    return next((s for s in plan.steps if s.load == load.id and s.what == what), None)


def _covered(plan: Plan, house: House, start: datetime, end: datetime) -> bool:
    reached = start
    for begin, finish, _ in sorted(_shifts(house, start, end)):
        if begin <= reached:
            reached = max(reached, finish)
    return reached >= end


def _on_shift(house: House, person: str, start: datetime, end: datetime) -> bool:
    reached = start
    for begin, finish, who in sorted(_shifts(house, start, end)):
        if who == person and begin <= reached:
            reached = max(reached, finish)
    return reached >= end


def _there(plan: Plan, house: House) -> There:
    """Who is on shift and on no break at a moment of the plan."""
    if not plan.steps:
        return lambda _moment: frozenset()
    first = min(s.at for s in plan.steps)
    last = max([s.ends_at for s in plan.steps] + [load.pull_at.p90 for load in plan.loads])
    spans = []
    for shift in house.shifts:
        pauses = [(pause.after_minutes, pause.minutes) for pause in shift.breaks]
        for begin, end in _occasions_of((shift.when,), house.zone, first, last):
            for turn, person in enumerate(shift.people):
                gone = away(begin, shift.when.minutes, turn, pauses) if pauses else []
                spans.append((person, begin, end, gone))

    def there(moment: datetime) -> frozenset[str]:
        return frozenset(
            person
            for person, begin, end, gone in spans
            if begin <= moment < end and not any(a <= moment < b for a, b in gone)
        )

    return there


def _begins(plan: Plan, house: House) -> dict[str, list[datetime]]:
    if not plan.steps:
        return {shift.id: [] for shift in house.shifts}
    first, last = min(s.at for s in plan.steps), max(s.ends_at for s in plan.steps)
    return {
        shift.id: [begin for begin, _ in _occasions_of((shift.when,), house.zone, first, last)]
        for shift in house.shifts
    }


def _shifts(house: House, start: datetime, end: datetime) -> Iterator[tuple[datetime, datetime, str]]:
    for shift in house.shifts:
        for begin, finish in _occasions_of((shift.when,), house.zone, start, end):
            yield from ((begin, finish, person) for person in shift.people)


def _occasions_of(
    rules: Iterable[Recurrence], zone: str, start: datetime, end: datetime
) -> Iterator[tuple[datetime, datetime]]:
    """Occasions from two days before to two days after, by dateutil on local days and zoneinfo."""
    for rule in rules:
        first = datetime.combine(rule.first, datetime.min.time())
        days = (
            [first]
            if rule.rule is None
            else rrulestr(rule.rule, dtstart=first).between(
                (start - timedelta(days=3)).replace(tzinfo=None),
                (end + timedelta(days=3)).replace(tzinfo=None),
            )
        )
        for day in days:
            if day.date() in rule.not_on:
                continue
            begin = datetime.combine(day.date(), rule.at, tzinfo=ZoneInfo(zone)).astimezone(UTC)
            yield begin, begin + timedelta(minutes=rule.minutes)
