"""Doors: each opening of a pit for other meat costs the meat on it some minutes, reckoned beforehand.

How often a door opens follows from the plan, and the plan from how often: see reckoning.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from board.planning.part_making import part_of
from board.planning.problem import Assignment, Frame, Mode, Part, Problem, off_slot, on_slot, tasks


def reckoned(problem: Problem, plan: Assignment) -> Problem:
    """The problem with every placed part reckoned to see at least the openings it sees in a plan."""
    return opened(problem, _openings(problem, plan))


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
    placed = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    for part, at in placed:
        pit = at.mode.pit
        if problem.frame.pits[pit].pit.door_minutes <= 0:
            continue
        others = [pair for pair in placed if pair[0] is not part and pair[1].mode.pit == pit]
        slots = {task.begin for other in others for task in tasks(*other)}
        slots |= set(problem.frame.taken.openings.get(pit, ()))
        yield part.id, pit, sum(on_slot(part, at) <= slot < off_slot(part, at) for slot in slots)


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
