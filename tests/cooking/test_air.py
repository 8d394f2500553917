"""Humid air against PsychroLib, and the temperature of a wet surface against the wet bulb."""

import numpy as np
import psychrolib
import pytest
from scipy.optimize import brentq

from board.cooking.physics.air import boiling_c, pressure_pa, saturation_pa, vapour_pa
from board.cooking.physics.surface import Skin
from tests.cooking.lab import FIXED, ONE, SEA_LEVEL_PA, plain_air, plain_meat

psychrolib.SetUnitSystem(psychrolib.SI)


def test_saturation_follows_psychrolib_between_the_points() -> None:
    """Interpolated saturation pressure is within two parts in a million, 0.2–150 °C."""
    celsius = np.linspace(0.2, 150.0, 977)
    wanted = [psychrolib.GetSatVapPres(t) for t in celsius]
    pressure, slope = saturation_pa(celsius)
    np.testing.assert_allclose(pressure, wanted, rtol=2e-6)
    np.testing.assert_allclose(slope, np.gradient(pressure, celsius), rtol=0.02)


def test_vapour_pressure_is_psychrolibs() -> None:
    """Vapour pressure from a humidity ratio is PsychroLib's."""
    ours = vapour_pa(np.array([0.01, 0.06, 0.15]), np.full(3, SEA_LEVEL_PA))
    wanted = [psychrolib.GetVapPresFromHumRatio(w, SEA_LEVEL_PA) for w in (0.01, 0.06, 0.15)]
    np.testing.assert_allclose(ours, wanted, rtol=1e-9)


@pytest.mark.parametrize(("altitude_m", "celsius"), [(0.0, 99.97), (1609.0, 94.7), (3000.0, 89.8)])
def test_water_boils_lower_up_high(altitude_m: float, celsius: float) -> None:
    """Boiling at sea level, a mile up and 3000 m: steam tables at the standard pressure, 0.3 K."""
    assert boiling_c(pressure_pa(altitude_m)) == pytest.approx(celsius, abs=0.3)


# Dry bulb °C, humidity ratio, wet bulb °C: PsychroLib 2.5 and a general fluid library agree to 0.08 K.
WET_BULBS = [
    (107, 0.01, 36.49),
    (107, 0.035, 44.43),
    (121, 0.06, 51.26),
    (135, 0.1, 58.35),
    (140, 0.01, 41.12),
]


@pytest.mark.parametrize(("dry_c", "humidity", "wet_c"), WET_BULBS)
def test_a_wet_surface_without_radiation_sits_near_the_wet_bulb(
    dry_c: float, humidity: float, wet_c: float
) -> None:
    """A fully wet surface that only convects settles within 1.2 K of the thermodynamic wet bulb.

    The two differ because Le^(2/3) is 0.90 and not 1, and water activity 0.98 and not 1.
    """
    assert psychrolib.GetTWetBulbFromHumRatio(dry_c, humidity, SEA_LEVEL_PA) == pytest.approx(wet_c, abs=0.02)
    air = plain_air(8.0, dry_c)
    air.transfer = 0.622 * air.h / (1006.0 * 0.90)
    air.vapour_pa = vapour_pa(humidity * ONE, SEA_LEVEL_PA * ONE)
    skin = Skin(plain_meat(0.05, 0.0, 0.48, 3.4e6), air, FIXED, ONE)
    settled = brentq(lambda t: float(skin.exchange(t * ONE, 1e3 * ONE).heat[0]), 20.0, 90.0)
    assert settled == pytest.approx(wet_c, abs=1.2)


def test_the_surface_slopes_are_its_derivatives() -> None:
    """The slopes the solver factors are the exchange's own, by central differences."""
    air = plain_air(12.0, 114.0)
    air.transfer, air.vapour_pa = 0.622 * air.h / (1006.0 * 0.90), 5000.0 * ONE
    air.emissivity, air.wrap_m2s_kg = 0.5 * ONE, 4e4 * ONE
    skin = Skin(plain_meat(0.05, 0.0, 0.48, 3.4e6), air, FIXED, 0.95 * ONE)
    here = skin.exchange(60.0 * ONE, 0.05 * ONE)
    hotter, cooler = skin.exchange(60.1 * ONE, 0.05 * ONE), skin.exchange(59.9 * ONE, 0.05 * ONE)
    wetter, drier = skin.exchange(60.0 * ONE, 0.051 * ONE), skin.exchange(60.0 * ONE, 0.049 * ONE)
    assert here.vapour.slope_c[0] == pytest.approx(
        float(hotter.vapour.rate[0] - cooler.vapour.rate[0]) / 0.2, rel=1e-2
    )
    assert here.vapour.slope_film[0] == pytest.approx(
        float(wetter.vapour.rate[0] - drier.vapour.rate[0]) / 0.002, rel=1e-3
    )
    assert here.heat_slope_c[0] == pytest.approx(float(hotter.heat[0] - cooler.heat[0]) / 0.2, rel=2e-2)
