"""Parts that differ in nothing, and pits that differ in nothing: one column stands for them all.

Averaging a solution of a linear program over the exchange of alike parts, or of alike pits, keeps every row
and the cost, so that one variable for all of them loses nothing of the bound.
"""

import math
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass

from board.planning.problem import SAME_SETPOINT_K, Mode, Part, Problem


@dataclass(frozen=True)
class Block:
    """Pits alike in everything that counts: how many, and the one that stands for them."""

    pit: str
    count: int


@dataclass(frozen=True)
class Batch:
    """Parts alike in everything that counts: how many, and the one that stands for them."""

    part: Part
    count: int
    members: tuple[int, ...]


def fires(setpoints: Iterable[float]) -> dict[float, int]:
    """Each setpoint's fire: a number of its own, shared by those too near to tell apart."""
    found: dict[float, int] = {}
    before = -math.inf
    for setpoint in sorted(set(setpoints)):
        found[setpoint] = len(set(found.values())) - (setpoint - before < SAME_SETPOINT_K)
        before = setpoint
    return found


def blocks(problem: Problem, stands_for: Mapping[str, int]) -> list[Block]:
    """The pits that cook anything, gathered where no part could tell them apart.

    Args:
        stands_for: how many pits one of them stands for already, by its id.
    """
    found: dict[Hashable, list[str]] = {}
    used = {mode.pit for part in problem.parts for mode in part.modes if mode.starts}
    for pit in problem.frame.pits:
        if pit in used:
            found.setdefault(_pit_key(problem, pit), []).append(pit)
    return [Block(pits[0], sum(stands_for.get(pit, 1) for pit in pits)) for pits in found.values()]


def batches(problem: Problem) -> list[Batch]:
    """The parts with a start, gathered where they differ in nothing."""
    found: dict[Hashable, list[int]] = {}
    for i, part in enumerate(problem.parts):
        found.setdefault(_part_key(part), []).append(i)
    return [Batch(problem.parts[m[0]], len(m), tuple(m)) for m in found.values()]


def _pit_key(problem: Problem, pit: str) -> Hashable:
    frame, room = problem.frame, problem.frame.pits[pit]
    spots = tuple((s.id, s.area_cm2, s.level) for s in frame.spots.values() if s.pit == pit)
    own = frame.taken.runs[pit] or any(frame.taken.cooking[s[0]] for s in spots) or len(spots) > 1
    kept = any(part.kept and part.kept.pit == pit for part in problem.parts)
    size = (spots[0][1], room.warm, room.change_over, room.light, room.fuel_points, room.tend_percent)
    meat = tuple(tuple(mode_key(m) for m in part.modes if m.pit == pit) for part in problem.parts)
    return (pit if own or kept else "", size, room.shut.tobytes(), meat)


def mode_key(m: Mode) -> Hashable:
    """All of a mode but where it is."""
    turn = m.turn and (m.turn.after, m.turn.setpoint_c)
    return (m.setpoint_c, m.d10, m.d50, m.d90, m.dq, m.wrap, m.starts, turn, m.work_points)


def _part_key(part: Part) -> Hashable:
    lengths = (part.load, part.wrap, part.pull, part.rest_min, part.rest_max, part.hold_max)
    modes = tuple((m.spot, mode_key(m)) for m in part.modes)
    return (
        part.worth,
        part.wait_points,
        part.area_cm2,
        lengths,
        part.ready_by,
        part.wait_until,
        modes,
        part.kept,
        part.pinned,
    )
