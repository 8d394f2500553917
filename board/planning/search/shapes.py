"""What a mode asks for whatever its start, and what each of its starts costs but for the fire, as arrays."""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from board.planning.grid import SLOT_MINUTES
from board.planning.problem import (
    SAME_SETPOINT_K,
    Mode,
    Part,
    Placed,
    Problem,
    easy_slots,
    on_slot,
    tasks,
)
from board.planning.run import Task
from board.planning.search.fires import Points, Slots, Stay, stay_of


@dataclass(frozen=True)
class Shape:
    """A part's modes that differ in their pit alone: starts, points of each, lengths, work from the start."""

    starts: Slots
    points: Points
    least: float
    first: int
    last: int
    stay: Stay
    off: int
    work: tuple[Task, ...]


class Shapes:
    """Shapes as they are asked for, each made once."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        # parts and modes are kept beside their shapes, so that no id is ever another's
        self._of: dict[int, tuple[Part, list[tuple[Mode, Shape]]]] = {}
        levels = {(spot.pit, spot.level) for spot in problem.frame.spots.values()}
        count = Counter(pit for pit, _ in levels)
        # pits on which one spot lies above another
        self.levelled = frozenset(pit for pit, several in count.items() if several > 1)

    def of(self, part: Part) -> list[tuple[Mode, Shape]]:
        """A part's modes that have a start, with their shapes."""
        known = self._of.get(id(part))
        if known is None:
            known = self._of[id(part)] = part, self._made(part)
        return known[1]

    def _made(self, part: Part) -> list[tuple[Mode, Shape]]:
        made: dict[object, Shape] = {}
        # few of many starts differ: each is compared with others once
        first: dict[tuple[int, ...], tuple[int, ...]] = {}
        by_id: dict[int, tuple[int, ...]] = {}
        found = []
        for mode in part.modes:
            if not mode.starts:
                continue
            key = (mode.d50, mode.d90, mode.dq, mode.wrap, mode.turn, mode.work_points, mode.setpoint_c)
            if id(mode.starts) not in by_id:
                by_id[id(mode.starts)] = first.setdefault(mode.starts, mode.starts)
            alike = (*key, id(by_id[id(mode.starts)]), None if part.kept is None else mode.pit)
            if alike not in made:
                made[alike] = shape_of(self.problem, part, mode)
            found.append((mode, made[alike]))
        return found


def shape_of(problem: Problem, part: Part, mode: Mode) -> Shape:
    """The arrays of one mode of a part."""
    starts = np.asarray(mode.starts, dtype=np.int64)
    points = start_points(problem, part, mode, starts)
    there = Placed(mode, 0, part.rest_min)
    return Shape(
        starts=starts,
        points=points,
        least=float(points.min()),
        first=mode.starts[0],
        last=mode.starts[-1],
        stay=stay_of(part, there),
        off=on_slot(part, there) + mode.d50,
        work=tasks(part, there),
    )


def start_points(problem: Problem, part: Part, mode: Mode, starts: Slots) -> Points:
    """`part_points` of a mode at each of these starts."""
    w = problem.frame.weights
    rested = starts + (part.load + mode.d50 + part.rest_min)
    late = np.maximum(0, rested - part.ready_by) * SLOT_MINUTES
    thin = np.maximum(0, rested + (mode.dq - mode.d50) - part.ready_by) * SLOT_MINUTES
    over = np.maximum(0, part.ready_by - rested - easy_slots(problem, part)) * SLOT_MINUTES
    lateness = w.late_portion * (late > 0) + w.late_portion_minute * late
    soon = part.worth * (lateness + w.thin_portion_minute * thin)
    held = w.hold_portion_minute * part.worth * over + part.wait_points
    points: Points = soon + held + mode.work_points + _moved(problem, part, mode, starts)
    return points


def _moved(problem: Problem, part: Part, mode: Mode, starts: Slots) -> Points:
    if part.kept is None:
        return np.zeros(len(starts))
    w, there = problem.frame.weights, part.kept
    same = mode.pit == there.pit and abs(mode.setpoint_c - there.setpoint_c) < SAME_SETPOINT_K
    off = (
        w.moved_load + w.moved_minute * np.abs(starts - there.start) * SLOT_MINUTES + w.moved_pit * (not same)
    )
    points: Points = np.where((starts == there.start) & same, 0.0, off)
    return points
