"""What is expected of cooks, remembered between calls."""

from dataclasses import replace

from board.cooking.cook import Cook, PitAir
from board.house.library import library_cut
from board.house.model import PitKind
from board.views.expecting import Expecting

HALF = Cook(library_cut("chicken-half"), 0.7, 1, PitAir.usual(PitKind.OVEN), 160.0, 74.0)


def test_a_cook_asked_twice_is_worked_out_once() -> None:
    """The same cook gets the very same estimate."""
    expecting = Expecting()
    assert expecting.of([HALF])[HALF] is expecting.of([HALF])[HALF]


def test_one_that_cannot_be_does_not_stop_the_others() -> None:
    """A cook no pit can bring to its end is left out; what stands beside it is answered."""
    frozen = replace(HALF, start_c=-5.0)
    assert list(Expecting().of([frozen, HALF, frozen])) == [HALF]


def test_the_oldest_are_forgotten() -> None:
    """Only the last few are kept: one asked for long ago is worked out anew, alike to the last bit."""
    expecting, colder, warmer = Expecting(most=1), replace(HALF, start_c=3.0), replace(HALF, start_c=5.0)
    first = expecting.of([HALF])[HALF]
    expecting.of([colder, warmer])
    again = expecting.of([HALF])[HALF]
    assert again is not first
    assert again.minutes == first.minutes
