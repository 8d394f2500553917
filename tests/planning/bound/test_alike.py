"""Parts are gathered into one column only where nothing that costs sets them apart."""

from dataclasses import replace

from board.planning.bound.alike import batches
from tests.planning.planted import planted
from tests.planning.test_bound import problem_of


def test_parts_that_wait_at_another_cost_are_not_alike(two_fires):
    """Of three equal loads, the one whose waiting costs something stands alone."""
    problem, _ = planted(problem_of(two_fires, {("supper", "bird"): 0}), 1, 0)
    part = problem.parts[0]
    alike = replace(problem, parts=(part, part, replace(part, wait_points=7.0)))
    assert [batch.members for batch in batches(alike)] == [(0, 1), (2,)]
