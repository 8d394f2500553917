"""Pack parts anew into fires that burn: every part in one of a few places, and none left out.

A question in 0 and 1 without a best answer: each place is taken or not, every limit is a row at the slots
where something begins. So it sees many pits at once, where the whole model sees a few.
"""

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from board.planning.core.search import Effort, search
from board.planning.problem import (
    Assignment,
    Part,
    Placed,
    Problem,
    cooking,
    holding,
    points,
    resting,
    tasks,
)
from board.planning.run import Run
from board.planning.search.occupancy import Occupancy
from board.planning.search.places import Hot, Place, hot_spans, places
from board.planning.search.tidy import tidy
from board.planning.solver.cost import tenths
from board.planning.solver.fillings import Crowd, crowd_of
from board.planning.solver.solve import Found


@dataclass(frozen=True)
class _Use:
    """So much taken through [begin, end) where a literal is true; `who` takes it once at most."""

    begin: int
    end: int
    amount: int
    when: cp_model.IntVar
    who: int


@dataclass(frozen=True)
class _Packing:
    """The question: a literal for each place."""

    problem: Problem
    model: cp_model.CpModel
    where: Sequence[Place]
    taken: Sequence[cp_model.IntVar]

    def part(self, place: Place) -> Part:
        """The part of a place."""
        return self.problem.parts[place.part]


def pack(
    problem: Problem,
    plan: Assignment,
    *,
    below: float,
    seconds: float,
    seed: int,
    stop: Callable[[], bool] | None = None,
) -> Found:
    """A plan of fewer points than `below` that serves all parts in a plan's fires, if one is found.

    Args:
        plan: its parts may be where they are or elsewhere in its fires; those left out must go there too.
        seconds: about how long to search, counted as work.
    """
    hots = hot_spans(problem, plan)
    where = places(problem, plan, hots)
    packing = _written(problem, plan, where)
    crowd = crowd_of(problem, where)
    if crowd is not None:
        _fill(packing, crowd)
    _cost_less(packing, hots, below - points(replace(problem, parts=()), plan))
    outcome = search(packing.model, Effort(seconds, seed, workers=1, stop=stop, first=True))
    if not outcome.found:
        return Found(None, 0.0, proved=False, worked=outcome.worked)
    found = tidy(problem, _read(packing, plan, hots, outcome.solver))
    return Found(found, 0.0, proved=False, worked=outcome.worked)


def _written(problem: Problem, plan: Assignment, where: Sequence[Place]) -> _Packing:
    model = cp_model.CpModel()
    packing = _Packing(problem, model, where, [model.new_bool_var("here") for _ in where])
    here: dict[int, list[cp_model.IntVar]] = defaultdict(list)
    for literal, place in zip(packing.taken, where, strict=True):
        here[place.part].append(literal)
        model.add_hint(literal, plan.placed.get(packing.part(place).id) == place.at)
    for i in range(len(problem.parts)):
        model.add_exactly_one(here[i])
    _limits(packing, plan)
    return packing


def _limits(packing: _Packing, plan: Assignment) -> None:
    """Room on each spot, on the bench and in the hold, hands and attention, beside what stands and burns."""
    left = Occupancy(packing.problem)
    for pit, runs in plan.runs.items():
        left.burn(pit, runs)
    rooms = {spot: _uses(packing, cooking, spot) for spot in left.pit_left}
    for spot, uses in rooms.items():
        _within(packing.model, left.pit_left[spot], uses)
    _within(packing.model, left.bench_left, _uses(packing, resting))
    _within(packing.model, left.hold_left, _uses(packing, holding))
    percent = packing.problem.frame.weights.task_attention_percent
    for kinds, people in left.work.items():
        _within(packing.model, people, _work(packing, kinds, 1))
    _within(packing.model, left.attention_left, _work(packing, frozenset(), percent))


