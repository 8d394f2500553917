"""Properties of meat against published values and the mixing rules' own worked cases."""

import numpy as np
import pytest

from board.cooking.physics.food import conductivity_w_mk, density_kg_m3, food_of, heat_capacity_j_kgk
from board.house.library import library_cuts
from board.house.model import Composition

PORK_SHOULDER = Composition(0.640, 0.172, 0.180, 0.008)
CELSIUS = np.array([5.0, 20.0, 60.0, 90.0])


@pytest.mark.parametrize(
    ("food", "density", "heat", "conductivity"),
    [
        (
            PORK_SHOULDER,
            [1031.291, 1028.133, 1014.049, 998.111],
            [3386.29, 3393.63, 3418.46, 3442.09],
            [0.44563, 0.46248, 0.49739, 0.51422],
        ),
        (
            Composition(0.66, 0.186, 0.146, 0.008),
            [1037.939, 1034.913, 1020.931, 1004.826],
            [3430.29, 3437.21, 3461.45, 3485.18],
            [0.45574, 0.47357, 0.51066, 0.52867],
        ),
        (
            Composition(0.74, 0.22, 0.03, 0.01),
            [1058.747, 1056.263, 1042.743, 1026.036],
            [3604.04, 3609.31, 3631.24, 3655.21],
            [0.49558, 0.51698, 0.56187, 0.58402],
        ),
    ],
)
def test_choi_okos_gives_the_computed_cases(
    food: Composition, density: list[float], heat: list[float], conductivity: list[float]
) -> None:
    """Density, heat capacity and conductivity of three meats agree with an independent computation."""
    np.testing.assert_allclose(density_kg_m3(food, CELSIUS), density, rtol=1e-5)
    np.testing.assert_allclose(heat_capacity_j_kgk(food, CELSIUS), heat, rtol=1e-5)
    np.testing.assert_allclose(conductivity_w_mk(food, CELSIUS), conductivity, rtol=2e-5)


@pytest.mark.parametrize(
    ("moisture", "protein", "fat", "ash", "kj_kgk"),
    [
        (55.18, 16.94, 26.54, 0.80, 3.19),
        (64.75, 20.37, 12.81, 0.97, 3.39),
        (71.70, 21.24, 4.40, 1.08, 3.53),
        (54.54, 16.37, 26.98, 0.77, 3.16),
        (72.63, 19.55, 7.14, 1.02, 3.59),
        (36.74, 9.34, 53.01, 0.49, 2.80),
        (49.83, 13.91, 35.07, 0.72, 3.08),
    ],
)
def test_heat_capacity_is_near_the_handbook(
    moisture: float, protein: float, fat: float, ash: float, kj_kgk: float
) -> None:
    """Seven meats of ASHRAE Refrigeration ch. 9 table 3, from memory: 2 %, the table's own rounding."""
    food = Composition(moisture / 100, protein / 100, fat / 100, ash / 100)
    assert heat_capacity_j_kgk(food, np.array([20.0]))[0] / 1000 == pytest.approx(kj_kgk, rel=0.02)


@pytest.mark.parametrize(("water", "kj_kgk"), [(0.745, 3.60), (0.733, 3.52), (0.73, 3.39)])
def test_heat_capacity_is_near_measurements(water: float, kj_kgk: float) -> None:
    """Lean beef, pork and chicken (Meat Refrigeration, table 13.2): within 6 %, the scatter of methods."""
    food = Composition(water, 1.0 - water - 0.035, 0.025, 0.01)
    assert heat_capacity_j_kgk(food, np.array([10.0]))[0] / 1000 == pytest.approx(kj_kgk, rel=0.06)


def test_the_solver_polynomials_follow_the_mixing_rules() -> None:
    """For every cut of the library the solver's quadratics stay within 0.05 % of the rules, 0–110 °C."""
    celsius = np.linspace(0.0, 110.0, 23)
    for cut in library_cuts().values():
        food = food_of(cut.composition)
        whole = cut.composition
        ours_k = np.polyval(food.conductivity[::-1], celsius)
        np.testing.assert_allclose(ours_k, conductivity_w_mk(whole, celsius), rtol=5e-4)
        np.testing.assert_allclose(
            np.polyval(food.heat[::-1], celsius), heat_capacity_j_kgk(whole, celsius), rtol=1e-9
        )
