"""Draws of what is not known, so spread that a few dozen members give steady percentiles."""

import hashlib
from dataclasses import dataclass, replace
from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import AirCurve, Cook, PitAir
from board.cooking.physics.parameters import Parameters
from board.cooking.tables import number
from board.house.model import Cut
from board.house.spans import Spread

Floats = NDArray[np.float64]

ONE_IN_TWENTY = 1.6449  # standard deviations that leave a twentieth on each side
ONE_IN_TEN = 1.2816
LOT_SHARE, PIECE_RADIUS_SD, SPOTS_SD, BAND_SD = (
    number("parameters", "between", name) for name in ("lot_share", "radius_sd", "spots_sd", "band_sd")
)
SLOWER_A_RADIUS = 1.5  # d ln time / d ln R, to pick the slowest piece
SLOWER_A_KELVIN = 0.02  # −d ln time / dK of air, likewise


@dataclass(frozen=True, slots=True)
class Draws:
    """Each member's departures, in standard deviations by name, and its slowest piece.

    `mass` and `radius` are that piece's ratios to the load's mean; `air_k` the pit's and the place's
    departure from the setpoint. `there` are the same members on the pit they are moved to, where cooks teach
    of either.
    """

    normal: dict[str, Floats]
    mass: Floats
    radius: Floats
    air_k: Floats
    there: "Draws | None" = None


def departures(parameters: Parameters) -> tuple[str, ...]:
    """Everything a load departs in from what is usual, in the order it is drawn."""
    return (*parameters.priors, "h", "humidity", "air")


def middle(parameters: Parameters) -> Draws:
    """One member with everything at its middle."""
    names = departures(parameters)
    return Draws({name: np.zeros(1) for name in names}, np.ones(1), np.ones(1), np.zeros(1))


def drawn(cook: Cook, members: int, seed: int, parameters: Parameters) -> Draws:
    """The members of one cook: the same for the same seed, cut and pit kind, whatever else is asked.

    Setpoint and mass are left out of the stream on purpose: two cooks that differ in them differ by
    physics alone, not by luck of the draw.
    """
    rng = np.random.Generator(np.random.PCG64(_stream(seed, cook)))
    fresh = {name: rng.permutation(_strata(members)) for name in departures(parameters)}
    mass, radius, spot = slowest(cook, members, rng)

    def on(pit: PitAir) -> Draws:
        normal = fresh if pit.known is None else pit.known.moved(fresh)
        return Draws(normal, mass, radius, _air_k(fresh["air"], normal["air"], pit, cook.air) + spot)

    if cook.move is None or cook.pit.known is cook.move.pit.known is None:
        return on(cook.pit)
    return replace(on(cook.pit), there=on(cook.move.pit))


def departed_k(z: Floats, pit: PitAir) -> Floats:
    """How far a pit's mean air over a cook lies from its setpoint, K, so many standard deviations out."""
    return np.asarray(z * pit.control_band_c * BAND_SD)


def _air_k(fresh: Floats, known: Floats, pit: PitAir, air: AirCurve | None) -> Floats:
    """How far the air lies from what is expected of it, K: where it was read, what that leaves open."""
    if air is None or air.departure_k is None:
        return departed_k(known, pit)
    return np.asarray(fresh * air.departure_k)


def spread_at(spread: Spread, z: Floats) -> Floats:
    """A lognormal through a practice range, whose ends are taken as one in twenty.

    A range from nought reaches as far below its usual value, in ratio, as above; one of noughts is nought.
    """
    if spread.usual <= 0.0:
        return np.zeros_like(z)
    low = spread.low if spread.low > 0.0 else spread.usual**2 / spread.high
    sd = np.log(spread.high / low) / (2 * ONE_IN_TWENTY)
    return np.asarray(spread.usual * np.exp(sd * z))


def slowest(cook: Cook, members: int, rng: np.random.Generator) -> tuple[Floats, Floats, Floats]:
    """Mass ratio, radius ratio and place (K) of each member's slowest piece."""
    pieces = cook.pieces
    rows = np.tile(_strata(members), (pieces, 1))
    z_mass, z_radius, z_spot = (rng.permuted(rows, axis=1) for _ in range(3))
    mass = np.exp(lot_sd(cook.cut) * z_mass)
    mass /= mass.mean(axis=0)
    radius = np.exp(PIECE_RADIUS_SD * z_radius)
    spot = cook.pit.unevenness_c * SPOTS_SD * z_spot
    slowness = SLOWER_A_RADIUS * (np.log(mass) / 3 + np.log(radius)) - SLOWER_A_KELVIN * spot
    pick = slowness.argmax(axis=0), np.arange(members)
    return mass[pick], radius[pick], spot[pick]


def lot_sd(cut: Cut) -> float:
    """One standard deviation of ln mass between the pieces of one load."""
    weights = cut.mass_kg
    return float(LOT_SHARE * np.log(weights.high / weights.low) / (2 * ONE_IN_TEN))


@cache
def _strata(members: int) -> Floats:
    """Normal deviates at the middles of equal slices of probability."""
    normal = NormalDist()
    return np.array([normal.inv_cdf((i + 0.5) / members) for i in range(members)])


def _stream(seed: int, cook: Cook) -> int:
    """A seed of its own for a cut on a kind of pit, the same on any machine."""
    key = f"{seed}|{cook.cut.id}|{cook.pit.kind}".encode()
    return int.from_bytes(hashlib.blake2b(key, digest_size=8).digest(), "big")
