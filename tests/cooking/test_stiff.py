"""The whole model, with wraps and rests, against SciPy's stiff solver on the same equations."""

import numpy as np
import pytest

from board.cooking.cook import Cook, Rest
from board.cooking.physics.air import boiling_c
from board.cooking.physics.parameters import parameters
from board.cooking.physics.shape import body_of
from board.cooking.sampling import middle
from board.cooking.solver.course import Trace, constants, run
from board.cooking.solver.ensemble import NODES, Ensemble, ensemble
from board.house.library import library_cut
from board.house.model import PitKind, Work, Wrap, WrapMaterial
from tests.cooking import stiff
from tests.cooking.lab import SEA_LEVEL_PA
from tests.cooking.published import OVEN, PIT, air

FIXED = parameters().fixed
FAN = air(PitKind.OVEN, 30.0, 0.03)
COOKS = {
    "brisket, foil at 70 °C, box": Cook(
        library_cut("brisket"),
        6.5,
        1,
        PIT,
        114.0,
        95.0,
        5.0,
        Wrap(WrapMaterial.FOIL, 70.0, Work()),
        Rest("cooler", 60.0),
    ),
    "shoulder, paper at 70 °C, room": Cook(
        library_cut("pork-shoulder"),
        3.9,
        1,
        PIT,
        121.0,
        93.0,
        5.0,
        Wrap(WrapMaterial.PAPER, 70.0, Work()),
        Rest("room", 60.0),
    ),
    "chicken half, oven, room": Cook(
        library_cut("chicken-half"), 0.7, 1, OVEN, 163.0, 74.0, 5.0, None, Rest("room", 20.0)
    ),
    "small roast, hot fan oven": Cook(library_cut("beef-round-roast"), 1.0, 1, FAN, 225.0, 70.0, 5.0),
    "sausage": Cook(library_cut("sausage"), 0.1, 1, PIT, 121.0, 72.0, 5.0),
}


def piece_of(cook: Cook, members: Ensemble) -> stiff.Piece:
    """The cook's middle member, for the other solver."""
    meat, body = members.meat, body_of(cook.cut.size, cook.mass_kg, parameters())
    return stiff.Piece(
        radius=body.radius_m,
        g=body.g,
        heat=tuple(meat.heat[:, 0]),
        conductivity=tuple(meat.conductivity[:, 0]),
        density=float(meat.density[0]),
        water=float(meat.water[0]),
        expelled=float(meat.expelled[0]),
        midpoint=float(meat.midpoint[0]),
        width=float(meat.width[0]),
        lag=float(meat.lag[0]),
        wicking=float(meat.wicking[0]),
        nodes=NODES,
        boiling_c=boiling_c(SEA_LEVEL_PA),
    )


def legs_of(cook: Cook, members: Ensemble) -> list[tuple[stiff.Place, float | None, float]]:
    """The stretches of the cook: its places, the cores that end them, their longest durations."""
    humidity = cook.pit.humidity.usual
    legs: list[tuple[stiff.Place, float | None, float]] = []
    if cook.wrap:
        legs.append((place_of(members, 0, humidity), cook.wrap.at_core_c, 2e5))
    legs.append((place_of(members, 1 if cook.wrap else 0, humidity), cook.until_core_c, 2e5))
    if cook.rest:
        legs.append((place_of(members, 2, FIXED["room_humidity"]), None, cook.rest.minutes * 60.0))
    return legs


def place_of(members: Ensemble, phase: int, humidity: float) -> stiff.Place:
    """One of the middle member's places."""
    at = {name: float(getattr(members.places, name)[phase, 0]) for name in members.places.names()}
    return stiff.Place(
        at["h"],
        at["emissivity"],
        at["air_c"],
        at["wall_k"] - 273.15,
        humidity,
        at["gap_m2k_w"],
        at["wrap_m2s_kg"],
    )


@pytest.mark.parametrize("name", COOKS)
def test_the_core_is_the_stiff_solvers(name: str) -> None:
    """Every step's core is within 0.1 K of BDF's, and the wrap and the pull within 10 s."""
    cook, chosen = COOKS[name], parameters()
    members = ensemble(cook, middle(chosen), chosen)
    legs = legs_of(cook, members)
    trace = Trace([], [], [])
    course = run(members, constants(chosen), trace)
    seconds, core = np.array(trace.seconds)[:, 0], np.array(trace.core)[:, 0]
    theirs, switches = stiff.course(piece_of(cook, members), legs, cook.start_c, seconds)
    assert np.nanmax(np.abs(core - theirs)) < 0.1
    pull = switches[-2] if cook.rest else switches[-1]
    assert abs(course.pulled_s[0] - pull) < 10.0
    if cook.wrap:
        assert abs(course.wrapped_s[0] - switches[0]) < 10.0
