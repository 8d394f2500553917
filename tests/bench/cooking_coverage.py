"""How honest and how near the live estimate is, on synthetic cooks whose end is known.

python -m tests.bench.cooking_coverage [TRUTHS]
"""

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from time import perf_counter

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import AirCurve, Cook, Estimate, PitAir
from board.cooking.estimate import estimate
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.pit_air import Setpoint
from board.cooking.readings.air import measured_air
from board.cooking.readings.paths import to_the_end
from board.cooking.readings.revise import Revision, revise
from board.cooking.sampling import BAND_SD
from board.house.library import library_cut
from board.house.model import PitKind
from board.house.spans import Spread

Floats = NDArray[np.float64]
Readings = list[tuple[float, float]]
Plant = Callable[[Readings, Cook, np.random.Generator], tuple[Readings, set[int]]]

TRUTHS = 500
SHARES = (0.25, 0.5, 0.75)
PROBE_SD_K = 0.5
TRUTHS_SEED = 99
FEW_MEMBERS = 32  # a truth with air of its own is one member of so many
WIDER = 1.5
SWING_MINUTES = 30.0
AIR_EVERY = 20.0
RECOVERY = 10.0
OFFSET = PitAir.usual(PitKind.OFFSET)


@dataclass(frozen=True)
class Truth:
    """One true cook: its minutes and its core's path; `air` is its pit's true air, where that moved."""

    total: float
    minutes: Floats
    core_c: Floats
    air: AirCurve | None = None

    def read(self, upto: float, every: float, noise: np.random.Generator) -> Readings:
        """A probe's readings until a minute."""
        minutes = np.arange(every, upto, every)
        core = np.interp(minutes, self.minutes, self.core_c) + noise.normal(0.0, PROBE_SD_K, len(minutes))
        return list(zip(minutes.tolist(), core.tolist(), strict=True))


@dataclass
class Score:
    """How one share of the cook did over all truths."""

    held: list[bool]
    errors: list[float]
    before: list[float]

    def __str__(self) -> str:
        return f"{np.mean(self.held):6.2f} {np.median(self.errors):5.0f} {np.median(self.before):5.0f}  "


def a_cook(cut: str, setpoint_c: float, pit: PitAir = OFFSET) -> Cook:
    """A cut of its usual weight cooked to its usual end."""
    found = library_cut(cut)
    wrap = found.wrap if cut == "brisket" else None
    return Cook(
        found, found.mass_kg.usual, 1, pit, setpoint_c, found.end_core_c,
        found.start_c, wrap, tender_minutes=found.tender_minutes,
    )  # fmt: skip


COOKS = {
    "brisket, wrapped": a_cook("brisket", 118.0),
    "brisket, bare": replace(a_cook("brisket", 118.0), wrap=None),
    "pork shoulder": a_cook("pork-shoulder", 118.0),
    "beef rib roast": a_cook("beef-rib-roast", 121.0),
    "spare ribs": a_cook("spare-ribs", 121.0),
    "chicken half": a_cook("chicken-half", 135.0),
}


def truths_of(cook: Cook, count: int, using: Parameters | None = None) -> list[Truth]:
    """True cooks, of a seed no estimate uses."""
    found = estimate([cook], members=count, seed=TRUTHS_SEED, curves=True, using=using)[0]
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


def score(
    expected: Estimate, truths: Sequence[Truth], taken: Callable[[Truth, float, int], Revision]
) -> list[Score]:
    """Each share of the cook over all truths."""
    scores = []
    for share in SHARES:
        one = Score([], [], [])
        for number, truth in enumerate(truths):
            found = taken(truth, share * truth.total, number)
            one.held.append(found.p10 <= truth.total <= found.p90)
            one.errors.append(abs(found.p50 - truth.total))
            one.before.append(abs(expected.minutes.p50 - truth.total))
        scores.append(one)
    return scores


def told(name: str, scores: Sequence[Score]) -> None:
    """A row of the table."""
    print(f"{name:42s} " + " ".join(map(str, scores)), flush=True)


def steadily(expected: Estimate, every: float) -> Callable[[Truth, float, int], Revision]:
    """Readings at even times."""
    return lambda truth, upto, number: revise(
        expected, truth.read(upto, every, np.random.default_rng(number))
    )


