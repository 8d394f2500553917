"""Fires that burn, each as it could be stretched, and a few places for each part in each of them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from board.planning.problem import Assignment, Mode, PitRoom, Placed, Problem, cooking, part_points
from board.planning.run import Run
from board.planning.search.fires import Slots
from board.planning.search.insertion import rests
from board.planning.search.shapes import Shape, Shapes

# Starts of a part in one way on one fire, at most: the cheapest of those that matter.
_STARTS_MOST = 5


@dataclass(frozen=True)
class Hot:
    """A run of a pit that may begin as early as `first` and burn until `last` at most.

    `stays` is lit whatever is cooked in it; `moves` tells that its beginning is free, `heat` how long it
    takes from there until it is hot.
    """

    pit: str
    run: Run
    heat: int
    first: int
    last: int
    stays: bool
    moves: bool


@dataclass(frozen=True)
class Place:
    """A part somewhere in a fire, both by number, and what it costs there but for the fire."""

    part: int
    hot: int
    at: Placed
    points: float


def hot_spans(problem: Problem, plan: Assignment) -> list[Hot]:
    """All runs of a plan's pits, each with the room the runs before and after it leave."""
    return [hot for pit, runs in plan.runs.items() for hot in _of_pit(problem, pit, runs)]


def _of_pit(problem: Problem, pit: str, runs: Sequence[Run]) -> Iterator[Hot]:
    room, earliest = problem.frame.pits[pit], problem.frame.outset.earliest
    for i, run in enumerate(runs):
        before = runs[i - 1] if i else None
        after = runs[i + 1] if i + 1 < len(runs) else None
        moves = not run.chained and not run.known
        held = after is not None and after.chained
        first = max(earliest, 0, before.end + 1 if before else 0) if moves else run.begin
        last = run.end if held else after.begin - 1 if after else problem.frame.grid.slots
        first, last = _open(room, run, min(first, run.begin), max(last, run.end))
        heat = room.change_over if run.chained else room.warm
        yield Hot(pit, run, heat, first, last, not moves or held, moves)


def _open(room: PitRoom, run: Run, first: int, last: int) -> tuple[int, int]:
    """The span about a run, cut where the pit is out of use."""
    before, after = np.flatnonzero(room.shut[first : run.begin]), np.flatnonzero(room.shut[run.end : last])
    if len(before):
        first += int(before[-1]) + 1
    if len(after):
        last = run.end + int(after[0])
    return first, last


def places(problem: Problem, plan: Assignment, hots: Sequence[Hot]) -> list[Place]:
    """Where each part is in a plan, and where else it could be in the plan's fires: a few starts in each.

    A part that turns its pit's setpoint, and one on a pit of several levels, stay where they are.
    """
    shapes, met = Shapes(problem), _met(problem, plan)
    found: list[Place] = []
    for i, part in enumerate(problem.parts):
        at = plan.placed.get(part.id)
        if at is not None:
            here = next(h for h, hot in enumerate(hots) if _holds(hot, at))
            found.append(Place(i, here, at, part_points(problem, part, at)))
        if at is None or not (at.mode.turn or at.mode.pit in shapes.levelled):
            ways = [
                (mode, shape)
                for mode, shape in shapes.of(part)
                if mode.turn is None and mode.pit not in shapes.levelled
            ]
            found += (place for place in _others(problem, i, ways, hots, met) if place.at != at)
    return found


def _holds(hot: Hot, at: Placed) -> bool:
    return hot.pit == at.mode.pit and hot.run.begin <= at.start < hot.run.end


def _met(problem: Problem, plan: Assignment) -> Mapping[str, tuple[list[int], list[int]]]:
    """When meat goes on each spot, and when it is off."""
    met: dict[str, tuple[list[int], list[int]]] = {spot: ([], []) for spot in problem.frame.spots}
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is not None:
            begin, end = cooking(part, at)
            met[at.mode.spot][0].append(begin)
            met[at.mode.spot][1].append(end)
    return met


def _others(
    problem: Problem,
    number: int,
    ways: Sequence[tuple[Mode, Shape]],
    hots: Sequence[Hot],
    met: Mapping[str, tuple[list[int], list[int]]],
) -> Iterator[Place]:
    part = problem.parts[number]
    worth = problem.frame.weights.unserved_portion * part.worth
    for mode, shape in ways:
        for h, hot in enumerate(hots):
            if hot.pit != mode.pit or hot.run.setpoint_c != mode.setpoint_c:
                continue
            for n in _starts(shape, hot, *met[mode.spot]):
                start, points = int(shape.starts[n]), float(shape.points[n])
                if points < worth:
                    yield from (
                        Place(number, h, Placed(mode, start, rest), points)
                        for rest in rests(part, part.wait_until - (start + part.load + mode.d50))
                    )


def _starts(shape: Shape, hot: Hot, begins: Sequence[int], ends: Sequence[int]) -> list[int]:
    """A few starts by number: the cheapest, at the ends of the fire as it is, and where others change."""
    starts, size = shape.starts, shape.stay.size
    low, high = np.searchsorted(starts, (hot.first + hot.heat, hot.last - size + 1))
    if low >= high:
        return []
    hot_from, off_by = hot.run.begin + hot.heat, hot.run.end - size
    first, last = _among(starts, hot_from, "right"), _among(starts, off_by, "left")
    points = shape.points[low:high]
    wanted = {low + int(np.argmin(points)), high - 1 - int(np.argmin(points[::-1]))}
    wanted |= {first, last, *(_among(starts, end, "right") for end in ends)}
    wanted |= {_among(starts, begin - size, "left") for begin in begins}
    within = sorted(n for n in wanted if low <= n < high)
    return sorted(within, key=lambda n: (shape.points[n], -n))[:_STARTS_MOST]


def _among(starts: Slots, slot: int, side: str) -> int:
    """The number of the first start from a slot on ("right"), or of the last up to it ("left")."""
    if side == "right":
        return int(np.searchsorted(starts, slot, "left"))
    return int(np.searchsorted(starts, slot, "right")) - 1
