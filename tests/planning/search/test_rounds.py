"""Searched a few fires at a time a plan is never dearer, always sound, the same again, and can be stopped."""

from random import Random

import pytest
from hypothesis import given

from board.planning.problem import points
from board.planning.search.freed import hearths, hint_for, joined, part_problem
from board.planning.search.insertion import insertion
from board.planning.search.neighbours import FIRES_MOST, PARTS_MOST, neighbourhood
from board.planning.search.rounds import Budget, bettered
from board.planning.search.settle import settle
from board.planning.search.sound import is_sound
from board.planning.search.tidy import tidy
from board.planning.solver.solve import solve
from tests.planning.search.drawn import DRAWN, problem_drawn
from tests.planning.search.test_insertion import DRAW
from tests.planning.test_bound import problem_of

BUSY = {("lunch", "sliced"): 110, ("lunch", "bird"): 40, ("supper", "bird"): 30}


@DRAW
@given(DRAWN)
def test_rounds_never_make_a_plan_dearer_and_keep_every_limit(tmp_path_factory, drawn):
    """After two seconds of rounds a drawn day costs no more than before, and nothing is overdrawn."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    plan = insertion(problem)
    told = []
    better = bettered(problem, plan, Budget(2.0, seed=0), told.append)
    assert points(problem, better) <= points(problem, plan) + 0.5
    assert is_sound(problem, better)
    assert told == sorted(told, reverse=True)


def test_rounds_reach_the_proved_best(two_fires):
    """A day small enough for the whole search to prove its best: rounds alone end within a point of it."""
    problem = problem_of(two_fires, {})
    whole = solve(problem, insertion(problem), seconds=20, seed=0)
    assert whole.proved
    better = bettered(problem, insertion(problem), Budget(6.0, seed=0), lambda _: None)
    assert points(problem, better) == pytest.approx(points(problem, whole.solution), abs=1.0)


@DRAW
@given(DRAWN)
def test_freeing_and_joining_what_was_there_changes_nothing(tmp_path_factory, drawn):
    """A few fires taken out and put back as they were give the same plan, at the same points."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    plan = insertion(problem)
    freed = neighbourhood(problem, plan, Random(1))
    if freed is None:
        return
    part = part_problem(problem, plan, freed)
    again = hint_for(part, plan, freed)
    assert joined(problem, plan, freed, again) == plan
    assert is_sound(part, again)


@DRAW
@given(DRAWN)
def test_two_neighbourhoods_have_nothing_in_common(tmp_path_factory, drawn):
    """What is freed is no more than the exact search can do, and a second one keeps off the first's pits."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    plan, random = insertion(problem), Random(2)
    first = neighbourhood(problem, plan, random)
    second = first and neighbourhood(problem, plan, random, beside=first)
    for freed in (first, second):
        assert freed is None or len(freed.fires) <= FIRES_MOST
        assert freed is None or sum(p.id in plan.placed for p in freed.parts) <= PARTS_MOST
    if first and second:
        assert not first.pits & second.pits
        assert not {p.id for p in first.parts} & {p.id for p in second.parts}


@DRAW
@given(DRAWN)
def test_every_placed_part_is_in_one_fire(tmp_path_factory, drawn):
    """Fires from cold to cold share no part, and leave none of the plan's out."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    plan = insertion(problem)
    held = [part.id for fire in hearths(problem, plan) for part in fire.parts]
    assert sorted(held) == sorted(plan.placed)


@DRAW
@given(DRAWN)
def test_tidying_never_makes_a_plan_dearer_or_unsound(tmp_path_factory, drawn):
    """Fires cut to their meat and rests cut short cost no more, and keep every limit."""
    problem = problem_drawn(tmp_path_factory.mktemp("drawn"), drawn)
    plan = insertion(problem)
    assert is_sound(problem, plan)
    neat = tidy(problem, plan)
    assert points(problem, neat) <= points(problem, plan) + 1e-6
    assert is_sound(problem, neat)


def test_the_same_seed_gives_the_same_plan(two_fires):
    """Two searches of the same day with the same seconds and seed end in the same plan and bound."""
    problem = problem_of(two_fires, BUSY)
    first, again = (settle(problem, seconds=2, seed=3) for _ in range(2))
    assert first.solution == again.solution
    assert first.bound == again.bound


def test_rounds_with_the_same_seed_give_the_same_plan(two_fires):
    """Two threads or not: what the rounds lead to depends on the seed and the seconds alone."""
    problem = problem_of(two_fires, BUSY)
    first, again = (
        bettered(problem, insertion(problem), Budget(2.0, seed=3), lambda _: None) for _ in range(2)
    )
    assert first == again


def test_a_search_that_is_stopped_has_a_sound_plan(two_fires):
    """Stopped when asked the fourth time, an hour's search ends at once with the best plan it had."""
    problem = problem_of(two_fires, BUSY)
    asked = []

    def stop():
        asked.append(1)
        return len(asked) > 3

    answer = settle(problem, seconds=3600, seed=0, stop=stop)
    assert is_sound(answer.problem, answer.solution)
    assert points(answer.problem, answer.solution) <= points(problem, insertion(problem)) + 0.5


def test_what_is_told_never_gets_worse(two_fires):
    """Points told only fall and bounds only rise while one problem is searched, and the two never cross."""
    problem = problem_of(two_fires, {})
    told = []
    settle(problem, seconds=2, seed=0, progress=told.append)
    assert told[0].stage == "first plan"
    assert [p.cost for p in told] == sorted((p.cost for p in told), reverse=True)
    assert [p.bound for p in told] == sorted(p.bound for p in told)
    assert all(p.bound <= p.cost for p in told)
