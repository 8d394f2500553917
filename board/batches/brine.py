"""Brine as chemistry: strength, salometer degrees, density and freezing point.

Strengths are per cent by mass of the whole brine. Values lie on straight lines between the rows of
data/brine.toml (Lange's Table 5.13, CRC Handbook, the salometer's definition), and nothing is read
past their ends.
"""

from collections.abc import Callable
from dataclasses import dataclass

from board.batches.tables import columns, read_off, table
from board.errors import BoardError


@dataclass(frozen=True, slots=True)
class Brine:
    """What a brine is, and what a salometer and a freezer would say of it.

    `salometer_deg` goes by salt alone, as the scale is defined at 60 °F; `salometer_reads_deg` is
    what the instrument shows, which sugar raises; None where it is off the scale. `freezes_c` is
    None past the eutectic, 23.3 % of salt in its own water.
    """

    salt_percent: float
    sugar_percent: float
    salometer_deg: float
    salometer_reads_deg: float | None
    density_kg_l: float
    freezes_c: float | None


def brine(salt_percent: float, sugar_percent: float = 0.0) -> Brine:
    """The figures of a brine with so much salt and sugar by mass.

    Raises BoardError when that salt cannot all dissolve or the sugar is past the sucrose table.
    """
    return Brine(
        salt_percent=salt_percent,
        sugar_percent=sugar_percent,
        salometer_deg=salometer_deg(salt_percent),
        salometer_reads_deg=salometer_reads_deg(salt_percent, sugar_percent),
        density_kg_l=density_kg_l(salt_percent, sugar_percent),
        freezes_c=freezes_c(salt_percent, sugar_percent),
    )


def salometer_deg(salt_percent: float) -> float:
    """Degrees salometer at 60 °F: 0 is water, 100 is saturated brine, 26.395 % salt by mass."""
    saturated = float(table("brine")["salometer"]["saturation_percent"])
    if not 0 <= salt_percent <= saturated:
        raise BoardError(
            f"{salt_percent:.4g} % salt does not dissolve in the brine's water; "
            f"a brine holds 0 to {saturated:g} % salt by mass"
        )
    return 100 * salt_percent / saturated


def salometer_reads_deg(salt_percent: float, sugar_percent: float) -> float | None:
    """What a salometer shows in a sweet brine: it weighs the liquid and takes sugar for salt."""
    salts, densities = columns("brine", "density_20c", "salt_percent", "density_kg_l")
    density = density_kg_l(salt_percent, sugar_percent)
    if density > densities[-1]:
        return None
    return salometer_deg(read_off(density, densities, salts, "density", "kg/L"))


def density_kg_l(salt_percent: float, sugar_percent: float = 0.0) -> float:
    """Density at 20 °C of salt and sugar in water, kg/L.

    Each solute takes the room it takes alone in the same water, and rooms add (Young's rule in its
    simplest form, exact for either solute alone). Anything else in the brine counts as water.
    """
    water = _water_percent(salt_percent, sugar_percent)
    litres = water / _salt_density(0.0)
    litres += _litres_of_solute(salt_percent, water, _salt_density)
    litres += _litres_of_solute(sugar_percent, water, _sugar_density)
    return 100 / litres


def freezes_c(salt_percent: float, sugar_percent: float = 0.0) -> float | None:
    """Where ice starts to form, °C; None past the eutectic.

    Salt by Lange's Table 5.13 at its strength in its own water, plus sugar by the cryoscopic
    constant of water; the sum is rough (about 0.5 K) where both are strong.
    """
    water = _water_percent(salt_percent, sugar_percent)
    salt_alone = 100 * salt_percent / (salt_percent + water)
    salts, freezing = columns("brine", "freezing", "salt_percent", "freezes_c")
    if salt_alone > salts[-1]:
        return None
    sucrose = table("brine")["sucrose_freezing"]
    by_sugar = float(sucrose["kelvin_kg_mol"]) * sugar_percent / water / float(sucrose["kg_mol"])
    return read_off(salt_alone, salts, freezing, "salt", "%") - by_sugar


def _water_percent(salt_percent: float, sugar_percent: float) -> float:
    water = 100 - salt_percent - sugar_percent
    if salt_percent < 0 or sugar_percent < 0 or water <= 0:
        raise BoardError(
            f"a brine is salt, sugar and water; got {salt_percent:.4g} % and {sugar_percent:.4g} % of them, "
            "which must be 0 or more and leave some water"
        )
    return water


def _litres_of_solute(percent: float, water: float, density: Callable[[float], float]) -> float:
    """The room a solute takes in this water: its own solution's volume less the water's."""
    solution = percent + water
    return solution / density(100 * percent / solution) - water / density(0.0)


def _salt_density(percent: float) -> float:
    salts, densities = columns("brine", "density_20c", "salt_percent", "density_kg_l")
    return read_off(percent, salts, densities, "salt in the brine's water", "%")


def _sugar_density(percent: float) -> float:
    sugars, densities = columns("brine", "sucrose_density_20c", "sugar_percent", "density_kg_l")
    return read_off(percent, sugars, densities, "sugar in the brine's water", "%")
