"""What is due when: services in waves, orders, and what loads under way have given already."""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.calendar import local
from board.house.model import Recurrence, Service
from board.house.orders import Order, OrderLine
from board.house.spans import TimeSpan
from board.planning.demand import needs_of
from board.planning.dues import dues_on, occasions_on
from board.planning.parts import cut_into, split
from board.planning.plan import PlannedLoad
from tests.planning.conftest import DAY


def served_at(house, start, minutes, fresh=None, every=None, birds=20):
    """The house with one service, whose birds come fresh at some times or every so often."""
    items = dict(house.items) | {"bird": replace(house.items["bird"], fresh_minutes=every)}
    fresh = {} if fresh is None else {"bird": fresh}
    rec = Recurrence(DAY, start, minutes)
    return replace(
        house, items=items, services={"lunch": Service("lunch", "lunch", rec, {"bird": birds}, None, fresh)}
    )


def clock(house, dues):
    """Each due's time of day and portions."""
    return [(local(due.at, house).strftime("%H:%M"), due.portions) for due in dues]


def birds_due(house, day=DAY):
    """What is due of birds on a day."""
    return dues_on(house, occasions_on(house, day)).get("bird", [])


def test_an_item_that_ages_comes_in_waves_through_a_service(two_fires):
    """20 birds from 11:00 for 3 h 30, fresh every hour: 5 at 11, 12, 13 and 14, the last half hour too."""
    house = served_at(two_fires, time(11), 210, every=60)
    assert clock(house, birds_due(house)) == [("11:00", 5), ("12:00", 5), ("13:00", 5), ("14:00", 5)]


def test_no_wave_is_cooked_for_the_last_few_minutes(two_fires):
    """Closing 20 minutes after 13:00, the house makes do with what it has."""
    house = served_at(two_fires, time(11), 140, every=60)
    assert clock(house, birds_due(house)) == [("11:00", 10), ("12:00", 10)]


def test_a_service_names_its_own_waves_and_the_first_takes_what_is_odd(two_fires):
    """Its times go before how often the item asks for."""
    house = served_at(two_fires, time(11), 180, fresh=(time(11, 30), time(13)), every=60, birds=7)
    assert clock(house, birds_due(house)) == [("11:30", 4), ("13:00", 3)]


def test_a_wave_after_midnight_is_of_the_same_service(two_fires):
    """A service from 23:00 for 3 h, fresh at 23:00 and 00:30 the next date."""
    house = served_at(two_fires, time(23), 180, fresh=(time(23), time(0, 30)))
    first, second = birds_due(house)
    assert second.at - first.at == timedelta(minutes=90)


def test_waves_stay_within_their_service_when_the_clock_changes(two_fires):
    """On 1 November 2026 in Chicago 01:30 comes twice: 4 h from 22:00 end the first 01:00 past midnight.

    Three hours of wall clock from 22:00 are three hours of true time, for 01:00 comes first.
    """
    house = served_at(two_fires, time(22), 240, fresh=(time(22), time(1)))
    house = replace(
        house,
        services={
            "lunch": replace(house.services["lunch"], when=Recurrence(date(2026, 10, 31), time(22), 240))
        },
    )
    first, second = birds_due(house, date(2026, 10, 31))
    assert second.at - first.at == timedelta(hours=3)
    assert second.at <= first.occasion.until


@given(st.integers(1, 300), st.integers(10, 600), st.integers(10, 240))
def test_waves_add_up_to_the_promise(two_fires, birds, minutes, every):
    """Whole portions, none lost, none outside the service, no wave two portions ahead of another."""
    house = served_at(two_fires, time(11), minutes, every=every, birds=birds)
    dues = birds_due(house)
    assert sum(due.portions for due in dues) == birds
    assert all(due.occasion.at <= due.at < due.occasion.until for due in dues)
    assert max(due.portions for due in dues) - min(due.portions for due in dues) <= 1
    assert len({due.at for due in dues}) == len(dues)


def load(at, portions, waves=(), services=("lunch",)):
    """A load of birds under way."""
    span = TimeSpan(at, at, at)
    return PlannedLoad(
        "x", "chicken-half", "bird", portions, 1.0, "box", 135.0, at, at, None, span, span, at,
        services, portions, 0.1, 5.0, 0.0, 0.0, 0.9, waves=waves,
    )  # fmt: skip


