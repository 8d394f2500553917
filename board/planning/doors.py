"""Doors: each opening of a pit for other meat costs the meat on it some minutes, reckoned beforehand.

How often a door opens follows from the plan, and the plan from how often: see reckoning.
"""

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from board.planning.part_making import part_of
from board.planning.problem import Assignment, Frame, Mode, Part, Placed, Problem, off_slot, on_slot, tasks


def reckoned(problem: Problem, plan: Assignment) -> Problem:
    """The problem with every placed part reckoned to see at least the openings it sees in a plan."""
    return opened(problem, _openings(problem, plan))


def foreseen(problem: Problem, plan: Assignment, spare: int = 0) -> Problem:
    """The problem with at least the openings that each part sees in a plan, or would see on each other pit.

    There it would see as many as the plan shows while it cooked as late as it can and be in time.

    Args:
        spare: openings more, wherever there are any: room to move.
    """
    found = [*_elsewhere(problem, plan), *_openings(problem, plan)]
    return opened(problem, ((part_id, pit, n + spare if n else 0) for part_id, pit, n in found))


def loosened(problem: Problem) -> Problem:
    """The problem with one opening more reckoned with for every part and pit that sees any: room to move."""
    openings = problem.frame.openings
    return opened(problem, ((part_id, pit, n + 1) for (part_id, pit), n in openings.items() if n > 0))


def seen(problem: Problem, plan: Assignment) -> Problem:
    """The problem with just the openings a plan shows, for every part it places."""
    shown = {(part_id, pit): n for part_id, pit, n in _openings(problem, plan)}
    return _with_openings(problem, {**problem.frame.openings, **shown})


def opened(problem: Problem, openings: Iterable[tuple[str, str, int]]) -> Problem:
    """The problem with at least so many openings reckoned with, given by part and pit; itself where it is."""
    before = problem.frame.openings
    raised = dict(before)
    for part_id, pit, n in openings:
        raised[part_id, pit] = max(n, raised.get((part_id, pit), 0))
    return _with_openings(problem, raised)


def _with_openings(problem: Problem, openings: dict[tuple[str, str], int]) -> Problem:
    before = problem.frame.openings
    changed = {key[0] for key, n in openings.items() if n != before.get(key, 0)}
    if not changed:
        return problem
    frame = replace(problem.frame, openings=openings)
    parts = (_made_again(frame, part) if part.id in changed else part for part in problem.parts)
    return replace(problem, frame=frame, parts=tuple(parts))


def _openings(problem: Problem, plan: Assignment) -> Iterator[tuple[str, str, int]]:
    """Each placed part, its pit, and in how many slots the door is opened for others while it cooks."""
    for pit, here in _meat(problem, plan).items():
        if problem.frame.pits[pit].pit.door_minutes <= 0:
            continue
        standing = problem.frame.taken.openings.get(pit, ())
        begun = {part.id: {task.begin for task in tasks(part, at)} for part, at in here}
        for part, at in here:
            slots = set(standing).union(*(begun[other.id] for other, _ in here if other is not part))
            yield part.id, pit, sum(on_slot(part, at) <= slot < off_slot(part, at) for slot in slots)


def _meat(problem: Problem, plan: Assignment) -> dict[str, list[tuple[Part, Placed]]]:
    """What each pit cooks in a plan."""
    meat: dict[str, list[tuple[Part, Placed]]] = {}
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is not None:
            meat.setdefault(at.mode.pit, []).append((part, at))
    return meat


def too_often(problem: Problem, pit: str, meat: Iterable[tuple[Part, Placed]]) -> int:
    """Openings beyond those reckoned with, summed over the meat that is all there is on a pit."""
    if problem.frame.pits[pit].pit.door_minutes <= 0:
        return 0
    here = list(meat)
    begun = Counter(slot for pair in here for slot in {task.begin for task in tasks(*pair)})
    others = sorted({*begun, *problem.frame.taken.openings.get(pit, ())})
    standing = set(problem.frame.taken.openings.get(pit, ()))
    over = 0
    for part, at in here:
        on, off = on_slot(part, at), off_slot(part, at)
        seen_there = bisect_left(others, off) - bisect_left(others, on)
        alone = {t.begin for t in tasks(part, at) if begun[t.begin] == 1} - standing
        over += max(0, seen_there - sum(on <= slot < off for slot in alone) - at.mode.openings)
    return over


def opened_too_often(problem: Problem, plan: Assignment) -> int:
    """Openings beyond those reckoned with, summed over the placed parts of a plan."""
    return sum(too_often(problem, pit, here) for pit, here in _meat(problem, plan).items())


def _elsewhere(problem: Problem, plan: Assignment) -> Iterator[tuple[str, str, int]]:
    """Each part, each pit it could be on but is not, and the openings while it would cook there."""
    slots = {pit: np.array(sorted(found), np.int64) for pit, found in _opened(problem, plan).items()}
    for part in problem.parts:
        at = plan.placed.get(part.id)
        here, off = None if at is None else at.mode.pit, part.ready_by - part.rest_min
        for pit, longest in _longest(part).items():
            if pit != here and pit in slots:
                first, last = np.searchsorted(slots[pit], (off - longest, off))
                yield part.id, pit, int(last - first)


def _longest(part: Part) -> dict[str, int]:
    """The longest of the part's usual cooks on each pit it could be on, in slots."""
    longest: dict[str, int] = {}
    for mode in part.modes:
        if mode.starts:
            longest[mode.pit] = max(longest.get(mode.pit, 0), mode.d50)
    return longest


def _opened(problem: Problem, plan: Assignment) -> dict[str, set[int]]:
    """The slots in which each pit whose openings cost time is opened."""
    frame, meat = problem.frame, _meat(problem, plan)
    return {
        pit: {task.begin for pair in meat.get(pit, ()) for task in tasks(*pair)}.union(
            frame.taken.openings.get(pit, ())
        )
        for pit, room in frame.pits.items()
        if room.pit.door_minutes > 0
    }


def _made_again(frame: Frame, part: Part) -> Part:
    """A part with its lengths by the frame's openings; what a committed plan or a pin says of it stands."""
    return told_as(part_of(frame, part.share, part.id.removeprefix(f"{part.need.name}-")), part)


def told_as(fresh: Part, part: Part) -> Part:
    """A part made anew with the committed place and the pin of another."""
    modes = fresh.modes
    if part.pinned:
        (only,) = part.modes
        modes = tuple(replace(mode, starts=only.starts) for mode in modes if same_mode(mode, only))
    return replace(fresh, modes=modes, kept=part.kept, pinned=part.pinned)


def same_mode(one: Mode, other: Mode) -> bool:
    """Whether two modes are the same place and setpoints, whatever their lengths."""
    turns = [None if m.turn is None else m.turn.setpoint_c for m in (one, other)]
    return one.spot == other.spot and one.setpoint_c == other.setpoint_c and turns[0] == turns[1]
