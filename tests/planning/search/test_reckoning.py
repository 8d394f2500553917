"""A first plan that expects its doors, told as soon as it is there, and a search that ends when asked."""

from dataclasses import replace
from functools import partial

from board.planning.doors import foreseen
from board.planning.problem import Assignment, Part, Placed, off_slot, on_slot, points, tasks
from board.planning.reckoning import put_right, settle_as_reckoned
from board.planning.search.insertion import insertion
from board.planning.search.settle import settle
from tests.bench.planning.houses import house_of, problem_of

SETTLE = partial(settle, seed=0)


def _drawn(seed: int):
    return problem_of(*house_of("small", seed))


def _shown(problem, plan: Assignment) -> dict[str, tuple[int, int]]:
    """Of each placed part: openings for other meat while it cooks, and openings it is timed for."""
    here: list[tuple[Part, Placed]] = [(p, plan.placed[p.id]) for p in problem.parts if p.id in plan.placed]
    found = {}
    for part, at in here:
        others = [o for o in here if o[0] is not part and o[1].mode.pit == at.mode.pit]
        slots = {task.begin for other in others for task in tasks(*other)}
        seen = sum(on_slot(part, at) <= slot < off_slot(part, at) for slot in slots)
        found[part.id] = seen, at.mode.openings
    return found


def test_a_plan_without_search_is_timed_for_every_opening_it_shows():
    """No load meets more openings than its cook was lengthened for."""
    for seed in (1, 2, 3):
        answer = settle_as_reckoned(_drawn(seed), SETTLE, seconds=0.0)
        shown = _shown(answer.problem, answer.solution)
        assert any(seen for seen, _ in shown.values())
        assert all(seen <= timed for seen, timed in shown.values())


def test_a_plan_that_expects_its_doors_is_cheaper_than_one_put_right_afterwards():
    """On drawn houses with doors, placing with openings foreseen costs less in sum than lengthening later."""
    before = after = 0.0
    for seed in (1, 2, 3):
        problem = _drawn(seed)
        blind = settle(problem, seconds=0.0, seed=0)
        before += points(*put_right(blind.problem, blind.solution))
        answer = settle_as_reckoned(problem, SETTLE, seconds=0.0)
        after += points(answer.problem, answer.solution)
    assert after < before


def test_openings_are_foreseen_on_pits_where_a_part_is_not():
    """A part is timed for the doors of a busy pit before it is ever placed there."""
    problem = _drawn(1)
    plan = insertion(problem)
    after = foreseen(problem, plan)
    elsewhere = [
        mode.openings
        for part in after.parts
        for mode in part.modes
        if part.id in plan.placed and mode.pit != plan.placed[part.id].mode.pit
    ]
    assert any(elsewhere)
    assert foreseen(after, Assignment({}, {})) is after


def test_the_first_plan_is_told_before_any_search_and_is_what_stopping_gives():
    """Whoever stops at once gets the plan that was told first, at its cost."""
    told = []
    answer = settle_as_reckoned(_drawn(2), SETTLE, seconds=5.0, progress=told.append, stop=lambda: True)
    assert [progress.cost for progress in told] == [points(answer.problem, answer.solution)]


def test_a_search_that_is_stopped_is_not_searched_again():
    """After a stop during the search no further round begins, and the plan is still right."""
    rounds = []

    def search(problem, *, seconds, hint=None, progress=None, stop=None):
        if seconds > 0:
            rounds.append(seconds)
        answer = settle(problem, seconds=0.0, seed=0, hint=hint)
        # a plan that shows nothing it was timed for, so that another round would be asked for
        return replace(answer, problem=_drawn(3), solution=insertion(_drawn(3))) if seconds > 0 else answer

    answer = settle_as_reckoned(_drawn(3), search, seconds=5.0, stop=lambda: bool(rounds))
    assert len(rounds) == 1
    assert all(seen <= timed for seen, timed in _shown(answer.problem, answer.solution).values())
