"""The bound of a house with many alike pits is of all its plans, not only of those on the pits offered."""

from dataclasses import replace

import pytest

from board.planning import offered
from board.planning.bound import kinds
from board.planning.bound.buckets import bucket_bound
from board.planning.offered import pits_offered
from board.planning.problem import points
from board.planning.search.insertion import insertion
from board.planning.search.settle import settle
from tests.bench.planning.houses import problem_of
from tests.planning.generator import DAY, random_house
from tests.planning.generator.sizes import Size
from tests.planning.test_bound import problem_of as problem_on


@pytest.fixture
def both(monkeypatch):
    """The same day of a house of 20 pits, with each part offered all of them and a few of them."""

    def built(alike_most):
        for module in (offered, kinds):
            monkeypatch.setattr(module, "ALIKE_MOST", alike_most)
        monkeypatch.setattr(offered, "STRETCH", 2)
        return problem_of(random_house(Size(20, 30, 4, 4), 3), DAY)

    return built


@pytest.mark.parametrize("bucket", [12, 6])
def test_offering_a_part_fewer_pits_leaves_the_bound_as_it_is(both, bucket):
    """The program has a pit of each kind and how many there are, whichever of them each part was offered."""
    every = bucket_bound(both(100), bucket)
    few = both(3)
    assert max(len({mode.pit for mode in part.modes}) for part in few.parts) < 20
    assert bucket_bound(few, bucket) == pytest.approx(every, rel=1e-5)  # the solver's own tolerance
    assert every <= points(few, insertion(few))


def test_a_house_without_many_alike_pits_is_as_it_was(both):
    """Nothing is gathered where each part is offered every pit."""
    problem = both(100)
    assert kinds.gathered(problem) == (problem, {})


def test_what_is_best_on_the_pits_offered_is_not_told_as_proved(two_fires):
    """Two loads of birds have room on one of forty alike pits, but were offered pits of two stretches.

    So the best plan of what was offered lights two fires, and the bound knows of one that lights one.
    """
    box = two_fires.pits["box"]
    house = replace(two_fires, pits={f"box{i}": replace(box, id=f"box{i}") for i in range(40)})
    problem = problem_on(house, {("lunch", "sliced"): 0, ("lunch", "bird"): 14, ("supper", "bird"): 0})
    one, other = (pits_offered(problem.frame, part.id) for part in problem.parts)
    assert not set(one) & set(other)
    assert sum(part.area_cm2 for part in problem.parts) < problem.frame.pits["box0"].area_cm2
    answer = settle(problem, seconds=2, seed=0)
    assert not answer.proved
    assert answer.bound < points(answer.problem, answer.solution) - problem.frame.weights.lighting
