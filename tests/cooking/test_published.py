"""One parameter set against published ovens and the ranges of practice, misses stated."""

from dataclasses import replace

import numpy as np
import pytest

from board.cooking.cook import Cook, PitAir, Rest
from board.cooking.estimate import estimate
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import middle
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.running import Trace
from board.house.library import library_cut
from board.house.model import PitKind
from tests.cooking import published as p

ROWS, RANGES, LIBRARY = p.published(), p.ranges(), p.library_ranges()

# Known misses of the corners, the hours each may fall outside by; common practice, no source. Crews end these
# cooks when the meat is tender; to a core alone the misses are wider.
CORNERS = {
    "brisket 6.0 kg, 121 °C, until tender": 1.0,
    "brisket 6.0 kg, 121 °C, to 95 °C": 1.1,
    "brisket 7.0 kg, 107 °C, to 95 °C": 1.5,
    "pork butt 4.0 kg, 107 °C, to 94 °C": 0.8,
}


def test_published_times_are_met_on_average() -> None:
    """Charts, turkeys, rolls and the 99 °C brisket: mean error at most 5.5 %, none above 12 %."""
    times = p.centre([row.cook for row in ROWS]).pulled_s / 60
    errors = np.array([t / row.minutes - 1 for t, row in zip(times, ROWS, strict=True)])
    told = "; ".join(f"{row.name} {100 * e:+.0f} %" for row, e in zip(ROWS, errors, strict=True))
    assert np.abs(errors).mean() < 0.055, told
    assert np.abs(errors).max() < 0.12, told


def test_a_usual_oven_meets_the_charts_as_a_person_asks_for_them() -> None:
    """The median for the kind of oven a person names, h unknown: mean error under 6.5 %, none over 13 %."""
    rows = [row for row in ROWS if row.cook.pit == p.OVEN]
    cooks = [replace(row.cook, pit=PitAir.usual(PitKind.OVEN)) for row in rows]
    errors = np.array(
        [f.minutes.p50 / row.minutes - 1 for f, row in zip(estimate(cooks, members=64), rows, strict=True)]
    )
    assert np.abs(errors).mean() < 0.065, errors
    assert np.abs(errors).max() < 0.13, errors


def test_practice_is_met_at_the_centre_and_nearly_at_the_corners() -> None:
    """Ranges of the trade (common practice, no source): centres inside, corners as far out as stated."""
    times = p.centre([r.cook for r in RANGES]).pulled_s / 3600
    for span, hours in zip(RANGES, times, strict=True):
        slack = 0.0 if span.centre else CORNERS.get(span.name, 0.0)
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


@pytest.mark.parametrize(("core_c", "lost"), [(85.0, 0.407), (90.0, 0.440)])
def test_smoked_briskets_lose_what_was_weighed(core_c: float, lost: float) -> None:
    """96 briskets smoked to a core and held three hours: within 4 points of 40.7 and 44.0 % lost.

    Kerth, Wall & Grayson-Holter, Meat and Muscle Biology; mass, pit and hold are not told there: 5.5 kg,
    105 °C and a hold at the core are assumed.
    """
    hold = Rest("hold", 180.0, hold_c=core_c)
    cook = replace(p.CENTRE_BRISKET, mass_kg=5.5, setpoint_c=105.0, until_core_c=core_c, rest=hold)
    trace = Trace([], [], [])
    p.centre([cook], trace=trace)
    assert trace.lost[-1][0] == pytest.approx(lost, abs=0.04)


@pytest.mark.parametrize(
    ("cut", "kg", "core_c", "lost"),
    [
        ("beef-rib-roast", 5.5, 65.0, 0.217),
        ("ham-boneless", 8.2, 72.0, 0.256),
        ("lamb-leg", 3.0, 79.0, 0.280),
        ("pork-loin", 3.8, 83.0, 0.263),
    ],
)
def test_roasts_lose_what_was_weighed(cut: str, kg: float, core_c: float, lost: float) -> None:
    """Total losses of old laboratory roasts (Lowe, Experimental Cookery): within 4 points.

    Her oven is not told: 135 °C is assumed. Her well-done ribs (22.5 % at 76 °C) are missed by 6 points.
    """
    found = p.centre([Cook(library_cut(cut), kg, 1, p.OVEN, 135.0, core_c, p.FRIDGE_C)])
    assert found.lost[0] == pytest.approx(lost, abs=0.04)


def test_a_hotter_oven_costs_time_and_weight_as_published_in_sign() -> None:
    """Lean roasts at 165-225 °C to 72 °C: 0.25-0.325 min a K quicker; loss rises, though by too little.

    J. Food Eng. 111:92-101 (2012): 0.175-0.275 points a K; the model's 0.07-0.12 is a known miss.
    """
    fan = p.air(PitKind.OVEN, 20.0, 0.02)
    cooks = [Cook(library_cut("beef-round-roast"), 1.2, 1, fan, c, 72.0, 5.0) for c in (165.0, 225.0)]
    course = p.centre(cooks)
    assert -0.35 < np.diff(course.pulled_s)[0] / 3600 < -0.2
    assert 0.05 < 100 * np.diff(course.lost)[0] / 60 < 0.275


def test_a_boned_shoulder_is_dry_and_firm_when_it_is_done() -> None:
    """10 kg at 140 °C to 65 °C: about six hours, its surface then dry; twenty minutes later the core is up.

    Common practice, no source. Dry: the film on it wets under a tenth of the surface.
    """
    cook = next(r.cook for r in RANGES if r.name.startswith("boned shoulder"))
    chosen, films = parameters(), []

    class Films(Trace):
        def note(self, now, who, members, fixed) -> None:  # type: ignore[no-untyped-def]
            films.append((float(now.state.seconds[0]), float(now.state.film[0])))

    rested = replace(cook, rest=Rest("room", 20.0))
    course = run(ensemble(rested, middle(chosen), chosen), constants(chosen), Films([], [], []))
    film = next(film for second, film in films if second >= course.pulled_s[0])
    assert film / (film + chosen.fixed["film_half"]) < 0.1
    assert 67.0 < course.peak_c[0] < 72.0
