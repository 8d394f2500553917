"""Which pits a part is offered: few of many that are alike, some of every kind, and each pit to somebody."""

import pytest

from board.planning.offered import ALIKE_MOST, STRETCH, first_alike, pits_offered
from tests.bench.planning.houses import problem_of
from tests.planning.generator import DAY, random_house
from tests.planning.generator.sizes import Size


@pytest.fixture(scope="module")
def large():
    """A house of two hundred pits."""
    return problem_of(random_house(Size(200, 60, 10, 5), 1), DAY).frame


def test_a_part_is_offered_some_pits_of_every_kind(large):
    """All pits of a kind where they are few, a stretch of them where they are many."""
    first = first_alike(large)
    kinds = [{pit for pit in first if first[pit] == kind} for kind in set(first.values())]
    assert max(len(kind) for kind in kinds) > ALIKE_MOST
    for n in range(100):
        offered = set(pits_offered(large, f"lunch-ribs-{n}"))
        for kind in kinds:
            assert len(kind & offered) == (len(kind) if len(kind) <= ALIKE_MOST else STRETCH)


def test_every_pit_is_offered_to_some_part(large):
    """Stretches go all the way round, so that no pit stays cold for want of being looked at."""
    offered = {pit for n in range(2_000) for pit in pits_offered(large, f"part {n}")}
    assert offered == set(large.pits)


def test_the_same_part_is_offered_the_same_pits(large):
    """Asked again, by another search or another day's re-plan, the answer is the same."""
    assert pits_offered(large, "a") == pits_offered(large, "a")
    assert len({pits_offered(large, str(n)) for n in range(50)}) > 5


def test_modes_are_on_the_pits_offered_and_no_others():
    """A load of a large house can be cooked where it is offered a pit, and nowhere else."""
    problem = problem_of(random_house(Size(60, 40, 4, 5), 2), DAY)
    for part in problem.parts:
        assert {mode.pit for mode in part.modes} <= set(pits_offered(problem.frame, part.id))
