"""What finishes of one day share: draws of house, night, pit and cut, so that loads are late together."""

import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from importlib.resources import files
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class Cooked:
    """What a load shares with others: the kind of its pit, its pit and its cut."""

    kind: str
    pit: str
    cut: str


@dataclass(frozen=True, slots=True)
class Factors:
    """Shares of the variance of ln(time) by who shares it, summing to one, and how it is simulated."""

    house: float
    night: float
    kind: float
    pit: float
    cut: float
    load: float
    draws: int
    seed: int
    most_quantile: float


@cache
def usual_factors() -> Factors:
    """The shares of the package's table."""
    table = tomllib.loads(files("board.planning").joinpath("data/risk.toml").read_text(encoding="utf-8"))
    return Factors(**table["shares"], **table["simulation"])


@dataclass
class Drawn:
    """Standard normal draws: one row for each thing shared, drawn when first met, mirrored about nought."""

    factors: Factors
    rng: np.random.Generator = field(init=False)
    shared: dict[tuple[str, str], Floats] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.rng = np.random.default_rng(self.factors.seed)

    def of(self, load: Cooked) -> Floats:
        """How far each draw of a load's ln(time) lies from its middle, in standard deviations."""
        f = self.factors
        terms = (
            (f.house, "house", ""),
            (f.night, "night", ""),
            (f.kind, "kind", load.kind),
            (f.pit, "pit", load.pit),
            (f.cut, "cut", load.cut),
        )
        found: Floats = self._fresh() * f.load**0.5
        for share, what, which in terms:
            found = found + share**0.5 * self._row(what, which)
        return found

    def _row(self, what: str, which: str) -> Floats:
        if (what, which) not in self.shared:
            self.shared[what, which] = self._fresh()
        return self.shared[what, which]

    def _fresh(self) -> Floats:
        half = self.rng.standard_normal(self.factors.draws // 2)
        both: Floats = np.concatenate([half, -half])
        return both


def draws_of(loads: Sequence[Cooked], factors: Factors) -> Iterator[Floats]:
    """Draws of each load, one load after another; the same loads in the same order give the same."""
    drawn = Drawn(factors)
    return (drawn.of(load) for load in loads)


def score(chance: float) -> float:
    """The standard normal score of a chance, finite for 0 and 1."""
    return _NORMAL.inv_cdf(min(max(chance, 1e-12), 1 - 1e-12))


@lru_cache(maxsize=1024)
def quantile_together(loads: tuple[Cooked, ...], wanted: float, factors: Factors) -> float:
    """The chance each of these loads must reach, all the same, so that all are done with the wanted one.

    All are done at a score when the slowest is: the wanted quantile of the slowest score is the answer.
    """
    if len(loads) < 2:
        return wanted
    slowest = np.full(factors.draws // 2 * 2, -np.inf)
    for z in draws_of(loads, factors):
        np.maximum(slowest, z, out=slowest)
    reached = _NORMAL.cdf(float(np.quantile(slowest, wanted)))
    return max(wanted, min(reached, factors.most_quantile))
