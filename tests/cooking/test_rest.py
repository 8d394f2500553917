"""After the pull: a room's still air, a hold's setpoint and humidity, and how far a core can still rise."""

from dataclasses import replace

import numpy as np
import pytest

from board.cooking.cook import Cook, Rest
from board.cooking.errors import CookingError
from board.cooking.physics.parameters import parameters
from board.cooking.physics.places import still_h
from board.cooking.resting import core_after_rest, core_courses
from board.cooking.sampling import middle
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.running import Trace
from board.house.library import library_cut
from tests.cooking import published as p

HALF = next(r.cook for r in p.ranges() if "chicken half" in r.name)


def rested(cook: Cook) -> tuple[float, float]:
    """The highest core of a rest above the core at the pull (K), and the core at its end (°C)."""
    trace = Trace([], [], [])
    course = p.centre([cook], trace=trace)
    return float(course.peak_c[0] - course.pulled_c[0]), float(trace.core[-1][0])


def settled_rise_k(cook: Cook) -> float:
    """How far the core would rise if no heat at all left the piece: its mean less its core at the pull."""
    chosen = parameters()
    members = ensemble(replace(cook, rest=None), middle(chosen), chosen)
    pulled: list[float] = []

    class Last(Trace):
        def note(self, now, who, count, fixed) -> None:  # type: ignore[no-untyped-def]
            weights = now.meat.volume[:, 0] / now.meat.depth[0]
            pulled[:] = [float(weights @ now.state.celsius[:, 0] - now.state.celsius[0, 0])]

    run(members, constants(chosen), Last([], [], []))
    return pulled[0]


@pytest.mark.parametrize("cook", [HALF, p.wrapped_brisket("foil")], ids=["chicken half", "wrapped brisket"])
def test_a_core_rises_less_than_the_heat_in_the_piece_allows(cook: Cook) -> None:
    """Practice tells 2-6 K for both; were no heat lost at all, 3 K would be the most there is."""
    rise, _ = rested(replace(cook, rest=Rest("room", 60.0)))
    assert 0.0 < rise < settled_rise_k(cook) < 3.0


@pytest.mark.parametrize(
    ("cut", "kg", "core_c", "carry_k"),
    [
        ("beef-rib-roast", 5.5, 65.0, 5.0),
        ("beef-rib-roast", 4.7, 76.0, 4.0),
        ("lamb-leg", 3.0, 79.0, 1.0),
        ("pork-loin", 3.8, 83.0, 2.0),
        ("ham-boneless", 6.0, 72.0, 5.0),
    ],
)
def test_roasts_of_a_moderate_oven_rise_as_the_old_table_says(
    cut: str, kg: float, core_c: float, carry_k: float
) -> None:
    """Lowe, Experimental Cookery: 1-5 K; her oven is not told, ours is 135 °C. Within 3 K."""
    cook = Cook(library_cut(cut), kg, 1, p.OVEN, 135.0, core_c, 4.0, rest=Rest("room", 30.0))
    assert rested(cook)[0] == pytest.approx(carry_k, abs=3.0)


def test_still_air_takes_more_from_a_thin_piece() -> None:
    """h of still air over a warm piece is 5-8 W/(m² K) from 5 to 20 cm, as textbooks have it (4-9)."""
    fixed = parameters().fixed
    thin, thick = still_h(0.05, fixed), still_h(0.20, fixed)
    assert 4.0 < thick < thin < 9.0


def test_a_warmer_hold_keeps_a_warmer_core() -> None:
    """After twelve hours a brisket stands within 5 K of its hold, and warmer in a warmer one."""
    for hold_c in (60.0, 70.0, 80.0):
        end = rested(p.wrapped_brisket("foil", rest=Rest("hold", 720.0, hold_c=hold_c)))[1]
        assert hold_c - 1.0 < end < hold_c + 5.0


