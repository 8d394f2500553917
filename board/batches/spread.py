"""How far salt has come in a piece: an order of magnitude to plan by.

Diffusion with one coefficient (data/diffusion.toml), and its published range, over the piece's own shape.
Salt coming from outside must cross half the thickness; injected salt only half the distance between the
needle holes, which it evens out. Nothing is corrected for temperature, as no source gives how salt's
coefficient changes with it.
"""

from dataclasses import dataclass
from math import exp, sqrt

from board.batches.shares import Shares, Solid
from board.batches.tables import table
from board.errors import BoardError
from board.house.model import Size

ENOUGH = 0.9
# where a deep solid has half of what its outside has, in roots of D t: twice the inverse erf of a half
_HALF_WAY = 0.9539
_KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class Evenness:
    """How even salt is after so many hours, then so many more drained: at the usual, least and most speed."""

    hours: float
    rest_hours: float
    usual: Shares
    slow: Shares
    fast: Shares


@dataclass(frozen=True, slots=True)
class SaltSpread:
    """Hours until the middle has 90 %, with the range of the published coefficient, over a depth.

    `solid` is what the piece is taken for, None where salt comes from needles. `planned` is how even it is
    when the meat is to be cooked, where that is known.
    """

    hours_to_90_percent: float
    hours_low: float
    hours_high: float
    depth_mm: float
    how: str
    solid: Solid | None = None
    planned: Evenness | None = None

    def after(self, hours: float, rest_hours: float = 0.0) -> Evenness:
        """How even it is after so many hours in the brine or since the pump, and then of rest."""
        slow, usual, fast = salt_m2_s()
        return Evenness(
            hours,
            rest_hours,
            usual=self._shares(usual, hours, rest_hours),
            slow=self._shares(slow, hours, rest_hours),
            fast=self._shares(fast, hours, rest_hours),
        )

    def _shares(self, d_m2_s: float, hours: float, rest_hours: float) -> Shares:
        if self.solid is None:
            return _between_needles(self.depth_mm / 1_000, d_m2_s, hours + rest_hours)
        from board.batches.diffusion import soaked  # noqa: PLC0415 - loads arrays, which the board opens without

        return soaked(self.solid, d_m2_s, 3_600 * hours, 3_600 * rest_hours)


def salt_m2_s() -> tuple[float, float, float]:
    """Salt's coefficient in raw pork at 5 °C, m²/s: the least, the usual and the most of its source."""
    row = table("diffusion")["salt"]
    usual, give = float(row["d_m2_s"]), float(row["plus_minus_m2_s"])
    return usual - give, usual, usual + give


def cooler_c() -> float:
    """The temperature, °C, at which salt's coefficient was measured."""
    return float(table("diffusion")["salt"]["temperature_c"])


def nitrite_m2_s(celsius: float) -> float:
    """Nitrite's coefficient in raw pork, m²/s, by its source's activation energy.

    Raises BoardError outside 2 to 12 °C, where it was measured.
    """
    row = table("diffusion")["nitrite"]
    low, high = row["range_c"]
    if not low <= celsius <= high:
        raise BoardError(f"nitrite's spread is known from {low:g} to {high:g} °C; got {celsius:g} °C")
    gas = float(table("diffusion")["gas_constant"]["kj_mol_k"])
    colder = 1 / (float(row["at_c"]) + _KELVIN) - 1 / (celsius + _KELVIN)
    return float(row["d_m2_s"]) * exp(float(row["ea_kj_mol"]) / gas * colder)


def from_outside(size: Size, mass_kg: float | None = None) -> SaltSpread:
    """Salt soaking in from all sides of a piece: its middle at 90 % of its outside."""
    from board.batches.diffusion import soaked, when  # noqa: PLC0415 - loads arrays
    from board.batches.solids import depth_m, solid_of  # noqa: PLC0415 - loads arrays

    solid, deep = solid_of(size, mass_kg), depth_m(size, mass_kg)
    usual = salt_m2_s()[1]
    hours = when(lambda h: soaked(solid, usual, 3_600 * h).middle, ENOUGH, 2 * deep**2 / usual / 3_600)
    return _spread(hours, deep, f"from outside, the piece taken as {_called(solid, size)}", solid)


def from_needles(holes_m: float | None = None) -> SaltSpread:
    """Injected salt evening out between needle holes so far apart: the farthest point at 90 % of the mean.

    Without `holes_m`, as far apart as practice has them.
    """
    from board.batches.diffusion import when  # noqa: PLC0415 - loads arrays

    apart = float(table("diffusion")["injection"]["spacing_m"]) if holes_m is None else holes_m
    usual = salt_m2_s()[1]
    longest = apart**2 / usual / 3_600
    hours = when(lambda h: _between_needles(apart / 2, usual, h).middle, ENOUGH, longest)
    return _spread(hours, apart / 2, f"between needle holes {1_000 * apart:g} mm apart", None)


def half_way_mm(hours: float) -> float:
    """How deep salt has half of what the outside has, mm; right while it is far from the middle."""
    return 1_000 * _HALF_WAY * sqrt(salt_m2_s()[1] * 3_600 * hours)


def in_hours_or_days(hours: float) -> str:
    """A time as the cook counts it: `1.5 h`, `68 h`, and past four days `9 days`."""
    if hours < 10:
        return f"{round(hours, 1):g} h"
    return f"{hours:.0f} h" if hours < 96 else f"{hours / 24:.0f} days"


def _between_needles(deep_m: float, d_m2_s: float, hours: float) -> Shares:
    from board.batches.diffusion import evened_out  # noqa: PLC0415 - loads arrays

    outer_share = float(table("diffusion")["injection"]["outer_share"])
    return evened_out(deep_m, outer_share, d_m2_s, 3_600 * hours)


def _called(solid: Solid, size: Size) -> str:
    if size.shape in ("block", "ellip"):
        return "an ellipsoid"
    return {1: "a slab", 2: "a short cylinder", 3: "a brick"}[len(solid)]


def _spread(hours: float, deep_m: float, how: str, solid: Solid | None) -> SaltSpread:
    """Hours at the usual coefficient, and at its fastest and slowest: they go as one over it."""
    slow, usual, fast = salt_m2_s()
    return SaltSpread(hours, hours * usual / fast, hours * usual / slow, 1_000 * deep_m, how, solid)
