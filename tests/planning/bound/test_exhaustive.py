"""On tiny problems the solver's proof is the best of everything tried, and no bound passes it."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from board.planning.bound.buckets import bucket_bound, whole_bound
from board.planning.bound.rising import lower_bound
from board.planning.problem import Kept, points
from board.planning.solver.solve import solve
from tests.planning.by_hand import written
from tests.planning.exhaustive import best
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


def tiny(folder, drawn):
    """The problem of a drawn house with at most three parts on two pits, and few of their starts.

    Areas of bench and hold are cut, so that they often bind; one part in four is kept somewhere.
    """
    pits, crew, holds, asked, chance, room = drawn
    problem = problem_of(written(folder, pits=rows_of(pits[:2]), crew=crew, holds=holds), asked)
    parts = tuple(_few(part, chance) for part in problem.parts[:3])
    frame = replace(
        problem.frame,
        bench_cm2=int(problem.frame.bench_cm2 * room),
        hold_cm2=int(problem.frame.hold_cm2 * room),
    )
    return replace(problem, frame=frame, parts=parts)


def _few(part, chance):
    modes = [mode for mode in part.modes if mode.starts]
    modes = chance.sample(modes, min(2, len(modes)))
    few = [replace(m, starts=tuple(sorted(chance.sample(m.starts, min(4, len(m.starts)))))) for m in modes]
    if few and chance.random() < 1 / 4:
        mode = chance.choice(few)
        part = replace(part, kept=Kept(mode.pit, mode.setpoint_c, chance.choice(mode.starts)))
    return replace(part, modes=tuple(few))


@settings(
    max_examples=10,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)
@given(DRAWN)
def test_the_proof_is_the_best_of_everything_tried(tmp_path_factory, drawn):
    """Trying every plan finds what the solver proves; bounds of every kind lie no higher."""
    problem = tiny(tmp_path_factory.mktemp("tiny"), drawn)
    least = best(problem)
    found = solve(problem, None, seconds=10, seed=0)
    assert found.proved
    assert points(problem, found.solution) == pytest.approx(least, abs=0.5)
    bounds = [bucket_bound(problem, bucket) for bucket in (1, 2, 5, 12)]
    bounds += [whole_bound(problem, bucket, seed=0) for bucket in (6, 12)]
    assert lower_bound(problem) in bounds
    assert max(bounds) <= least + 1e-6