def three(expected: Estimate) -> Callable[[Truth, float, int], Revision]:
    """Three readings in all."""
    return lambda truth, upto, number: revise(
        expected, truth.read(upto + 1.0, upto / 3.0, np.random.default_rng(number))[:3]
    )


def by_cut(count: int) -> None:
    """Each cut on a pit of its own, read every five minutes."""
    for name, cook in COOKS.items():
        expected = estimate([cook], members=500, curves=True)[0]
        told(name, score(expected, truths_of(cook, count), steadily(expected, 5.0)))


def by_readings(count: int) -> None:
    """The brisket read seldom, by few members, from wider priors than assumed."""
    cook = COOKS["brisket, wrapped"]
    truths = truths_of(cook, count)
    expected = estimate([cook], members=500, curves=True)[0]
    told("brisket, three readings in all", score(expected, truths, three(expected)))
    told("brisket, read every half hour", score(expected, truths, steadily(expected, 30.0)))
    few = estimate([cook], members=96, curves=True)[0]
    told("brisket, 96 members", score(few, truths, steadily(few, 5.0)))
    told("brisket, 96 members, three readings", score(few, truths, three(few)))
    using, pit = wider()
    odd = truths_of(replace(cook, pit=pit), count, using)
    told("brisket, from wider priors", score(expected, odd, steadily(expected, 5.0)))
    told("brisket, from wider priors, three readings", score(expected, odd, three(expected)))


def swinging(cook: Cook, rng: np.random.Generator) -> AirCurve:
    """A pit that runs off its setpoint by a quarter of its band, and swings by half of it."""
    minutes = np.arange(0.0, 48 * 60.0, 5.0)
    stays = np.exp(-5.0 / SWING_MINUTES)
    band = cook.pit.control_band_c
    swing = [rng.normal(0.0, 0.5 * band)]
    for jump in rng.normal(0.0, 0.5 * band * np.sqrt(1 - stays**2), len(minutes) - 1):
        swing.append(stays * swing[-1] + jump)
    celsius = cook.setpoint_c + rng.normal(0.0, BAND_SD * band) + np.array(swing)
    return AirCurve(tuple(minutes.tolist()), tuple(celsius.tolist()), departure_k=1e-9)


def swung(cook: Cook, count: int) -> list[Truth]:
    """True cooks on pits that swing, each on its own."""
    cooks = [replace(cook, air=swinging(cook, np.random.default_rng(1000 + i))) for i in range(count)]
    truths = []
    for i, one in enumerate(cooks):
        found = estimate([one], members=FEW_MEMBERS, seed=2000 + i, curves=True)[0]
        assert found.paths is not None
        path = to_the_end(found.paths.core)[0]
        truths.append(Truth(float(found.member_minutes[0]), found.paths.minutes, path, one.air))
    return truths


def with_air(cook: Cook, members: int) -> Callable[[Truth, float, int], Revision]:
    """The pit read every twenty minutes, by a thermometer with an error of its own."""

    def taken(truth: Truth, upto: float, number: int) -> Revision:
        rng = np.random.default_rng(3000 + number)
        minutes = np.arange(AIR_EVERY, upto, AIR_EVERY)
        assert truth.air is not None
        air = np.interp(minutes, truth.air.minutes, truth.air.celsius)
        air += rng.normal(0.0, 1.5) + rng.normal(0.0, 1.0, len(minutes))
        read = list(zip(minutes.tolist(), air.tolist(), strict=True))
        known = measured_air([Setpoint(0.0, cook.setpoint_c)], RECOVERY, cook.pit.control_band_c, read)
        expected = estimate([replace(cook, air=known)], members=members, curves=True)[0]
        return revise(expected, truth.read(upto, 5.0, np.random.default_rng(number)))

    return taken


def by_pit(count: int) -> None:
    """The brisket on a pit that swings, with its past unknown and known."""
    cook = COOKS["brisket, wrapped"]
    truths = swung(cook, count)
    expected = estimate([cook], members=96, curves=True)[0]
    told("brisket, pit swings, air not read", score(expected, truths, steadily(expected, 5.0)))
    told("brisket, pit swings, air read", score(expected, truths, with_air(cook, 96)))


def main(count: int = TRUTHS) -> None:
    """Print every table."""
    began = perf_counter()
    print(f"{count} true cooks a row; at 1/4, 1/2 and 3/4: span holds, median error min, before any reading")
    by_cut(count)
    by_readings(count)
    by_pit(count)
    print(f"{perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else TRUTHS)
