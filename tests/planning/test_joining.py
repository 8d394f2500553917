"""One load for several waves, pieces carried from one service to the next: what may be gathered, and how."""

from dataclasses import replace
from datetime import time, timedelta

from hypothesis import given
from hypothesis import strategies as st

from board.house.model import Recurrence, Service
from board.planning.demand import needs_of
from board.planning.dues import dues_on, occasions_on
from board.planning.joining import gatherings, reach, reaches
from board.planning.parts import shares_of
from tests.planning.conftest import DAY


def day_of(house, promises, each=1.0, hold=80.0):
    """The house with birds due at whole hours from 09:00, pieces of so many portions that keep so long."""
    services = {
        f"s{hour}": Service(f"s{hour}", "service", Recurrence(DAY, time(hour), 60), {"bird": n})
        for hour, n in promises.items()
    }
    cuts = house.cuts | {"chicken-half": replace(house.cuts["chicken-half"], hold_longest_minutes=hold)}
    items = house.items | {"bird": replace(house.items["bird"], portions_a_piece=each)}
    return replace(house, services=services, items=items, cuts=cuts)


def found(house, enough=0.7):
    """What the house needs that day, and the other ways to gather it."""
    needs = needs_of(house, occasions_on(house, DAY), enough)
    return needs, gatherings(house, needs, enough)


def hours(gathering):
    """The services one gathered need is for."""
    return [due.occasion.id for due in gathering.instead[0].serves]


def test_a_load_waits_for_the_next_wave_but_not_for_the_one_after(two_fires):
    """Birds that keep 80 min, less 10 for rounding, reach an hour and not two."""
    _, others = found(day_of(two_fires, {11: 6, 12: 6, 13: 6}))
    assert [hours(g) for g in others] == [["s11", "s12"], ["s12", "s13"]]
    assert all(g.instead[0].pieces == 12 and g.instead[0].cuts == () for g in others)


def test_a_longer_hold_feeds_lunch_and_supper_from_one_load(two_fires):
    """With a hold of 7 h, six hours between 11:00 and 17:00 are within reach; with 6 h they are not."""
    house = day_of(two_fires, {11: 6, 17: 6}, hold=420.0)
    assert [hours(g) for g in found(house)[1]] == [["s11", "s17"]]
    assert found(day_of(two_fires, {11: 6, 17: 6}, hold=360.0))[1] == ()


def test_what_a_piece_has_over_goes_to_the_next_service(two_fires):
    """5 and 5 portions of pieces that give 4: two and two apart, but three in all.

    Lunch must have two pieces and gets 8 portions in all, of which by the count of 10 in 3 pieces 6 are
    due: 5 for itself and one for the next. The third piece gives the other four.
    """
    needs, others = found(day_of(two_fires, {11: 5, 12: 5}, each=4.0))
    assert [need.pieces for need in needs] == [2, 2]
    carried = [g.instead[0] for g in others if g.instead[0].cuts]
    assert [(need.pieces, need.cuts) for need in carried] == [(3, (2,))]
    shares = shares_of(carried[0], list(two_fires.pits.values()))
    due = [[(d.occasion.id, d.portions) for d in share.serves] for share in shares]
    assert due == [[("s11", 5), ("s12", 1)], [("s12", 4)]]


def test_nothing_is_carried_where_no_piece_is_saved(two_fires):
    """Birds sold one by one leave nothing over."""
    _, others = found(day_of(two_fires, {11: 5, 12: 5}))
    assert [g.instead[0].cuts for g in others] == [()]


def test_briskets_for_two_services_are_fewer_together(two_fires):
    """40 and 40 of a brisket's 17.5 portions: three and three apart, 5 together (80 / 17.5 = 4.6)."""
    lunch = replace(two_fires.services["lunch"], promises={"sliced": 40})
    supper = replace(two_fires.services["supper"], promises={"sliced": 40})
    house = replace(two_fires, services={"lunch": lunch, "supper": supper})
    needs, others = found(house)
    assert [need.pieces for need in needs] == [3, 3]
    assert {g.instead[0].pieces for g in others} == {5}


PROMISES = st.dictionaries(st.integers(9, 20), st.integers(1, 60), min_size=2, max_size=6)


@given(PROMISES, st.floats(0.5, 12), st.floats(20, 600))
def test_gathering_changes_no_portion_and_outlasts_no_hold(two_fires, promises, each, hold):
    """Each way serves exactly what its needs were due for, in whole pieces, no more than apart.

    No load of it is ever due for something later than its hold reaches, however the pits make it smaller.
    """
    house = day_of(two_fires, promises, each, hold)
    due = {d.occasion.id: d.portions for d in dues_on(house, occasions_on(house, DAY))["bird"]}
    for g in found(house)[1]:
        assert [d for need in g.of for d in need.serves] == list(g.instead[0].serves)
        assert g.instead[0].pieces <= sum(need.pieces for need in g.of)
        assert reaches(g.instead[0])
        shares = shares_of(g.instead[0], list(house.pits.values()))
        assert sum(share.pieces for share in shares) == g.instead[0].pieces
        got: dict[str, int] = {}
        for share in shares:
            assert share.last.at - share.first.at <= reach(g.instead[0].cut) <= timedelta(minutes=hold)
            for d in share.serves:
                got[d.occasion.id] = got.get(d.occasion.id, 0) + d.portions
        assert {k: n for k, n in got.items() if n} == {
            d.occasion.id: due[d.occasion.id] for d in g.instead[0].serves
        }


@given(PROMISES, st.floats(0.5, 12))
def test_each_moment_has_enough_when_it_comes(two_fires, promises, each):
    """Carried pieces: the loads up to any moment give at least all that is due by then."""
    house = day_of(two_fires, promises, each, 1000.0)
    for need in (g.instead[0] for g in found(house)[1] if g.instead[0].cuts):
        shares = shares_of(need, list(house.pits.values()))
        for due in need.serves:
            ready = sum(share.portions for share in shares if share.first.at <= due.at)
            assert ready >= sum(d.portions for d in need.serves if d.at <= due.at)
