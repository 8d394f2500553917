"""Synthetic cooks whose end is known, to hold the live estimate against."""

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import AirCurve, Cook, Estimate, PitAir
from board.cooking.estimate import estimate
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.readings.paths import to_the_end
from board.cooking.readings.sieve import Limits, limits_of
from board.cooking.sampling import BAND_SD
from board.house.library import library_cut
from board.house.model import PitKind
from board.house.spans import Spread

Floats = NDArray[np.float64]

PROBE_SD_K = 0.5
SEED = 99  # no estimate's
WIDER = 1.5
SWING_BANDS = 0.5
SWING_MINUTES = 30.0
FIRE_LOW_K = 50.0
ONE_OF = 32  # truths on pits of their own are made so many at a time
OFFSET = PitAir.usual(PitKind.OFFSET)


@dataclass(frozen=True)
class Truth:
    """One true cook: its minutes and its core's path; `air` is its pit's true air, where that swings."""

    total: float
    minutes: Floats
    core_c: Floats
    air: AirCurve | None = None

    def core_at(self, minutes: Floats) -> Floats:
        """The true core, °C."""
        return np.interp(minutes, self.minutes, self.core_c)

    def read(self, upto: float, every: float, seed: int) -> list[tuple[float, float]]:
        """A probe's readings until a minute."""
        minutes = np.arange(every, upto, every)
        core = self.core_at(minutes) + np.random.default_rng(seed).normal(0.0, PROBE_SD_K, len(minutes))
        return list(zip(minutes.tolist(), core.tolist(), strict=True))


def a_cook(cut: str, setpoint_c: float, *, wrapped: bool = False) -> Cook:
    """A cut of its usual weight cooked to its usual end on an offset pit of which only the kind is known."""
    found = library_cut(cut)
    return Cook(
        found,
        found.mass_kg.usual,
        1,
        OFFSET,
        setpoint_c,
        found.end_core_c,
        found.start_c,
        found.wrap if wrapped else None,
        tender_minutes=found.tender_minutes,
    )


COOKS = {
    "brisket, wrapped": a_cook("brisket", 118.0, wrapped=True),
    "brisket, bare": a_cook("brisket", 118.0),
    "pork shoulder": a_cook("pork-shoulder", 118.0),
    "beef rib roast": a_cook("beef-rib-roast", 121.0),
    "spare ribs": a_cook("spare-ribs", 121.0),
    "chicken half": a_cook("chicken-half", 135.0),
}


@cache
def expected_of(cook: Cook, members: int = 500) -> Estimate:
    """What is expected of a cook."""
    return estimate([cook], members=members, curves=True, thin_ends=False)[0]


@cache
def limits(cook: Cook, members: int = 500) -> Limits:
    """The bounds of its core."""
    return limits_of(cook, expected_of(cook, members))


def truths_of(cook: Cook, count: int, using: Parameters | None = None) -> list[Truth]:
    """True cooks, of a seed no estimate uses."""
    found = estimate([cook], members=count, seed=SEED, curves=True, thin_ends=False, using=using)[0]
    assert found.paths is not None
    paths = to_the_end(found.paths.core)
    return [
        Truth(float(total), found.paths.minutes, path)
        for total, path in zip(found.member_minutes, paths, strict=True)
    ]


def wider() -> tuple[Parameters, PitAir]:
    """The priors with every spread half as wide again."""
    chosen = parameters()
    priors = {name: replace(prior, sd=WIDER * prior.sd) for name, prior in chosen.priors.items()}
    pit = replace(
        OFFSET,
        h_c=_wider(OFFSET.h_c),
        humidity=_wider(OFFSET.humidity),
        control_band_c=WIDER * OFFSET.control_band_c,
        unevenness_c=WIDER * OFFSET.unevenness_c,
    )
    return replace(chosen, priors=priors), pit


def _wider(spread: Spread) -> Spread:
    """A range half as wide again, in ratio."""
    usual = spread.usual
    return Spread(usual * (spread.low / usual) ** WIDER, usual, usual * (spread.high / usual) ** WIDER)


def swinging(cook: Cook, rng: np.random.Generator, fire_out: float = 0.0) -> AirCurve:
    """A pit that runs off its setpoint by a quarter of its band, and swings by half of it.

    `fire_out` is for how many minutes its fire is low, 50 K under, some time in the first five hours.
    """
    minutes = np.arange(0.0, 48 * 60.0, 5.0)
    stays, band = np.exp(-5.0 / SWING_MINUTES), cook.pit.control_band_c
    swing = [rng.normal(0.0, SWING_BANDS * band)]
    for jump in rng.normal(0.0, SWING_BANDS * band * np.sqrt(1 - stays**2), len(minutes) - 1):
        swing.append(stays * swing[-1] + jump)
    celsius = cook.setpoint_c + rng.normal(0.0, BAND_SD * band) + np.array(swing)
    low = rng.uniform(30.0, 300.0 - fire_out)
    celsius -= np.where((minutes >= low) & (minutes < low + fire_out), FIRE_LOW_K, 0.0)
    return AirCurve(tuple(minutes.tolist()), tuple(celsius.tolist()), departure_k=1e-9)


def swung(cook: Cook, count: int, fire_out: float = 0.0) -> list[Truth]:
    """True cooks, each on a pit that swings on its own; in each lot of them every one is another member."""
    truths = []
    for first in range(0, count, ONE_OF):
        airs = [swinging(cook, np.random.default_rng(1000 + first + i), fire_out) for i in range(ONE_OF)]
        cooks = [replace(cook, air=air) for air in airs]
        lot = estimate(cooks, members=ONE_OF, seed=2000 + first, curves=True, thin_ends=False)
        for which, (air, found) in enumerate(zip(airs, lot, strict=True)):
            assert found.paths is not None
            path = to_the_end(found.paths.core)[which]
            truths.append(Truth(float(found.member_minutes[which]), found.paths.minutes, path, air))
    return truths[:count]