def test_a_damp_hold_cools_a_bare_surface_less() -> None:
    """Ten minutes into a hold the surface is warmer in nearly saturated air than in dry air."""
    surfaces = []
    for humidity in (0.1, 0.9):
        trace = Trace([], [], [])
        p.centre([replace(HALF, rest=Rest("hold", 10.0, hold_c=65.0, hold_humidity=humidity))], trace=trace)
        surfaces.append(trace.surface[-1][0])
    assert surfaces[1] > surfaces[0] + 0.5


def test_a_box_keeps_warmer_than_the_room() -> None:
    """A brisket left four hours is far warmer in a closed box than on the bench."""
    box, room = (
        rested(p.wrapped_brisket("foil", rest=Rest(place, 240.0)))[1] for place in ("cooler", "room")
    )
    assert box > room + 5.0


def test_the_core_at_the_end_of_a_rest_is_the_last_of_its_course() -> None:
    """A brisket in a box: what is told for the end of the rest lies about the middle member's last core."""
    cook = replace(p.CENTRE_BRISKET, until_core_c=94.0, rest=Rest("cooler", 180.0))
    found = core_after_rest(cook)
    assert found is not None
    assert found.p10 < rested(cook)[1] < found.p90 < 94.0
    at_once = core_after_rest(replace(cook, rest=Rest("cooler", 0.0)))
    assert at_once is not None
    assert at_once.p50 == pytest.approx(94.0, abs=0.05)


def test_a_rest_may_go_on_in_a_hold() -> None:
    """A roast held after the room ends warmer than one left there, cooler than one held all along."""
    roast = Cook(library_cut("beef-rib-roast"), 5.5, 2, p.OVEN, 121.0, 54.0, 4.0)
    room = Rest("room", 15.0, then=Rest("room", 120.0))
    both = Rest("room", 15.0, then=Rest("hold", 120.0, hold_c=62.8))
    hold = Rest("hold", 135.0, hold_c=62.8)
    ends = [core_after_rest(replace(roast, rest=rest)) for rest in (room, both, hold)]
    assert all(ends)
    assert ends[0].p50 < ends[1].p50 < ends[2].p50


def test_two_rests_in_one_place_are_one_rest() -> None:
    """A rest in the room cut in two gives the core of the whole within a hundredth of a degree."""
    roast = Cook(library_cut("beef-rib-roast"), 5.5, 2, p.OVEN, 121.0, 54.0, 4.0)
    once = core_after_rest(replace(roast, rest=Rest("room", 60.0)))
    twice = core_after_rest(replace(roast, rest=Rest("room", 20.0, then=Rest("room", 40.0))))
    assert twice.p50 == pytest.approx(once.p50, abs=0.01)


def test_a_core_course_runs_from_loading_to_the_end_of_its_rests() -> None:
    """Each member's minutes rise, pass its pull at the core asked, and end when its last rest does."""
    rest = Rest("room", 15.0, then=Rest("hold", 60.0))
    asked = Cook(library_cut("pork-loin"), 3.6, 2, p.OVEN, 121.0, 62.0, 4.0, rest=rest)
    alone = core_courses([asked], members=8)[0]
    for one in alone:
        assert np.all(np.diff(one.minutes) > 0.0)
        assert one.core_c[0] == pytest.approx(asked.start_c, abs=8.0)
        assert np.interp(one.pulled_minute, one.minutes, one.core_c) == pytest.approx(62.0, abs=0.05)
        assert one.minutes[-1] - one.pulled_minute == pytest.approx(75.0, abs=0.1)
    beside = core_courses([replace(asked, until_core_c=58.0), asked], members=8)[1]
    assert all(np.array_equal(a.core_c, b.core_c) for a, b in zip(alone, beside, strict=True))


def test_a_rest_in_three_places_is_refused() -> None:
    """One more place after the first is what the sums know."""
    rest = Rest("room", 5.0, then=Rest("hold", 5.0, then=Rest("room", 5.0)))
    with pytest.raises(CookingError, match="two places at most"):
        core_after_rest(Cook(library_cut("pork-loin"), 3.6, 2, p.OVEN, 121.0, 62.0, rest=rest))
