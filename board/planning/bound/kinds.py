"""Many alike pits as one: a house so large that each part is offered only some of them.

The bound is of every plan of the house, of those too in which a part is on an alike pit that it was not
offered. So each part may go to any pit of a kind it was offered one of, in every way it was offered there.
"""

from collections import Counter
from dataclasses import replace

from board.planning.bound.alike import mode_key
from board.planning.offered import ALIKE_MOST, first_alike
from board.planning.problem import Kept, Mode, Part, Problem


def gathered(problem: Problem) -> tuple[Problem, dict[str, int]]:
    """The problem with one pit for each large kind, and how many each stands for; itself without any."""
    frame = problem.frame
    first = first_alike(frame)
    count = Counter(first.values())
    stands_for = {pit: kind if count[kind] > ALIKE_MOST else pit for pit, kind in first.items()}
    if all(pit == kind for pit, kind in stands_for.items()):
        return problem, {}
    pits = {pit: room for pit, room in frame.pits.items() if stands_for[pit] == pit}
    parts = tuple(_gathered(part, stands_for) for part in problem.parts)
    large = {kind: n for kind, n in count.items() if n > ALIKE_MOST}
    return replace(problem, frame=replace(frame, pits=pits), parts=parts), large


def _gathered(part: Part, stands_for: dict[str, str]) -> Part:
    """A part with each way to cook it on a kind of pit once."""
    modes = (_at(mode, stands_for[mode.pit]) for mode in part.modes)
    once = {(mode.spot, mode_key(mode)): mode for mode in modes}
    return replace(part, modes=tuple(once.values()), kept=_kept(part.kept, stands_for))


def _at(mode: Mode, pit: str) -> Mode:
    return mode if mode.pit == pit else replace(mode, pit=pit, spot=pit + mode.spot.removeprefix(mode.pit))


def _kept(kept: Kept | None, stands_for: dict[str, str]) -> Kept | None:
    """A committed place on the pit that stands for its own; moving among them costs nothing then."""
    return kept and replace(kept, pit=stands_for[kept.pit])
