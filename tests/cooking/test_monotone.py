"""What must always hold of a cook's length, whatever the cut, its mass and the pit.

On the middle member and on the medians of small ensembles. Where physics says otherwise in some corner, the
corner is named and left out.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.cooking.cook import Cook, PitAir, Rest
from board.cooking.estimate import estimate
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.pit_air import Opening, Setpoint, expected_air
from board.cooking.sampling import middle
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble, joined
from board.cooking.solver.running import Course, Trace
from board.house.library import library_cut, library_cuts
from board.house.model import PitKind, Work, Wrap, WrapMaterial
from board.house.spans import Spread

SLACK = 1e-4  # of a time: a step's own error
ROUGH = 1e-3  # of a time: of the table of bodies, straight between its rows, or a corner named beside it

many = settings(max_examples=25, deadline=None, derandomize=True)
few = settings(max_examples=8, deadline=None, derandomize=True)
ratios = st.floats(1.02, 1.5)


@st.composite
def cooks(draw: st.DrawFn, kinds: tuple[PitKind, ...] = tuple(PitKind), most_c: float = 170.0) -> Cook:
    """Any cut of the library, from two thirds of its lightest to half more than its heaviest, on any pit."""
    cut = library_cut(draw(st.sampled_from(sorted(library_cuts()))))
    usual = PitAir.usual(draw(st.sampled_from(kinds)))
    h = draw(st.floats(usual.h_c.low, usual.h_c.high))
    humidity = draw(st.floats(usual.humidity.low, usual.humidity.high))
    pit = replace(usual, h_c=Spread(h, h, h), humidity=Spread(humidity, humidity, humidity))
    mass = draw(st.floats(0.67 * cut.mass_kg.low, 1.5 * cut.mass_kg.high))
    setpoint = draw(st.floats(105.0, most_c))
    return Cook(cut, mass, 1, pit, setpoint, min(cut.pull_core_c, setpoint - 12.0))


def courses(*asked: Cook, using: Parameters | None = None, trace: Trace | None = None) -> Course:
    """The middle members of some cooks, run together."""
    chosen = using or parameters()
    return run(joined([ensemble(c, middle(chosen), chosen) for c in asked]), constants(chosen), trace)


def medians(*asked: Cook) -> list[float]:
    """The median minutes of small ensembles."""
    return [found.minutes.p50 for found in estimate(asked, members=32)]


def windier(cook: Cook, ratio: float) -> Cook:
    """The same cook where the air takes and gives so much more."""
    h = cook.pit.h_c
    return replace(cook, pit=replace(cook.pit, h_c=Spread(h.low * ratio, h.usual * ratio, h.high * ratio)))


def usual(cook: Cook) -> Cook:
    """The same cook on a pit of which only the kind is known."""
    return replace(cook, pit=PitAir.usual(cook.pit.kind))


@many
@given(cooks(), st.floats(0.5, 25.0))
def test_a_hotter_pit_is_never_slower(cook: Cook, more_k: float) -> None:
    """Raising the setpoint never lengthens the middle member's time."""
    plain, hotter = courses(cook, replace(cook, setpoint_c=cook.setpoint_c + more_k)).pulled_s
    assert hotter <= plain * (1.0 + SLACK)


@many
@given(cooks(), ratios)
def test_a_heavier_piece_is_never_faster(cook: Cook, ratio: float) -> None:
    """More mass never shortens the time, but for the table of bodies' own roughness.

    A longer roast of the same section is no slower at all, so there the roughness shows.
    """
    plain, heavier = courses(cook, replace(cook, mass_kg=cook.mass_kg * ratio)).pulled_s
    assert heavier >= plain * (1.0 - ROUGH)


@many
@given(cooks(), ratios)
def test_air_that_gives_more_is_never_slower(cook: Cook, ratio: float) -> None:
    """A higher air coefficient never lengthens the time: it evaporates more, but heats by more than that.

    In still air at a humidity of 0.1, walls hold a wet surface above its wet bulb, and more air draws it back
    down: there the time hardly answers, by a few parts in ten thousand either way.
    """
    plain, windy = courses(cook, windier(cook, ratio)).pulled_s
    assert windy <= plain * (1.0 + ROUGH)


