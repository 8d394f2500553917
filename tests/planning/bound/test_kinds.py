"""The bound of a house with many alike pits is of all its plans, not only of those on the pits offered."""

import pytest

from board.planning import offered
from board.planning.bound import kinds
from board.planning.bound.buckets import bucket_bound
from board.planning.problem import points
from board.planning.search.insertion import insertion
from tests.bench.planning.houses import problem_of
from tests.planning.generator import DAY, random_house
from tests.planning.generator.sizes import Size


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
