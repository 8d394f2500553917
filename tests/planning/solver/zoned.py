"""Drawn problems in zones: pits of two levels, and meat that stands on them while others are placed."""

from dataclasses import replace

from hypothesis import strategies as st

from board.planning.problem import Assignment, Kept
from tests.planning.by_hand import written
from tests.planning.search.drawn import turned
from tests.planning.test_any_house import CREWS, HOLDS, PITS, rows_of
from tests.planning.test_bound import problem_of

ASKED = st.fixed_dictionaries(
    {
        ("lunch", "sliced"): st.sampled_from([0, 20, 60]),
        ("lunch", "bird"): st.sampled_from([14, 40]),
        ("supper", "bird"): st.sampled_from([0, 12]),
    }
)
ZONED = st.tuples(PITS, CREWS, HOLDS, ASKED, st.randoms(use_true_random=False))
LEVELS = """
[[p{number}.zone]]
id = "rack"
area = "{half} m2"
level = 1
[[p{number}.zone]]
id = "floor"
area = "{half} m2"
"""


def problem_zoned(folder, drawn):
    """The problem of a drawn house of two levels: some parts kept, one pinned, some modes that turn.

    A bird or other meat stands on each zone for half of the time, in no room that is counted.
    """
    pits, crew, holds, asked, chance = drawn
    rows = "".join(
        rows_of([pit]).replace("[p0", f"[p{i}") + LEVELS.format(number=i, half=pit["area"] / 2)
        for i, pit in enumerate(pits[:2])
    )
    problem = problem_of(written(folder, pits=rows, crew=crew, holds=holds), asked)
    parts = [turned(part, problem, chance) for part in problem.parts]
    parts = [_kept(part, chance, pinned=i == 0) for i, part in enumerate(parts)]
    stands = {spot: (_stay(problem, chance),) for spot in problem.frame.spots}
    birds = {spot: stay for spot, stay in stands.items() if chance.random() < 1 / 2}
    others = {spot: stay for spot, stay in stands.items() if spot not in birds}
    taken = replace(problem.frame.taken, birds=birds, others=others)
    return replace(problem, parts=tuple(parts), frame=replace(problem.frame, taken=taken))


def held_to(problem, plan: Assignment):
    """The problem in which each part has no other place and start than a plan gives it."""
    parts = []
    for part in problem.parts:
        at = plan.placed.get(part.id)
        modes = () if at is None else (replace(at.mode, starts=(at.start,)),)
        parts.append(replace(part, modes=modes))
    return replace(problem, parts=tuple(parts))


def _stay(problem, chance):
    half = problem.frame.grid.slots // 2
    begin = chance.randrange(half)
    return begin, begin + half, 0


def _kept(part, chance, *, pinned):
    modes = [mode for mode in part.modes if mode.starts]
    if not modes or (not pinned and chance.random() < 2 / 3):
        return part
    mode = chance.choice(modes)
    start = chance.choice(mode.starts)
    kept = Kept(mode.pit, mode.setpoint_c, start, spot=mode.spot)
    if not pinned:
        return replace(part, kept=kept)
    return replace(part, kept=kept, pinned=True, modes=(replace(mode, starts=(start,)),))
