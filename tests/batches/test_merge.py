"""Fewest makings of a recipe for all the loads it serves."""

from datetime import UTC, datetime, timedelta
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.merge import BatchDemand, fewest_makings, ready_and_use_by
from board.errors import BoardError
from board.house.model import Recipe, RecipeKind, Work

NOON = datetime(2026, 12, 9, 12, tzinfo=UTC)


def hours(n: float) -> datetime:
    """So many hours after noon."""
    return NOON + timedelta(hours=n)


def recipe(
    ready_after_h: float = 2, keeps_h: float = 10, make_minutes: float = 30, id: str = "brine"
) -> Recipe:
    """A recipe of which only the times matter."""
    return Recipe(id, id, RecipeKind.BRINE, (), 0.1, Work(make_minutes), 60 * ready_after_h, 60 * keeps_h)


def demand(load: str, at_h: float, kg: float = 1.0, id: str = "brine") -> BatchDemand:
    """A load's need at so many hours after noon."""
    return BatchDemand(id, load, kg, hours(at_h))


def test_two_near_uses_share_one_making():
    """Uses inside one keeping time come from a single making, as late as the first use allows."""
    (making,) = fewest_makings([demand("a", 5, 1.5), demand("b", 9, 2.0)], {"brine": recipe()})
    assert (making.kg, making.loads) == (3.5, ("a", "b"))
    assert (making.make_from, making.make_by) == (hours(-1), hours(3))
    assert (making.ready_from, making.use_by) == (hours(5), hours(13))


def test_far_uses_need_two_makings():
    """A use past the keeping time of the first making gets its own."""
    makings = fewest_makings([demand("a", 5), demand("b", 14)], {"brine": recipe()})
    assert [m.loads for m in makings] == [("a",), ("b",)]


def test_exactly_at_the_end_of_keeping_still_serves():
    """The keeping time includes its last moment."""
    assert len(fewest_makings([demand("a", 5), demand("b", 13)], {"brine": recipe()})) == 1


def test_recipes_are_never_mixed():
    """Each recipe is made on its own."""
    recipes = {"brine": recipe(), "rub": recipe(id="rub")}
    makings = fewest_makings([demand("a", 5), demand("a", 5, id="rub")], recipes)
    assert sorted(m.recipe for m in makings) == ["brine", "rub"]


def test_making_fits_whole_into_a_shift():
    """With shifts given, the making starts and ends inside one of them."""
    shifts = [(hours(-8), hours(-1)), (hours(2.75), hours(9))]
    (making,) = fewest_makings([demand("a", 5)], {"brine": recipe()}, shifts)
    assert making.staffed
    assert making.make_by == hours(-1)  # from 2:45 half an hour's work would end at 3:15, too late


def test_use_that_nobody_can_make_for_is_not_silent():
    """A use no shift allows still gets its making, marked as not staffed."""
    (making,) = fewest_makings([demand("a", 5)], {"brine": recipe()}, [(hours(4), hours(9))])
    assert (making.staffed, making.make_by) == (False, hours(3))


def test_recipe_that_spoils_before_it_is_ready_is_refused():
    """A recipe that keeps a shorter time than it takes to be ready can serve nothing."""
    with pytest.raises(BoardError, match="keeps 60 min"):
        fewest_makings([demand("a", 5)], {"brine": recipe(ready_after_h=2, keeps_h=1)})


def test_unknown_recipe_names_the_known_ones():
    """A demand for a recipe the house lacks says which it has."""
    with pytest.raises(BoardError, match="the recipes are brine"):
        fewest_makings([demand("a", 5, id="glaze")], {"brine": recipe()})


def brute_fewest(uses: list[int], ready: int, keeps: int, allowed: list[int]) -> int:
    """The least number of allowed whole-hour makings that serve every use, by trying all sets."""
    for size in range(len(uses) + 1):
        for ends in combinations(allowed, size):
            if all(any(m + ready <= u <= m + keeps for m in ends) for u in uses):
                return size
    raise AssertionError("each use alone can be served")


@given(
    uses=st.lists(st.integers(0, 24), min_size=1, max_size=6),
    ready=st.integers(0, 4),
    spare=st.integers(0, 8),
)
def test_as_few_as_trying_every_set(uses: list[int], ready: int, spare: int):
    """The greedy merge uses as few makings as the best of all sets of making times."""
    demands = [demand(str(n), u) for n, u in enumerate(uses)]
    makings = fewest_makings(demands, {"brine": recipe(ready, ready + spare)})
    best = brute_fewest(uses, ready, ready + spare, sorted({u - ready for u in uses}))
    assert len(makings) == best


