"""One load for several waves or services: the cost of the plan decides."""

from dataclasses import replace

import pytest

from board.planning.build import build
from board.planning.demand import needs_of
from board.planning.dues import occasions_on
from board.planning.problem import points
from board.planning.search.gather import gather
from board.planning.search.insertion import insertion
from board.planning.weights import usual_weights
from tests.planning.conftest import DAY


@pytest.fixture(scope="module")
def in_waves(two_fires):
    """The house with its birds fresh every hour of lunch and of supper; they keep for two."""
    birds = replace(two_fires.items["bird"], fresh_minutes=60.0)
    cut = replace(two_fires.cuts["chicken-half"], hold_longest_minutes=120.0)
    return replace(
        two_fires, items={**two_fires.items, "bird": birds}, cuts={**two_fires.cuts, "chicken-half": cut}
    )


def planned(house, **weights):
    """The day's problem in waves and its first plan."""
    w = replace(usual_weights(), **weights)
    needs = needs_of(house, occasions_on(house, DAY), w.enough_chance)
    problem = build(house, needs, w, seed=0, now=None)
    return problem, insertion(problem)


def bird_loads(problem, plan):
    """How many loads of birds a plan has, and the portions due of them."""
    parts = [p for p in problem.parts if p.need.item == "bird" and p.id in plan.placed]
    return len(parts), sum(part.due for part in parts)


def test_waves_share_loads_where_waiting_is_free(in_waves):
    """Three waves at each of two services, a hold that reaches the next: fewer than six loads save hands.

    How sure each is costs nothing here: only hands, fires and waiting count.
    """
    problem, first = planned(in_waves, thin_portion_minute=0.0)
    assert bird_loads(problem, first) == (6, 26)
    gathered, plan = gather(problem, first)
    assert points(gathered, plan) < points(problem, first)
    loads, portions = bird_loads(gathered, plan)
    assert 4 <= loads < 6
    assert portions == 26


def test_waves_stay_apart_where_waiting_is_dear(in_waves):
    """At 100 points for each minute a portion waits, no saving of hands is worth the hold."""
    problem, first = planned(in_waves, hold_portion_minute=100.0, easy_hold_minutes=0.0)
    gathered, plan = gather(problem, first)
    assert bird_loads(gathered, plan) == (6, 26)


def test_what_was_gathered_is_parted_again_where_that_is_cheaper(in_waves):
    """Waves gathered, then told that waiting costs a fortune, are cooked apart again."""
    problem, plan = gather(*planned(in_waves))
    dear = replace(
        problem,
        parts=tuple(
            replace(part, wait_points=1e6) if len(part.share.serves) > 1 else part for part in problem.parts
        ),
    )
    parted, plan = gather(dear, plan)
    assert bird_loads(parted, plan) == (6, 26)


def test_gathering_an_oven_full_of_nothing_changes_nothing(two_fires):
    """Without another way to gather, the very problem and plan come back."""
    house = replace(two_fires, services={"lunch": two_fires.services["lunch"]})
    problem, first = planned(house)
    assert problem.gatherings == ()
    assert gather(problem, first) == (problem, first)
