"""Bounds drawn beside a search: what goes wrong with them is told, and a stop does not wait for them."""

from threading import Event
from time import sleep

import pytest

from board.planning.bound import rising
from board.planning.search.progress import nobody
from board.planning.search.watch import Bounds, Watch


def drawn(monkeypatch, bounds, *, stopped):
    """The bounds of no problem in particular, drawn from these, and the watch they are told to."""
    monkeypatch.setattr(rising, "rising_bounds", lambda problem, seed: bounds)
    watch = Watch(nobody, lambda: stopped)
    return Bounds(None, watch, seed=0, seconds=60.0), watch


def failing():
    """A bound, and then a mistake."""
    yield 3.0
    raise ArithmeticError("not a number")


def asked_often(bounds):
    """Ask for the highest bound until something goes wrong, for ten seconds at most."""
    for _ in range(1000):
        bounds.highest()
        sleep(0.01)


def test_the_highest_of_all_is_waited_for(monkeypatch):
    """A search that is not stopped has every bound."""
    bounds, watch = drawn(monkeypatch, iter([3.0, 5.0]), stopped=False)
    assert bounds.highest() == watch.bound == 5.0


def test_what_goes_wrong_is_raised_where_the_bound_is_asked_for(monkeypatch):
    """A search that waits for its bounds hears of the mistake."""
    bounds, _ = drawn(monkeypatch, failing(), stopped=False)
    with pytest.raises(ArithmeticError, match="not a number"):
        bounds.highest()


def test_a_mistake_is_raised_in_a_stopped_search_too_once_it_is_known(monkeypatch):
    """A stop ends the waiting, not the telling."""

    def wrong():
        raise ArithmeticError("at once")
        yield

    bounds, _ = drawn(monkeypatch, wrong(), stopped=True)
    with pytest.raises(ArithmeticError, match="at once"):
        asked_often(bounds)


def test_a_stopped_search_does_not_wait_for_a_bound_that_is_being_drawn(monkeypatch):
    """What was told before is the answer, while the thread is still at work."""
    goes_on = Event()

    def slow():
        goes_on.wait(60.0)
        yield 7.0

    bounds, watch = drawn(monkeypatch, slow(), stopped=True)
    watch.higher(3.0)
    assert bounds.highest() == 3.0
    goes_on.set()
