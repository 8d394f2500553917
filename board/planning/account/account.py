"""Why a load starts when it does: each minute of the sum, what stops it being later, what else would cost."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from board.house.model import House
from board.house.spans import minutes_between
from board.house.units import format_mass, format_temperature
from board.house.wording import clock_time, count, duration, in_list
from board.planning.account.hindered import fitted, hindrance
from board.planning.account.otherwise import at_other_times, elsewhere
from board.planning.account.told import Told, taken_out
from board.planning.assemble import Laid
from board.planning.grid import SLOT_MINUTES
from board.planning.problem import Assignment, Placed, Problem, on_slot
from board.planning.search.occupancy import Fit
from board.planning.search.tidy import occupied

# Beyond so many loads what they would cost elsewhere is left out: nobody reads it, and it takes minutes.
_OTHERWISE_MOST = 120


def accounts(house: House, problem: Problem, plan: Assignment, laid: Laid) -> dict[str, tuple[str, ...]]:
    """The account of each load, line by line, by its id."""
    whole = occupied(problem, plan)
    found = {}
    for load in laid.loads:
        with taken_out(house, whole, laid.parts[load.id], load, laid) as told:
            found[load.id] = tuple(_lines(told, otherwise=len(laid.loads) <= _OTHERWISE_MOST))
    return found


def _lines(told: Told, *, otherwise: bool) -> Iterator[str]:
    yield _back_from_service(told)
    yield _how_long(told)
    yield _why_not_later(told)
    yield _what_it_gives(told)
    if otherwise:
        yield from at_other_times(told)
        yield from elsewhere(told)


def _back_from_service(told: Told) -> str:
    load, part = told.load, told.part
    names = in_list(list(dict.fromkeys(due.occasion.name for due in part.share.serves)))
    rest = part.need.cut.rest_minutes[0]
    work = [f"{duration(rule.work.minutes(part.pieces))} to {rule.what}" for rule in part.finish]
    less = in_list([*work, f"{duration(rest)} of rest"])
    pulled_by = load.needed_at - timedelta(minutes=_finishing(told) + rest)
    return (
        f"{names} at {clock_time(load.needed_at, told.house)} less {less}: pulled by {told.when(pulled_by)}."
    )


def _finishing(told: Told) -> float:
    return sum(rule.work.minutes(told.part.pieces) for rule in told.part.finish)


def _how_long(told: Told) -> str:
    """From the pull back to loading, and what the grid of the plan takes on top."""
    part, mode, load = told.part, told.at.mode, told.load
    cut, pit = part.need.cut, told.house.pits[load.pit]
    cook, loading = mode.cook.quantile(part.quantile), cut.load_work.minutes(part.pieces)
    back = _finishing(told) + cut.rest_minutes[0] + cook + loading
    exact = load.needed_at - timedelta(minutes=back)
    latest = part.ready_by - part.rest_min - mode.dq - part.load
    rounded = minutes_between(told.problem.frame.grid.moment(latest), exact)
    doors = mode.openings * pit.door_minutes
    opened = f", {duration(doors)} of it for the door opened for other meat" if doors else ""
    whole = f", {rounded:.0f} min lost to steps of {SLOT_MINUTES} min" if rounded >= 1 else ""
    at = format_temperature(load.setpoint_c, told.house.display)
    return (
        f"{_hundred(part.quantile)} times in 100 it cooks within {duration(cook)} on {pit.name} at {at}"
        f"{opened}; "
        f"with {duration(loading)} to load, that is {told.slot(latest)} at the latest{whole}."
    )


def _why_not_later(told: Told) -> str:
    """The chance it reaches against what is asked of it, and the exact limit five minutes later."""
    part, load = told.part, told.load
    sure = f"in time {_hundred(load.chance)} times in 100, {_asked(told)}"
    chosen = f"Loading at {told.when(load.load_at)}: {sure}"
    allowed = duration(part.need.cut.hold_longest_minutes)
    held = f"likely held {duration(load.hold_minutes_p50)} of {allowed} allowed"
    if load.chance < part.quantile - 0.005:
        return f"{chosen}; {_why_not_earlier(told)}; {held}."
    return f"{chosen}; {_later(told)}; {held}."


def _asked(told: Told) -> str:
    """What its service asks of it, where that is more than of the service itself."""
    part = told.part
    wanted = _hundred(part.need.chance)
    if part.quantile <= part.need.chance + 1e-9:
        return f"{wanted} wanted"
    return (
        f"{_hundred(part.quantile)} wanted of each load so that all of its service is in time {wanted} times"
    )


def _later(told: Told) -> str:
    next_slot = replace(told.at, start=told.at.start + 1)
    if _thin(told, next_slot):
        return f"any later and the chance falls under {_hundred(told.part.quantile)} in 100"
    why = hindrance(told, next_slot)
    if why:
        return f"{SLOT_MINUTES} min later {why}"
    found = fitted(told, next_slot)
    more = told.dearer(found) if isinstance(found, Fit) else 0.0
    if more < 0.5:
        return f"{SLOT_MINUTES} min later is as good"
    return f"{SLOT_MINUTES} min later the plan is {told.worth(more)}"


def _why_not_earlier(told: Told) -> str:
    """Why it is not begun early enough for its chance."""
    sure = [s for s in told.at.mode.starts if not _thin(told, replace(told.at, start=s))]
    if not sure:
        return "no earlier start has the crew and a hold short enough"
    there = replace(told.at, start=sure[-1])
    why = hindrance(told, there)
    if why:
        return f"at {told.slot(sure[-1])}, which would be sure enough, {why}"
    found = fitted(told, there)
    dearer = told.worth(told.dearer(found)) if isinstance(found, Fit) else "dearer"
    return f"a start at {told.slot(sure[-1])} would be sure enough and the whole plan {dearer}"


def _thin(told: Told, at: Placed) -> bool:
    return on_slot(told.part, at) + at.mode.dq + told.part.rest_min > told.part.ready_by


def _what_it_gives(told: Told) -> str:
    part, need = told.part, told.part.need
    mass = format_mass(told.load.mass_kg, told.house.display)
    low, high = need.portions_likely
    whole = part.pieces == need.pieces
    of = "" if whole else f" of {need.pieces}"
    likely = f"{low} to {high}" if low < high else f"{low}"
    return (
        f"{count(part.pieces, need.cut.name)}{of}, {mass} raw, usually {part.portions} portions; "
        f"{'they' if whole else f'all {need.pieces}'} give {likely} for {need.portions} promised."
    )


def _hundred(chance: float) -> str:
    """A chance in hundredths; 99.6 is not 100, for nothing cooked is certain."""
    return f"{min(99, round(100 * chance))}"