def _uses(
    packing: _Packing, span: Callable[[Part, Placed], tuple[int, int]], spot: str | None = None
) -> list[_Use]:
    """The room each place takes through a span, on one spot where one is named."""
    return [
        _Use(*span(packing.part(place), place.at), packing.part(place).area_cm2, literal, place.part)
        for literal, place in zip(packing.taken, packing.where, strict=True)
        if spot is None or place.at.mode.spot == spot
    ]


def _work(packing: _Packing, kinds: frozenset[str], amount: int) -> list[_Use]:
    """So much taken by each piece of work of these kinds, or of any where none is named."""
    return [
        _Use(task.begin, task.end, amount, literal, place.part)
        for literal, place in zip(packing.taken, packing.where, strict=True)
        for task in tasks(packing.part(place), place.at)
        if not kinds or task.what in kinds
    ]


def _within(model: cp_model.CpModel, left: NDArray[np.int64], uses: Sequence[_Use]) -> None:
    """At no slot more than is left; asked for where something begins or less is left than before."""
    begin, end, amount, who = (
        np.array([getattr(use, name) for use in uses], np.int64) for name in ("begin", "end", "amount", "who")
    )
    less = 1 + np.flatnonzero(np.diff(left) < 0)
    rows: dict[bytes, int] = {}
    for slot in np.unique(np.concatenate((begin, less))):
        on = (begin <= slot) & (slot < end)
        there = max(0, int(left[min(int(slot), len(left) - 1)]))
        _, once = np.unique(who[on], return_index=True)
        if amount[on][once].sum() > there:
            rows[on.tobytes()] = min(there, rows.get(on.tobytes(), there))
    for row, there in rows.items():
        on = np.frombuffer(row, dtype=np.bool_)
        literals = [uses[int(n)].when for n in np.flatnonzero(on)]
        model.add(cp_model.LinearExpr.weighted_sum(literals, amount[on].tolist()) <= there)


def _fill(packing: _Packing, crowd: Crowd) -> None:
    """Each spot is filled with the crowd in one of the ways that lose little enough room."""
    here: dict[tuple[str, int], list[cp_model.IntVar]] = defaultdict(list)
    for literal, place in zip(packing.taken, packing.where, strict=True):
        here[place.at.mode.spot, place.part].append(literal)
    for spot, ways in crowd.ways.items():
        chosen = [packing.model.new_bool_var("so") for _ in ways]
        packing.model.add_exactly_one(chosen)
        for i in crowd.parts:
            so = [literal for literal, way in zip(chosen, ways, strict=True) if i in way]
            packing.model.add(sum(here[spot, i]) == sum(so))


def _cost_less(packing: _Packing, hots: Sequence[Hot], below: float) -> None:
    """All places together cost less than this, each with how much longer its fire would burn for it alone."""
    costs = []
    for place in packing.where:
        hot = hots[place.hot]
        begin, end = cooking(packing.part(place), place.at)
        longer = max(0, hot.run.begin + hot.heat - begin) + max(0, end - hot.run.end)
        fuel = packing.problem.frame.pits[hot.pit].fuel_points
        costs.append(tenths(place.points + fuel * longer))
    packing.model.add(cp_model.LinearExpr.weighted_sum(packing.taken, costs) < tenths(below))


def _read(packing: _Packing, plan: Assignment, hots: Sequence[Hot], solver: cp_model.CpSolver) -> Assignment:
    """The places taken, and the plan's fires burning for them as well; `tidy` cuts them to their meat."""
    placed: dict[str, Placed] = {}
    burning: dict[int, Run] = {h: hot.run for h, hot in enumerate(hots)}
    for literal, place in zip(packing.taken, packing.where, strict=True):
        if solver.boolean_value(literal):
            placed[packing.part(place).id] = place.at
            begin, end = cooking(packing.part(place), place.at)
            run, heat = burning[place.hot], hots[place.hot].heat
            first = min(run.begin, begin - heat) if hots[place.hot].moves else run.begin
            burning[place.hot] = replace(run, begin=first, end=max(run.end, end))
    runs = {pit: tuple(burning[h] for h, hot in enumerate(hots) if hot.pit == pit) for pit in plan.runs}
    return Assignment(placed, runs)