def test_a_load_under_way_gives_to_its_own_waves_first(two_fires):
    """The load for noon leaves the birds of 11:00 to be cooked; one without waves gives to the first due."""
    house = served_at(two_fires, time(11), 180, every=60, birds=18)
    occasions = occasions_on(house, DAY)
    at = occasions[0].at
    noon = load(at, 6, waves=(at + timedelta(hours=1),))
    assert clock(house, dues_on(house, occasions, [noon])["bird"]) == [("11:00", 6), ("13:00", 6)]
    plain = load(at, 8)
    assert clock(house, dues_on(house, occasions, [plain])["bird"]) == [("12:00", 4), ("13:00", 6)]
    assert dues_on(house, occasions, [load(at, 18)]) == {}
    assert len(dues_on(house, occasions, [load(at, 18, services=("supper",))])["bird"]) == 3


@given(st.integers(1, 120), st.lists(st.integers(1, 40), max_size=5))
def test_loads_under_way_take_off_what_they_give(two_fires, birds, given_already):
    """What is left is the promise less what has begun, and never below nothing."""
    house = served_at(two_fires, time(11), 240, every=45, birds=birds)
    occasions = occasions_on(house, DAY)
    begun = [load(occasions[0].at, n) for n in given_already]
    left = sum(due.portions for due in dues_on(house, occasions, begun).get("bird", []))
    assert left == max(0, birds - sum(given_already))


def test_each_wave_is_a_need_of_its_own_name(two_fires):
    """Needs of one item at one service are told apart by the minutes into it."""
    house = served_at(two_fires, time(11), 180, every=60)
    needs = needs_of(house, occasions_on(house, DAY), 0.7)
    assert [need.name for need in needs] == ["lunch-bird", "lunch+60-bird", "lunch+120-bird"]


@given(st.integers(2, 60), st.integers(1, 6), st.data())
def test_what_a_part_is_due_for_adds_up(two_fires, birds, count, data):
    """However a need in waves is cut, and cut again, each wave gets its portions exactly once."""
    house = served_at(two_fires, time(11), 240, every=30, birds=birds)
    dues = birds_due(house)
    need = replace(needs_of(house, occasions_on(house, DAY), 0.7)[0], serves=tuple(dues), pieces=birds)
    sizes = [birds * (i + 1) // count - birds * i // count for i in range(count)]
    shares = list(cut_into(need, [size for size in sizes if size]))
    n = data.draw(st.integers(0, len(shares) - 1))
    if shares[n].pieces > 1:
        shares[n : n + 1] = split(shares[n], data.draw(st.integers(1, shares[n].pieces - 1)))
    for due in dues:
        got = sum(d.portions for share in shares for d in share.serves if d.at == due.at)
        assert got == due.portions
    for share in shares:
        assert sum(due.portions for due in share.serves) == share.due
        assert [due.at for due in share.serves] == sorted(due.at for due in share.serves)


def test_orders_near_each_other_are_one_need_and_others_are_not(two_fires):
    """Collections of birds at 12:00 and 12:30 go together; one at 16:00 is beyond what the cut can wait."""
    noon = datetime(DAY.year, DAY.month, DAY.day, 17, tzinfo=UTC)
    orders = tuple(
        Order(f"o{n}", "Bo", noon + timedelta(minutes=m), (OrderLine(portions=3, item="bird"),))
        for n, m in enumerate((0, 30, 240))
    )
    house = replace(served_at(two_fires, time(18), 60, birds=2), orders=orders)
    needs = needs_of(house, occasions_on(house, DAY), 0.7)
    assert [[due.occasion.id for due in need.serves] for need in needs] == [["o0", "o1"], ["o2"], ["lunch"]]


@pytest.mark.parametrize(("each", "pieces"), [(4, 5), (1, 20)])
def test_a_wave_gets_whole_pieces(two_fires, each, pieces):
    """20 portions in four waves of 5: of pieces that give 4, two a wave when cooked apart."""
    house = served_at(two_fires, time(11), 210, every=60)
    bird = replace(house.items["bird"], portions_a_piece=each)
    needs = needs_of(replace(house, items={**house.items, "bird": bird}), occasions_on(house, DAY), 0.7)
    assert sum(need.pieces for need in needs) == (8 if each == 4 else pieces)


def test_a_load_for_one_service_gives_before_one_that_also_feeds_the_next(two_fires):
    """6 and 4 birds are due, 5 begun for both services and 5 for the first: 5 + 1 and 4, nothing is left."""
    house = served_at(two_fires, time(11), 120, birds=6)
    later = Recurrence(DAY, time(13), 120.0)
    dinner = replace(house.services["lunch"], id="dinner", when=later, promises={"bird": 4})
    house = replace(house, services={**house.services, "dinner": dinner})
    occasions = occasions_on(house, DAY)
    first, second = (occasion.at for occasion in occasions)
    both = load(first, 5, waves=(first, second), services=("lunch", "dinner"))
    assert dues_on(house, occasions, [both, load(first, 5)]) == {}
    assert dues_on(house, occasions, [load(first, 5), both]) == {}
