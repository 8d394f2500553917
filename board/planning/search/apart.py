"""Place loads again in two processes at once, each on half of the pits, as Python runs one thread at a time.

The halves are drawn anew each while. What both found is taken together where the house's people, benches and
holds allow both, and the better of the two where they do not.
"""

from collections.abc import Callable, Iterator, Sequence, Set
from concurrent.futures import BrokenExecutor, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace
from multiprocessing import get_context
from multiprocessing.synchronize import Event
from random import Random

from board.planning.doors import same_mode
from board.planning.problem import Assignment, Placed, Problem, points
from board.planning.run import Run
from board.planning.search.progress import Stop
from board.planning.search.recreate import recreated
from board.planning.search.rounds import Budget
from board.planning.search.sound import is_sound

# Of fewer parts, or for fewer seconds, starting a second process takes longer than it saves.
_APART_LEAST, APART_SECONDS = 150, 6.0
# Seconds of work between two drawings of the halves: at most, and as a share of all there are.
_WHILE_MOST, _WHILE_SHARE = 4.0, 0.25


@dataclass(frozen=True)
class _Outline:
    """A plan in a few numbers: for each part on some pits its mode by number, start and rest; their fires."""

    placed: dict[str, tuple[int, int, int]]
    runs: dict[str, tuple[Run, ...]]


@dataclass(frozen=True)
class _Half:
    """What one process is asked: the plan, the pits it may touch, for how long, and its draw.

    Of the parts left out it has those that are `its`, so that no part finds a place on both halves.
    """

    plan: _Outline
    pits: frozenset[str]
    its: frozenset[str]
    seconds: float
    seed: int


Ask = Callable[[tuple[_Half, _Half], Budget], list[_Outline]]


@dataclass
class _Known:
    """What a second process works on, and what tells it to stop."""

    problem: Problem
    stop: Event


_known: list[_Known] = []


def is_large(problem: Problem) -> bool:
    """Whether a house has so many loads that it is searched in two processes, and once."""
    return len(problem.parts) >= _APART_LEAST


def recreated_apart(
    problem: Problem, plan: Assignment, budget: Budget, tell: Callable[[float], None]
) -> Assignment:
    """The plan after as much work as the budget allows in each of two processes; never a dearer one."""
    random, left = Random(budget.seed), budget.seconds
    with _second_process(problem) as ask:
        while left > 0 and not budget.stopped:
            seconds = min(_WHILE_MOST, budget.seconds * _WHILE_SHARE, left)
            left -= seconds
            halves = _halved(problem, plan, random, seconds)
            found = _better(problem, plan, list(zip(halves, ask(halves, budget), strict=True)))
            if points(problem, found) < points(problem, plan):
                plan = found
                tell(points(problem, plan))
    return plan


def _halved(problem: Problem, plan: Assignment, random: Random, seconds: float) -> tuple[_Half, _Half]:
    pits = list(problem.frame.pits)
    random.shuffle(pits)
    middle, outline = len(pits) // 2, _outline(problem, plan, set(pits))
    out = [part.id for part in problem.parts if part.id not in plan.placed]

    def half(mine: list[str], its: list[str]) -> _Half:
        return _Half(outline, frozenset(mine), frozenset(its), seconds, random.randrange(2**31))

    return half(pits[:middle], out[::2]), half(pits[middle:], out[1::2])


def _better(problem: Problem, plan: Assignment, found: Sequence[tuple[_Half, _Outline]]) -> Assignment:
    """The plan with both halves in it, or with the better one."""
    both = plan
    for half, outline in found:
        both = _with(problem, both, half.pits, outline)
    if is_sound(problem, both):
        return both
    each = (_with(problem, plan, half.pits, outline) for half, outline in found)
    return min(each, key=lambda one: points(problem, one))


def _searched(problem: Problem, half: _Half, stop: Stop) -> _Outline:
    """What placing loads again leads to on one half of the pits."""
    known = half.plan.placed.keys() | half.its
    ours = replace(problem, parts=tuple(part for part in problem.parts if part.id in known))
    plan = Assignment(_placed(problem, half.plan), half.plan.runs)
    better = recreated(ours, plan, Budget(half.seconds, half.seed, stop), lambda _: None, half.pits)
    return _outline(ours, better, half.pits)


@contextmanager
def _second_process(problem: Problem) -> Iterator[Ask]:
    """How to have two halves searched: the first here, the second in a process of its own."""
    spawn = get_context("spawn")
    stop = spawn.Event()
    # without what the frame has worked out so far, which is many times larger
    bare = replace(problem, frame=replace(problem.frame))

    def ask(halves: tuple[_Half, _Half], budget: Budget) -> list[_Outline]:
        def stopped() -> bool:
            if budget.stopped:
                stop.set()
            return stop.is_set()

        try:
            beside = pool.submit(_search_known, halves[1])
            return [_searched(problem, halves[0], stopped), beside.result()]
        except BrokenExecutor:  # the machine had no room for a second process, or ended it
            return [_searched(problem, half, stopped) for half in halves]

    with ProcessPoolExecutor(1, mp_context=spawn, initializer=_know, initargs=(bare, stop)) as pool:
        yield ask


def _know(problem: Problem, stop: Event) -> None:
    _known[:] = [_Known(problem, stop)]


def _search_known(half: _Half) -> _Outline:
    (known,) = _known
    return _searched(known.problem, half, known.stop.is_set)


def _with(problem: Problem, plan: Assignment, pits: Set[str], outline: _Outline) -> Assignment:
    """The plan with what an outline says of these pits in place of what was there."""
    others = {key: at for key, at in plan.placed.items() if at.mode.pit not in pits}
    return Assignment({**others, **_placed(problem, outline)}, {**plan.runs, **outline.runs})


def _outline(problem: Problem, plan: Assignment, pits: Set[str]) -> _Outline:
    placed = {}
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is not None and at.mode.pit in pits:
            number = next(i for i, mode in enumerate(part.modes) if same_mode(mode, at.mode))
            placed[part.id] = number, at.start, at.rest
    return _Outline(placed, {pit: plan.runs[pit] for pit in plan.runs if pit in pits})


def _placed(problem: Problem, outline: _Outline) -> dict[str, Placed]:
    by_id = {part.id: part for part in problem.parts}
    return {
        key: Placed(by_id[key].modes[number], start, rest)
        for key, (number, start, rest) in outline.placed.items()
    }
