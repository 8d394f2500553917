"""Why a load starts when it does, in words and figures a pitmaster can argue with."""

from dataclasses import dataclass, replace
from datetime import datetime

from board.house.calendar import local
from board.house.model import House
from board.house.spans import minutes_between
from board.house.units import format_mass, format_temperature
from board.house.wording import clock_time, count, duration, in_list, short_day
from board.planning.grid import SLOT_MINUTES
from board.planning.plan import PlannedLoad
from board.planning.problem import Assignment, Part, Placed, Problem, on_slot
from board.planning.search.insertion import rests
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.search.tidy import occupied

# What each limit says when it keeps a load from another time or pit.
LIMIT_WORDS = {
    "pit room": "the pit is full",
    "setpoint": "the pit burns at another setpoint or is still cold",
    "hands": "nobody's hands are free",
    "attention": "the crew already has enough fires and work to watch",
    "bench": "the bench is full",
    "hold": "the hold is full",
}


@dataclass(frozen=True)
class Told:
    """A placed load to give account of, with everything else of the plan around it."""

    house: House
    problem: Problem
    part: Part
    at: Placed
    load: PlannedLoad
    others: Occupancy


def account(
    house: House, problem: Problem, plan: Assignment, part: Part, load: PlannedLoad
) -> tuple[str, ...]:
    """The sum behind a load's start, line by line."""
    others = occupied(problem, plan, without=part.id)
    told = Told(house, problem, part, plan.placed[part.id], load, others)
    return (
        _back_from_service(told),
        _how_long(told),
        _why_not_later(told),
        _what_it_gives(told),
        *_elsewhere(told),
    )


def _back_from_service(told: Told) -> str:
    load, names = told.load, in_list(list(dict.fromkeys(due.occasion.name for due in told.part.share.serves)))
    finishing = minutes_between(told.problem.frame.grid.moment(told.part.ready_by), load.needed_at)
    rest = told.part.need.cut.rest_minutes[0]
    pulled_by = told.problem.frame.grid.moment(told.part.ready_by - told.part.rest_min)
    work = in_list([rule.what for rule in told.part.finish])
    less = (
        f"{duration(rest)} of rest"
        if not work
        else f"{duration(finishing)} to {work} and {duration(rest)} of rest"
    )
    name = f"{names} at {clock_time(load.needed_at, told.house)}"
    return f"{name} less {less}: pulled by {_when(told, pulled_by)}."


def _how_long(told: Told) -> str:
    part, mode, load = told.part, told.at.mode, told.load
    pit = told.house.pits[load.pit]
    latest = told.problem.frame.grid.moment(part.ready_by - part.rest_min - mode.dq - part.load)
    at = format_temperature(load.setpoint_c, told.house.display)
    within = duration(mode.cook.quantile(part.need.chance))
    return (
        f"{_share(part.need.chance)} times in 100 it cooks within {within} on {pit.name} at {at}; with "
        f"{duration(part.need.cut.load_work.minutes(part.pieces))} to load, that is {_when(told, latest)} "
        "at the latest."
    )


def _why_not_later(told: Told) -> str:
    part, at = told.part, told.at
    chosen = f"Loading at {_when(told, told.load.load_at)}"
    held = f"likely held {duration(told.load.hold_minutes_p50)} of {_allowed(told)}"
    if told.load.chance < part.need.chance - 0.005:
        return f"{chosen}: ready in time {_share(told.load.chance)} times in 100; {_why_not_earlier(told)}."
    if _thin(part, at, at.start + 1):
        return f"{chosen}: any later and the chance falls under {_share(part.need.chance)} in 100; {held}."
    if at.start + 1 not in at.mode.starts:
        return f"{chosen}: {SLOT_MINUTES} min later someone is missing for one of its steps; {held}."
    found = told.others.fit(part, replace(at, start=at.start + 1))
    if isinstance(found, Fit):
        return f"{chosen}: it shares a fire or a pair of hands best there; {held}."
    return f"{chosen}: {SLOT_MINUTES} min later {LIMIT_WORDS[found]}; {held}."


def _why_not_earlier(told: Told) -> str:
    part, at = told.part, told.at
    sure = [s for s in at.mode.starts if not _thin(part, at, s)]
    if not sure:
        return "no earlier start has the crew and a hold short enough"
    spare = part.wait_until - (sure[-1] + part.load + at.mode.d50)
    fits = [told.others.fit(part, replace(at, start=sure[-1], rest=rest)) for rest in rests(part, spare)]
    refused = [fit for fit in fits if isinstance(fit, str)]
    if len(refused) == len(fits):
        why = LIMIT_WORDS[refused[0]] if refused else "it would wait too long"
        return f"at {_slot(told, sure[-1])}, which would be sure enough, {why}"
    return f"a start at {_slot(told, sure[-1])} would be surer and the whole plan dearer"


def _thin(part: Part, at: Placed, start: int) -> bool:
    later = replace(at, start=start)
    return on_slot(part, later) + at.mode.dq + part.rest_min > part.ready_by


def _what_it_gives(told: Told) -> str:
    part, need = told.part, told.part.need
    mass = format_mass(told.load.mass_kg, told.house.display)
    low, high = need.portions_likely
    whole = "" if part.pieces == need.pieces else f" of {need.pieces}"
    return (
        f"{count(part.pieces, need.cut.name)}{whole}, {mass} raw, usually {part.portions} portions; "
        f"{_all(part)} give {low} to {high} for {need.portions} promised."
    )


def _all(part: Part) -> str:
    return "they" if part.pieces == part.need.pieces else f"all {part.need.pieces}"


def _elsewhere(told: Told) -> list[str]:
    lines = []
    modes = {m.pit: m for m in reversed(told.part.modes) if m.pit != told.load.pit}
    for pit, mode in modes.items():
        name = told.house.pits[pit].name
        if not mode.starts:
            lines.append(f"On {name} instead: no start has the crew and the time.")
            continue
        start = min(mode.starts, key=lambda s: (abs(s + mode.d50 - told.at.start - told.at.mode.d50), s))
        found = told.others.fit(told.part, Placed(mode, start, told.part.rest_min))
        if isinstance(found, str):
            lines.append(f"On {name} instead: {LIMIT_WORDS[found]} for a load at {_slot(told, start)}.")
    return lines


def _allowed(told: Told) -> str:
    return f"{duration(told.part.need.cut.hold_longest_minutes)} allowed"


def _share(chance: float) -> str:
    return f"{100 * chance:.0f}"


def _slot(told: Told, slot: int) -> str:
    return _when(told, told.problem.frame.grid.moment(slot))


def _when(told: Told, moment: datetime) -> str:
    clock, day = clock_time(moment, told.house), local(moment, told.house).date()
    same = day == local(told.load.needed_at, told.house).date()
    return clock if same else f"{clock} on {short_day(day)}"
