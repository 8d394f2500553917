"""How long each cook of a plan takes, as quantiles, for every pit and setpoint it could have."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

from board.cooking.cook import AirCurve
from board.cooking.estimate import Cook, Estimate, PitAir, estimate
from board.cooking.learning.learn import NOTHING, Learned
from board.house.model import Cut, Pit
from board.house.spans import Span

_NORMAL = NormalDist()
_Z_90 = _NORMAL.inv_cdf(0.9)

# Pieces are counted up to one of these, so that loads of like size share one estimate.
_COUNTS = (1, 3, 8, 20, 60)


@dataclass(frozen=True, slots=True)
class CookTime:
    """Minutes from on the pit to pulled, with the spread between its quantiles.

    Between and beyond the three quantiles it is a two-sided log-normal: exact at 10, 50 and 90 %.
    """

    minutes: Span
    wrap_minutes: float | None

    def quantile(self, q: float) -> float:
        """Minutes within which the share q of such cooks is done; q in (0, 1)."""
        z = _NORMAL.inv_cdf(q) / _Z_90
        end = self.minutes.p90 if z >= 0 else self.minutes.p10
        return float(self.minutes.p50 * (end / self.minutes.p50) ** abs(z))

    def longer(self, minutes: float) -> "CookTime":
        """The same cook with so many minutes more, its wrapping put off in proportion."""
        if minutes <= 0:
            return self
        m = self.minutes
        wrap = None if self.wrap_minutes is None else self.wrap_minutes * (1 + minutes / m.p50)
        return CookTime(Span(m.p10 + minutes, m.p50 + minutes, m.p90 + minutes), wrap)

    def chance(self, minutes: float) -> float:
        """The share of such cooks that is done within so many minutes; the inverse of `quantile`."""
        if minutes <= 0:
            return 0.0
        ratio = math.log(minutes / self.minutes.p50)
        end = self.minutes.p90 if ratio >= 0 else self.minutes.p10
        width = abs(math.log(end / self.minutes.p50))
        return _NORMAL.cdf(_Z_90 * ratio / max(width, 1e-9))


@dataclass(frozen=True, slots=True)
class AirChange:
    """Air brought to another heat at a minute after loading, within so many minutes."""

    minute: float
    within_minutes: float
    air_c: float


@dataclass(frozen=True, slots=True)
class CookQuestion:
    """One cook a plan may contain: so many pieces of a cut on a pit, in the air where they lie."""

    cut: str
    pit: str
    air_c: float
    pieces: int
    then: AirChange | None = None


def counted(pieces: int) -> int:
    """The piece count an estimate is made for: the next of a short list of sizes."""
    return next((n for n in _COUNTS if n >= pieces), _COUNTS[-1])


def cook_times(
    questions: Iterable[CookQuestion],
    cuts: Mapping[str, Cut],
    pits: Mapping[str, Pit],
    *,
    altitude_m: float,
    seed: int,
    members: int = 64,
    learned: Learned = NOTHING,
) -> dict[CookQuestion, CookTime]:
    """Estimate every question in one call of the cooking ensemble; pits alike in their air share one.

    `learned` is what the house's own cooks teach of its pits and cuts.
    """
    asked = list(dict.fromkeys(questions))
    airs = {
        (cut, pit): learned.air(pits[pit], cut) for cut, pit in dict.fromkeys((q.cut, q.pit) for q in asked)
    }
    cooks = {q: _cook(q, cuts, airs[q.cut, q.pit], altitude_m) for q in asked}
    distinct = list(dict.fromkeys(cooks.values()))
    answers = dict(zip(distinct, _estimated(tuple(distinct), members, seed), strict=True))
    return {
        question: CookTime(
            answers[cook].minutes, wrap.p50 if (wrap := answers[cook].wrap_minutes) is not None else None
        )
        for question, cook in cooks.items()
    }


@lru_cache(maxsize=16)
def _estimated(cooks: tuple[Cook, ...], members: int, seed: int) -> tuple[Estimate, ...]:
    """One run of the ensemble; a day planned again asks the same question."""
    return tuple(estimate(cooks, members=members, seed=seed))


def _cook(question: CookQuestion, cuts: Mapping[str, Cut], air: PitAir, altitude_m: float) -> Cook:
    cut = cuts[question.cut]
    return Cook(
        cut=cut,
        mass_kg=cut.mass_kg.usual,
        pieces=question.pieces,
        pit=air,
        setpoint_c=question.air_c,
        until_core_c=cut.end_core_c,
        start_c=cut.start_c,
        wrap=cut.wrap,
        rest=None,
        altitude_m=altitude_m,
        tender_minutes=cut.tender_minutes,
        air=None if question.then is None else changed_air(question.air_c, question.then),
    )


def changed_air(air_c: float, then: AirChange) -> AirCurve:
    """Air (°C) that is brought to another heat on the way."""
    reached = then.minute + max(1.0, then.within_minutes)
    return AirCurve((0.0, then.minute, reached), (air_c, air_c, then.air_c))
