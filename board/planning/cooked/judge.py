"""Whether loads, cooked as planned, meet the rule they fall under: before anyone cooks them."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook
from board.cooking.errors import CookingError
from board.cooking.resting import CoreCourse, core_courses
from board.house.model import House
from board.planning.cook_times import counted
from board.planning.cooked.numbers import judged_by
from board.planning.cooked.rule import Rule, rule_of
from board.planning.cooked.stays import met_minute
from board.planning.cooked.wait import rest_of, shortest_minutes, waits_minutes
from board.planning.load_cook import cook_of
from board.planning.plan import Cooked, CookedBy, PlannedLoad
from board.safety.limits import CookRow
from board.safety.log import slack_k

Floats = NDArray[np.float64]

_SEED = 0  # a plan's verdict does not hang on the seed of its search


@dataclass(frozen=True, slots=True)
class _Asked:
    """A load to be judged by its likely cooks, and how long it waits as planned."""

    load: PlannedLoad
    rule: Rule
    cook: Cook
    shortest: float
    waits: float


def cooked_as_planned(house: House, loads: Iterable[PlannedLoad]) -> dict[str, Cooked]:
    """How each load meets its cooking rule as planned, by id; loads of meat or pits not known are left out.

    Where the pull alone does, nothing is estimated; the others take some tenths of a second together.
    """
    found: dict[str, Cooked] = {}
    asked: list[_Asked] = []
    for load in loads:
        if load.cut not in house.cuts or load.pit not in house.pits:
            continue
        rule = rule_of(house, load)
        row = _at_once(rule, house.cuts[load.cut].end_core_c)
        if row is not None:
            found[load.id] = _verdict(rule, CookedBy.PULL, 1.0, 1.0, row)
        else:
            asked.append(_ask(house, load, rule))
    return found | _judged(asked)


def _judged(asked: Sequence[_Asked]) -> dict[str, Cooked]:
    """The verdicts of loads from their likely cooks, with the pulls that would do where these do not."""
    courses = _courses(tuple(dict.fromkeys(one.cook for one in asked)))
    found = {one.load.id: _shares(one, courses.get(one.cook, ())) for one in asked}
    higher = [(one, _higher_pulls(one)) for one in asked if found[one.load.id].by is CookedBy.NOT_MET]
    tried = _courses(tuple(dict.fromkeys(cook for _, its in higher for _, cook in its)))
    for one, its in higher:
        enough = (row for row, cook in its if _is_met(one, tried.get(cook, ())))
        row = next(enough, None)
        if row is not None:
            found[one.load.id] = _with_pull(found[one.load.id], row)
    return found


def _with_pull(cooked: Cooked, row: CookRow) -> Cooked:
    """The verdict with the pull that would do, and its row of the rule where no cook meets any."""
    if not cooked.when_served:
        cooked = replace(cooked, stay_c=row.at.c, stay_f=row.at.f, stay_minutes=row.seconds / 60.0)
    return replace(cooked, pull_c=row.at.c, pull_f=row.at.f)


def _is_met(one: _Asked, courses: Sequence[CoreCourse]) -> bool:
    return _shares(one, courses).by is not CookedBy.NOT_MET


def _at_once(rule: Rule, core_c: float) -> CookRow | None:
    """The coolest row of a rule that a pull at this core meets while the probe is in the meat."""
    probe_s = 60.0 * judged_by().probe_minutes
    return next((row for row in rule.rows if core_c >= _least_c(row) and row.seconds <= probe_s), None)


def _least_c(row: CookRow) -> float:
    return row.at.least_c() - slack_k()


def _ask(house: House, load: PlannedLoad, rule: Rule) -> _Asked:
    pieces = counted(load.timed_as or load.pieces)
    cook = replace(cook_of(house, load), pieces=pieces, rest=rest_of(house, load))
    return _Asked(load, rule, cook, shortest_minutes(house, load), waits_minutes(house, load))


@lru_cache(maxsize=16)
def _courses(cooks: tuple[Cook, ...]) -> dict[Cook, tuple[CoreCourse, ...]]:
    """The likely courses of each cook; one that cannot be is left out."""
    members = int(judged_by().members)
    try:
        return dict(zip(cooks, core_courses(cooks, members=members, seed=_SEED), strict=True))
    except CookingError:
        each = (_courses((cook,)) for cook in cooks) if len(cooks) > 1 else ()
        return {cook: its for one in each for cook, its in one.items()}


def _higher_pulls(one: _Asked) -> list[tuple[CookRow, Cook]]:
    """Cooks pulled at the cores of higher rows, the coolest first: a few of them, the surest among these."""
    rows = [row for row in one.rule.rows if row.at.least_c() > one.cook.until_core_c]
    every = max(1, -(-len(rows) // int(judged_by().tried_most)))
    some = dict.fromkeys([*rows[::every], *rows[-1:]])
    return [(row, replace(one.cook, until_core_c=row.at.least_c())) for row in some]


def _shares(one: _Asked, courses: Sequence[CoreCourse]) -> Cooked:
    """How many of the likely cooks meet the rule by the pull and by serving."""
    judged, rows = judged_by(), one.rule.rows
    off = [course for course in courses if np.isfinite(course.pulled_minute)]
    if not off:
        return _verdict(one.rule, CookedBy.NOT_MET, 0.0, 0.0, rows[-1])
    met, pulled, served = _met(tuple(off), rows), _pulled(off), _served(one, off)
    probed, first = pulled + judged.probe_minutes, met.min(axis=1)
    at_pull, when_served = (float(np.mean(first <= by)) for by in (probed, served))
    if at_pull >= judged.sure:
        return _verdict(one.rule, CookedBy.PULL, at_pull, when_served, rows[_surest(met, probed)])
    by = CookedBy.REST if when_served >= judged.likely else CookedBy.NOT_MET
    found = _verdict(one.rule, by, at_pull, when_served, rows[_surest(met, served)])
    after = np.sort(np.maximum(0.0, first - pulled))
    needs = float(after[math.ceil(judged.likely * len(off)) - 1])
    return replace(found, rest_minutes=needs) if by is CookedBy.REST else found


@lru_cache(maxsize=64)
def _met(courses: tuple[CoreCourse, ...], rows: tuple[CookRow, ...]) -> Floats:
    """The minute at which each course has met each row of a rule, infinite where it never does."""
    return np.array([[met_minute(c, _least_c(row), row.seconds / 60.0) for row in rows] for c in courses])


def _pulled(courses: Sequence[CoreCourse]) -> Floats:
    return np.array([course.pulled_minute for course in courses])


def _surest(met: Floats, by: Floats) -> int:
    """Which row of the rule most cooks meet by a moment of each; of equals the hottest, soonest done."""
    shares = (met <= by[:, None]).mean(axis=0)
    return max(range(len(shares)), key=lambda i: (shares[i], i))


def _served(one: _Asked, courses: Sequence[CoreCourse]) -> Floats:
    """When each likely cook is served: a slow one waits less, but no less than the shortest rest."""
    pulled = _pulled(courses)
    due = float(np.median(pulled)) + one.waits
    served: Floats = np.clip(due, pulled + one.shortest, pulled + max(one.waits, one.shortest))
    return served


def _verdict(rule: Rule, by: CookedBy, at_pull: float, when_served: float, row: CookRow) -> Cooked:
    return Cooked(
        rule=rule.handling.value,
        source=rule.source,
        by=by,
        at_pull=at_pull,
        when_served=when_served,
        cool_pit=rule.cool_pit,
        stay_c=row.at.c,
        stay_f=row.at.f,
        stay_minutes=row.seconds / 60.0,
    )