@many
@given(
    cooks((PitKind.OFFSET, PitKind.CABINET, PitKind.ROTISSERIE), 130.0),
    st.sampled_from(list(WrapMaterial)),
    st.floats(55.0, 75.0),
)
def test_a_wrap_in_the_stall_never_slows(cook: Cook, material: WrapMaterial, at_core_c: float) -> None:
    """Paper or foil at 55 to 75 °C in the core never lengthens a slow cook that goes on to 80 °C or more.

    It saves what would evaporate. Once the surface has gone dry it only insulates: late, in a hot or windy
    chamber, over coals that foil throws back, or a few kelvin under the pit's own air, it costs up to 3 %.
    """
    cook = replace(cook, until_core_c=max(cook.until_core_c, 80.0))
    plain, wrapped = courses(cook, replace(cook, wrap=Wrap(material, at_core_c, Work()))).pulled_s
    assert wrapped <= plain * (1.0 + SLACK)


@many
@given(cooks(), st.floats(1.1, 4.0), st.floats(0.005, 0.06))
def test_a_wetter_start_never_speeds(cook: Cook, ratio: float, humidity: float) -> None:
    """A wetter surface at loading never shortens the time.

    In air wetter than 0.06 a cold piece gathers dew; a wet one gathers more, and is warmed by a thousandth.
    """
    cook = replace(cook, pit=replace(cook.pit, humidity=Spread(humidity, humidity, humidity)))
    fixed = parameters().fixed
    wetter = replace(parameters(), fixed={**fixed, "film_start": ratio * fixed["film_start"]})
    assert courses(cook, using=wetter).pulled_s[0] >= courses(cook).pulled_s[0] * (1.0 - 2.0 * SLACK)


@many
@given(cooks(), st.floats(0.05, 0.9), st.floats(1.0, 5.0))
def test_an_opened_lid_never_speeds(cook: Cook, share: float, minutes: float) -> None:
    """Opening the pit at any time before the pull never shortens the time."""
    setpoints = [Setpoint(0.0, cook.setpoint_c)]
    shut = replace(cook, air=expected_air(setpoints, 12.0))
    at = share * courses(cook).pulled_s[0] / 60.0
    opened = replace(cook, air=expected_air(setpoints, 12.0, openings=[Opening(at, minutes)]))
    plain, slower = courses(shut, opened).pulled_s
    assert slower >= plain * (1.0 - SLACK)


@many
@given(cooks(), st.sampled_from(["room", "cooler", "hold"]), st.floats(60.0, 300.0))
def test_a_longer_rest_never_raises_the_core_after_its_peak(cook: Cook, place: str, minutes: float) -> None:
    """Off the fire the core rises to one peak and falls from there on; a longer rest has the same peak.

    A thin wet piece cools below a hold's own air while it dries, and comes back to it: there the core only
    stays under its peak. A hold that is set hotter than the core is a second fire, and left out.
    """
    rest = Rest(place, minutes, hold_c=min(63.0, cook.until_core_c - 2.0) if place == "hold" else None)
    trace = Trace([], [], [])
    course = courses(replace(cook, rest=rest), trace=trace)
    resting = np.array(trace.seconds)[:, 0] >= course.pulled_s[0]
    core = np.array(trace.core)[resting, 0]
    falling = core[core.argmax() :]
    assert place == "hold" or np.all(np.diff(falling) <= 1e-9)
    if falling.size > 1:
        longer = courses(replace(cook, rest=replace(rest, minutes=2.0 * minutes)))
        assert longer.peak_c[0] == pytest.approx(course.peak_c[0], abs=0.02)


@few
@given(cooks(), st.floats(0.5, 20.0), ratios)
def test_medians_go_the_same_way(cook: Cook, more_k: float, ratio: float) -> None:
    """On a pit known by its kind: hotter and windier never lengthen the median, heavier never shortens."""
    cook = usual(cook)
    plain, hotter, heavier, windy = medians(
        cook,
        replace(cook, setpoint_c=cook.setpoint_c + more_k),
        replace(cook, mass_kg=cook.mass_kg * ratio),
        windier(cook, ratio),
    )
    assert hotter <= plain * (1.0 + SLACK)
    assert heavier >= plain * (1.0 - ROUGH)
    assert windy <= plain * (1.0 + SLACK)


@few
@given(
    st.sampled_from(["brisket", "pork-shoulder"]), st.sampled_from(list(WrapMaterial)), st.floats(60.0, 80.0)
)
def test_a_wrap_never_slows_the_median(cut: str, material: WrapMaterial, at_core_c: float) -> None:
    """Paper or foil in the stall never lengthens the median of what is wrapped in practice."""
    raw = library_cut(cut)
    cook = Cook(raw, raw.mass_kg.usual, 3, PitAir.usual(PitKind.OFFSET), 118.0, 93.0)
    plain, wrapped = medians(cook, replace(cook, wrap=Wrap(material, at_core_c, Work())))
    assert wrapped <= plain * (1.0 + SLACK)
