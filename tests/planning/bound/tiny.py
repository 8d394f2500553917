"""Drawn problems of at most three parts and few starts, small enough for the solver to prove its plan."""

from dataclasses import replace

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st

from board.planning.bound.buckets import bucket_bound, whole_bound
from board.planning.bound.rising import rising_bounds
from board.planning.problem import Kept, points
from board.planning.solver.solve import solve
from tests.planning.by_hand import written
from tests.planning.test_any_house import CREWS, HOLDS, PITS, rows_of
from tests.planning.test_bound import problem_of

ASKED = st.fixed_dictionaries(
    {
        ("lunch", "sliced"): st.sampled_from([0, 20, 60]),
        ("lunch", "bird"): st.sampled_from([0, 14, 40]),
        ("supper", "bird"): st.sampled_from([0, 12]),
    }
).filter(lambda portions: any(portions.values()))
DRAWN = st.tuples(PITS, CREWS, HOLDS, ASKED, st.randoms(use_true_random=False), st.sampled_from([0.4, 1.0]))
DRAW = settings(
    max_examples=10,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)


def tiny(folder, drawn):
    """The problem of a drawn house on two pits at most, made small."""
    pits, crew, holds, asked, chance, room = drawn
    problem = problem_of(written(folder, pits=rows_of(pits[:2]), crew=crew, holds=holds), asked)
    return small(problem, chance, room)


def small(problem, chance, room):
    """The problem with at most three parts and few of their starts; one part in four is kept somewhere.

    Bench and hold have room for the largest part, or for a share of them all where that is more.
    """
    parts = tuple(few(part, chance) for part in problem.parts[:3])
    areas = [part.area_cm2 for part in parts]
    share = max([*areas, round(sum(areas) * room)])
    return replace(problem, frame=replace(problem.frame, bench_cm2=share, hold_cm2=share), parts=parts)


def few(part, chance):
    """The part with two modes and four starts of each at most; one in four is kept at one of them."""
    modes = [mode for mode in part.modes if mode.starts]
    modes = chance.sample(modes, min(2, len(modes)))
    fewer = [replace(m, starts=tuple(sorted(chance.sample(m.starts, min(4, len(m.starts)))))) for m in modes]
    if fewer and not part.pinned and chance.random() < 1 / 4:
        mode = chance.choice(fewer)
        part = replace(part, kept=Kept(mode.pit, mode.setpoint_c, chance.choice(mode.starts)))
    return replace(part, modes=tuple(fewer))


def bounds_of(problem):
    """Bounds of every kind, coarse and fine, in part and whole."""
    found = [bucket_bound(problem, bucket) for bucket in (1, 2, 5)]
    return [*found, whole_bound(problem, 7, seed=0), *rising_bounds(problem, seed=0)]


def proved_least(problem):
    """The points of the plan that the solver proves the best, to the tenths it rounds to."""
    found = solve(problem, None, seconds=10, seed=0)
    assert found.proved
    return points(problem, found.solution)
