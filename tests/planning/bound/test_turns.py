"""A change of setpoint with the meat on: no bound passes what is proved best with it."""

from dataclasses import replace

import pytest
from hypothesis import given

from board.planning.bound.buckets import bucket_bound
from board.planning.problem import Turn
from tests.planning.bound.tiny import DRAW, DRAWN, bounds_of, proved_least, tiny
from tests.planning.planted import WINDOW, planted
from tests.planning.search.drawn import turned
from tests.planning.test_bound import problem_of


@DRAW
@given(DRAWN)
def test_with_turns_no_bound_passes_the_proof(tmp_path_factory, drawn):
    """A way to cook in three turns its pit as well, at some moment of the cook."""
    problem = tiny(tmp_path_factory.mktemp("turns"), drawn)
    parts = tuple(turned(part, problem, drawn[4]) for part in problem.parts)
    problem = replace(problem, parts=parts)
    assert max(bounds_of(problem)) <= proved_least(problem) + 1e-6


@DRAW
@given(DRAWN)
def test_where_every_load_turns_its_pit_no_bound_passes_the_proof(tmp_path_factory, drawn):
    """Loads on one pit turn it at the same moment or lie apart, which a bound need not know."""
    problem = tiny(tmp_path_factory.mktemp("all"), drawn)
    parts = tuple(_only_turning(turned(part, problem, drawn[4])) for part in problem.parts)
    problem = replace(problem, parts=parts)
    assert max(bounds_of(problem)) <= proved_least(problem) + 1e-6


def _only_turning(part):
    """The part with its ways that turn the pit only, where it has any."""
    return replace(part, modes=tuple(mode for mode in part.modes if mode.turn) or part.modes)


@pytest.mark.parametrize("pits", [1, 2])
def test_a_turn_costs_a_change_over_and_no_fire_more(two_fires, pits):
    """By hand: pits filled and turned at one moment cost the planted fires and a change each."""
    template = problem_of(two_fires, {("lunch", "sliced"): 0, ("supper", "bird"): 0})
    problem, best = planted(template, pits, 0)
    turn = Turn(5 * WINDOW, problem.parts[0].modes[0].setpoint_c + 20)
    parts = [
        replace(part, modes=tuple(replace(mode, turn=turn) for mode in part.modes)) for part in problem.parts
    ]
    problem = replace(problem, parts=tuple(parts))
    by_hand = best + pits * problem.frame.weights.change_over
    assert proved_least(problem) == pytest.approx(by_hand)
    assert bucket_bound(problem, 1) == pytest.approx(by_hand, rel=1e-6)
