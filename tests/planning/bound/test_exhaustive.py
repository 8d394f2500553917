"""On tiny problems the solver's proof is the best of everything tried, and no bound passes it."""

from dataclasses import replace

import pytest
from hypothesis import given

from board.planning.bound.buckets import bucket_bound, whole_bound
from board.planning.bound.rising import lower_bound
from board.planning.problem import points
from board.planning.solver.solve import solve
from tests.planning.bound.tiny import DRAW, DRAWN, tiny
from tests.planning.exhaustive import best

# So many slots longer than the shortest may a part rest, as each is tried with each rest of the others.
RESTS = 2


@DRAW
@given(DRAWN)
def test_the_proof_is_the_best_of_everything_tried(tmp_path_factory, drawn):
    """Trying every plan finds what the solver proves; bounds of every kind lie no higher."""
    problem = tiny(tmp_path_factory.mktemp("tiny"), drawn)
    parts = tuple(replace(part, rest_max=min(part.rest_max, part.rest_min + RESTS)) for part in problem.parts)
    problem = replace(problem, parts=parts)
    least = best(problem)
    found = solve(problem, None, seconds=10, seed=0)
    assert found.proved
    assert points(problem, found.solution) == pytest.approx(least, abs=0.5)
    bounds = [bucket_bound(problem, bucket) for bucket in (1, 2, 5, 12)]
    bounds += [whole_bound(problem, bucket, seed=0) for bucket in (6, 12)]
    assert lower_bound(problem) in bounds
    assert max(bounds) <= least + 1e-6
