"""One load for several serving times: each is told what it gets, and nothing is told twice."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from board.house.spans import TimeSpan
from board.planning.plan import Occasion, Plan, PlannedLoad
from board.views.allotted import allotted

NOON = datetime(2026, 6, 10, 12, tzinfo=UTC)
OCCASIONS = tuple(
    Occasion(f"s{n}", "service", NOON + timedelta(hours=n), NOON + timedelta(hours=n + 1), {})
    for n in range(4)
)


def load(id, portions, services):
    """A load of birds for some of the services."""
    at = min(o.at for o in OCCASIONS if o.id in services)
    span = TimeSpan(at, at, at)
    return PlannedLoad(
        id, "chicken-half", "bird", portions, 1.0, "box", 135.0, at, at, None, span, span, at,
        tuple(services), portions, 0.1, 5.0, 0.0, 0.0, 0.9,
    )  # fmt: skip


NAMES = [occasion.id for occasion in OCCASIONS]
PLAN = Plan("h", date(2026, 6, 10), "UTC", "good", 0.0, 0.0, (), (), (), (), OCCASIONS)


def shared(loads, wanted):
    """What falls to whom."""
    return allotted(replace(PLAN, loads=tuple(loads)), "bird", lambda ld: ld.portions, wanted)


def test_what_lunch_leaves_goes_to_the_order_after_it():
    """94 portions for lunch's 75 and an order's 40: 75 and 19, and the order's own load brings the rest."""
    found = shared([load("a", 94, ["s0", "s1"]), load("b", 30, ["s1"])], {"s0": 75, "s1": 40})
    assert found == {("a", "s0"): 75, ("a", "s1"): 19, ("b", "s1"): 30}


def test_a_load_for_one_service_is_all_its_own():
    """More than was promised is told as more."""
    assert shared([load("a", 30, ["s2"])], {"s2": 12}) == {("a", "s2"): 30}


@given(
    st.lists(st.tuples(st.integers(0, 90), st.sets(st.sampled_from(NAMES), min_size=1)), max_size=6),
    st.fixed_dictionaries({name: st.integers(0, 90) for name in NAMES}),
)
def test_every_portion_falls_to_one_service(given_loads, wanted):
    """What the services get of a load is what it has."""
    loads = [load(f"l{n}", portions, services) for n, (portions, services) in enumerate(given_loads)]
    found = shared(loads, wanted)
    for one in loads:
        assert sum(n for (id, _), n in found.items() if id == one.id) == one.portions
        assert {service for id, service in found if id == one.id} == set(one.services)