@given(
    uses=st.lists(st.integers(0, 20), min_size=1, max_size=5),
    spare=st.integers(0, 6),
    shifts=st.lists(st.tuples(st.integers(-4, 18), st.integers(1, 4)), min_size=1, max_size=3),
)
def test_as_few_as_trying_every_set_inside_shifts(uses: list[int], spare: int, shifts: list[tuple[int, int]]):
    """Inside shifts too: as few makings as the best set of whole hours when someone is there."""
    windows = [(hours(start), hours(start + length)) for start, length in shifts]
    demands = [demand(str(n), u) for n, u in enumerate(uses)]
    makings = fewest_makings(demands, {"brine": recipe(1, 1 + spare, make_minutes=0)}, windows)
    allowed = sorted({h for start, length in shifts for h in range(start, start + length + 1)})
    served = [u for u in uses if any(m + 1 <= u <= m + 1 + spare for m in allowed)]
    assert sum(m.staffed for m in makings) == brute_fewest(served, 1, 1 + spare, allowed)


@given(
    uses=st.lists(st.tuples(st.integers(0, 96), st.floats(0.1, 20)), min_size=1, max_size=12),
    ready=st.floats(0, 12),
    spare=st.floats(0, 24),
)
def test_every_use_is_served_inside_its_window(uses, ready: float, spare: float):
    """Whatever the uses, each load lies between ready-from and use-by and no mass is lost."""
    demands = [demand(str(n), u, kg) for n, (u, kg) in enumerate(uses)]
    rule = recipe(ready, ready + spare)
    makings = fewest_makings(demands, {"brine": rule})
    at = {d.load_id: d.used_at for d in demands}
    assert sorted(load for m in makings for load in m.loads) == sorted(at)
    assert sum(m.kg for m in makings) == pytest.approx(sum(d.kg for d in demands))
    for making in makings:
        assert making.make_from <= making.make_by
        for made_at in (making.make_from, making.make_by):
            ready_from, use_by = ready_and_use_by(rule, made_at)
            slip = timedelta(microseconds=2)  # datetimes round fractions of a microsecond
            assert all(ready_from - slip <= at[load] <= use_by + slip for load in making.loads)


def partitions(things):
    """Every way to put things into groups."""
    if not things:
        yield []
        return
    first, *rest = things
    for groups in partitions(rest):
        yield [[first], *groups]
        for n, group in enumerate(groups):
            yield [*groups[:n], [first, *group], *groups[n + 1 :]]


def brute_fewest_of(uses: list[tuple[int, int]], ready: int, keeps: int, most_kg: int) -> int:
    """The fewest makings of `most_kg` at most that serve every use whole, by trying all groupings."""

    def one_making(group) -> bool:
        first, last = min(u for u, _ in group), max(u for u, _ in group)
        return sum(kg for _, kg in group) <= most_kg and last - keeps <= first - ready

    return min(len(groups) for groups in partitions(uses) if all(one_making(group) for group in groups))


def test_a_making_is_no_larger_than_its_pot():
    """What one pot cannot take together is made in several makings, each load's in one of them."""
    demands = [demand("a", 5, 6.0), demand("b", 6, 5.0), demand("c", 7, 4.0)]
    makings = fewest_makings(demands, {"brine": recipe()}, most_kg={"brine": 10.0})
    assert sorted(m.loads for m in makings) == [("a", "c"), ("b",)]
    assert all(m.kg <= 10.0 for m in makings)


def test_a_load_that_needs_more_than_a_pot_is_served_by_several_makings():
    """25 kg in a pot of 10 kg are three makings; the rest shares its pot with another load."""
    demands = [demand("a", 5, 25.0), demand("b", 6, 5.0)]
    makings = fewest_makings(demands, {"brine": recipe()}, most_kg={"brine": 10.0})
    assert sorted(m.kg for m in makings) == pytest.approx([10.0, 10.0, 10.0])
    taken = [kg for m in makings for load, kg in zip(m.loads, m.each_kg, strict=True) if load == "a"]
    assert sum(taken) == pytest.approx(25.0)


@given(
    uses=st.lists(st.tuples(st.integers(0, 16), st.integers(1, 9)), min_size=1, max_size=6),
    ready=st.integers(0, 3),
    spare=st.integers(0, 8),
    most_kg=st.integers(9, 25),
)
def test_with_pots_at_most_one_more_than_trying_every_grouping(uses, ready: int, spare: int, most_kg: int):
    """Packing is no exact rule: never fewer than can be, one more at most, and exact where no pot binds."""
    demands = [demand(str(n), u, float(kg)) for n, (u, kg) in enumerate(uses)]
    rule = {"brine": recipe(ready, ready + spare)}
    makings = fewest_makings(demands, rule, most_kg={"brine": float(most_kg)})
    best = brute_fewest_of(uses, ready, ready + spare, most_kg)
    assert best <= len(makings) <= best + 1
    without = fewest_makings(demands, rule)
    if all(m.kg <= most_kg for m in without):
        assert len(makings) == len(without) == best
    for making in makings:
        assert making.kg <= most_kg * (1 + 1e-6)
        assert sum(making.each_kg) == pytest.approx(making.kg)
    assert sorted(load for m in makings for load in m.loads) == sorted(d.load_id for d in demands)
