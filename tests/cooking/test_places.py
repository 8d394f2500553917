"""What a surface meets where it stands: coals, foil, a pit's kind."""

from dataclasses import replace

import numpy as np

from board.cooking.cook import PitAir
from board.cooking.physics.air import pressure_pa
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.physics.places import on_pit, wrapped
from board.cooking.physics.surface import STEFAN_BOLTZMANN, Skin
from board.cooking.sampling import middle
from board.cooking.solver.columns import Surroundings
from board.cooking.solver.course import constants
from board.cooking.solver.ensemble import ensemble
from board.house.library import pit_prior
from board.house.model import PitKind, WrapMaterial
from tests.cooking.published import CENTRE_BRISKET

CHOSEN = parameters()
COALS_W_M2 = 300.0


def place(kind: PitKind, using: Parameters = CHOSEN) -> Surroundings:
    """The middle member bare on a pit of a kind at 114 °C."""
    return on_pit(PitAir.usual(kind), 114.0, middle(using), using, pressure_pa(0.0))


def gained_w_m2(around: Surroundings, surface_c: float = 70.0) -> float:
    """Heat a dry raw surface takes in."""
    meat = ensemble(CENTRE_BRISKET, middle(CHOSEN), CHOSEN).meat
    skin = Skin(meat, around, constants(CHOSEN), np.ones(1))
    return float(skin.exchange(np.array([surface_c]), np.zeros(1)).warmth.gained[0])


def test_coals_give_what_the_table_says_and_foil_throws_most_of_it_back() -> None:
    """Bare, the surface takes in all that coals give a square metre; in foil, at most its own shine of it."""
    assert CHOSEN.radiant[PitKind.DIRECT] == COALS_W_M2
    coals = place(PitKind.DIRECT)
    dark = replace(coals, radiant=np.zeros(1))
    assert abs(gained_w_m2(coals) - gained_w_m2(dark) - COALS_W_M2) < 1e-9
    foil, foil_dark = (wrapped(each, WrapMaterial.FOIL, middle(CHOSEN), CHOSEN) for each in (coals, dark))
    behind = gained_w_m2(foil) - gained_w_m2(foil_dark)
    assert 0.0 < behind < CHOSEN.fixed["foil_emissivity"] * COALS_W_M2


def test_a_cabinet_heats_nearly_as_an_offset_pit() -> None:
    """Of usual h and view, a 70 °C surface in 114 °C air gets the same heat within a twentieth."""
    ratio = gained_w_m2(place(PitKind.CABINET)) / gained_w_m2(place(PitKind.OFFSET))
    assert 0.95 < ratio < 1.05


def test_heat_to_a_surface_is_air_and_walls_by_hand() -> None:
    """An oven's 44 K: h times that, and 0.9 sigma times the fourth powers' difference."""
    by_air = pit_prior(PitKind.OVEN).h_c.usual * 44.0
    by_walls = 0.90 * STEFAN_BOLTZMANN * (387.15**4 - 343.15**4)
    assert abs(gained_w_m2(place(PitKind.OVEN)) - by_air - by_walls) < 1e-9
