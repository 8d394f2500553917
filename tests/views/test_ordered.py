"""Orders and times changed in the ledger, as planning and the views have them."""

from dataclasses import replace
from datetime import timedelta

from board.house.calendar import local, services_on
from board.house.orders import Order, OrderLine
from board.ledger.facts import OccasionFacts
from board.planning.dues import occasions_on
from board.views.ordered import as_ordered
from tests.app.house_fixture import at, house

DAY = local(at("12:00"), house()).date()
ORDER = Order("o1", "Ann", at("14:00"), (OrderLine(pieces=2, cut="ham"), OrderLine(portions=10, item="ribs")))


def test_nothing_changed_is_the_house_as_it_is() -> None:
    """Promises of services alone change no order."""
    assert as_ordered(house(), (), {(DAY, "lunch", "brisket"): 3}) == house()


def test_an_order_struck_changed_and_put_later() -> None:
    """A struck order is gone; a line taken off leaves the others; a new time is when it is collected."""
    ordered = replace(house(), orders=(ORDER,))
    struck = as_ordered(ordered, (OccasionFacts(DAY, "o1", struck=True),), {})
    assert struck.orders == ()
    later = at("16:00")
    edited = {(DAY, "o1", "ribs"): 0, (DAY, "o1", "whole-ham"): 3}
    changed = as_ordered(ordered, (OccasionFacts(DAY, "o1", at=later),), edited)
    assert changed.orders == (Order("o1", "Ann", later, (OrderLine(pieces=3, cut="ham"),)),)


def test_an_order_put_later_keeps_all_lines_of_one_item() -> None:
    """Ten ribs and five more ribs are fifteen, whenever they are collected."""
    lines = (OrderLine(portions=10, item="ribs"), OrderLine(portions=5, item="ribs"))
    ordered = replace(house(), orders=(replace(ORDER, lines=lines),))
    later = as_ordered(ordered, (OccasionFacts(DAY, "o1", at=at("16:00")),), {})
    for now in (ordered, later):
        assert next(one.promises for one in occasions_on(now, DAY) if one.id == "o1") == {"ribs": 15}


def test_an_order_taken_is_an_occasion_of_its_day() -> None:
    """Planning meets it among the day's serving times, with its name, its time and its line."""
    taken = OccasionFacts(DAY, "1219-order-1", name="Bo", at=at("15:00"))
    now = as_ordered(house(), (taken,), {(DAY, "1219-order-1", "ribs"): 12})
    (order,) = [one for one in occasions_on(now, DAY) if one.id == "1219-order-1"]
    assert (order.name, order.at, dict(order.promises), order.is_order) == (
        "Bo",
        at("15:00"),
        {"ribs": 12},
        True,
    )


def test_a_service_put_later_keeps_its_length_that_day_only() -> None:
    """Lunch half an hour later is as long; the same service of a week later is when it always was."""
    before = services_on(house(), DAY)[0]
    moved = OccasionFacts(DAY, before.id, at=before.at + timedelta(minutes=30))
    now = as_ordered(house(), (moved,), {})
    after = next(one for one in services_on(now, DAY) if one.id == before.id)
    assert (after.at - before.at, after.until - before.until) == (timedelta(minutes=30),) * 2
    week = DAY + timedelta(days=7)
    assert services_on(now, week) == services_on(house(), week)
