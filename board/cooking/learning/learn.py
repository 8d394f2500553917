"""What a house's finished cooks teach, put together: of each cut on each pit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import PitAir
from board.cooking.known import Known
from board.cooking.learning.doubt import settled
from board.cooking.learning.evenness import Evenness, evenness_of
from board.cooking.learning.evidence import (
    LeftOut,
    Row,
    grouped,
    keys_of,
    possible,
    rows_of,
    together,
    why_not,
)
from board.cooking.learning.gaussian import Belief, Common, Rows, believed, left_out
from board.cooking.learning.runs import Group, Ran, Slopes, ran, slowest_of
from board.cooking.learning.shares import LOAD, Shares, record, shares
from board.cooking.physics.parameters import parameters
from board.house.model import Cut, House, Pit
from board.house.past import PastCook

Floats = NDArray[np.float64]

DOUBTED = 0.5  # trust below which a record counts as left out
FURTHEST = 4.0  # standard deviations from the middle that a line is drawn anew at


@dataclass(frozen=True, slots=True)
class Learned:
    """What was learned from past cooks, ready to be asked about a cut on a pit.

    `cooks` are those counted, `left_out` those that were not, and why.
    """

    cooks: tuple[PastCook, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    evenness: Mapping[str, Evenness] = field(default_factory=dict)
    scatter: Mapping[str, float] = field(default_factory=dict)
    rows: Rows | None = None
    common: Common | None = None

    def belief(self, cut: str, pit: str, kind: str) -> Belief | None:
        """The lasting departures of a cut on a pit, either of them perhaps new; None without history."""
        if self.rows is None or self.common is None:
            return None
        return believed(self.rows, self.common, keys_of(cut, pit, kind))

    def known(self, cut: str, pit: str, kind: str) -> Known | None:
        """What members of a cut on a pit are drawn from; None without history."""
        belief = self.belief(cut, pit, kind)
        if belief is None or self.rows is None:
            return None
        many = len(self.rows.shares.names) - 1  # where a probe hangs moves no cook
        load = self.rows.shares.by[LOAD][:many] * self.scatter.get(pit, self._usual_scatter())
        spread = _root(belief.covariance[:many, :many] + np.diag(load))
        middle = tuple(float(m) for m in belief.mean[:many])
        return Known(self.rows.shares.names[:many], middle, tuple(tuple(map(float, row)) for row in spread))

    def _usual_scatter(self) -> float:
        """How far the loads of a pit without cooks scatter: as those of the house's others, in the mean."""
        found = list(self.scatter.values())
        return float(np.exp(np.log(found).mean())) if found else 1.0

    def air(self, pit: Pit, cut: str) -> PitAir:
        """The air of one of the house's pits with what was learned of a cut there."""
        return self.taught(PitAir.of(pit), cut, pit.id)

    def taught(self, air: PitAir, cut: str, pit: str) -> PitAir:
        """Air with what was learned of a cut on a pit of that id, perhaps new; the same without history."""
        known = self.known(cut, pit, air.kind)
        return air if known is None else replace(_even(air, pit, self.evenness), known=known)


NOTHING = Learned()


def learn(house: House) -> Learned:
    """What the house's finished cooks teach; the same house is learned from once."""
    if not house.cooks:
        return NOTHING
    cuts = {cook.cut: house.cuts[cook.cut] for cook in house.cooks if cook.cut in house.cuts}
    return _learned(house.cooks, tuple(cuts.values()), tuple(house.pits.values()), house.altitude_m)


@lru_cache(maxsize=8)
def _learned(
    cooks: tuple[PastCook, ...], cuts: tuple[Cut, ...], pits: tuple[Pit, ...], altitude_m: float
) -> Learned:
    """Twice over: slopes with nothing departed, then those where the first answer lies."""
    cut_of, pit_of = {cut.id: cut for cut in cuts}, {pit.id: pit for pit in pits}
    kept, refused = possible(cooks, cut_of, pit_of, altitude_m)
    groups = grouped(kept, cut_of, pit_of, altitude_m)
    if not groups:
        return Learned(left_out=tuple(refused))
    found, told = ran(groups, parameters()), shares(parameters())
    evenness = evenness_of(found)
    first = _summed(rows_of(found, told), told)
    if first.rows is None:
        return Learned(left_out=(*refused, *_never(found)))
    last = _summed(rows_of([_there(each, first, evenness) for each in found], told), told)
    return replace(last, left_out=(*refused, *_never(found), *last.left_out), evenness=evenness)


def _never(found: Sequence[Ran]) -> list[LeftOut]:
    """Cooks that the model never brings to their end."""
    why = "the sums never bring it to its end; look at its setpoint and its core"
    pairs = [pair for each in found for pair in zip(each.group.cooks, each.expected, strict=True)]
    return [LeftOut(cook, why) for cook, ln in pairs if np.isnan(ln)]


def _summed(found: Sequence[Row], told: Shares) -> Learned:
    """The answer of all rows together."""
    if not found:
        return Learned()
    rows = together(found, told)
    pits = [row.cook.pit for row in found]
    wild = np.array([row.wild_sd for row in found])
    common = settled(Common.of(rows), pits, wild, record())
    residual, _ = left_out(common)
    doubted = tuple(
        LeftOut(row.cook, why_not(row, off))
        for row, trust, off in zip(found, common.trust, residual, strict=True)
        if trust < DOUBTED
    )
    out = [each.cook for each in doubted]
    counted = tuple(row.cook for row in found if row.is_time and row.cook not in out)
    scatter = dict(zip(pits, common.scatter.tolist(), strict=True))
    return Learned(counted, doubted, scatter=scatter, rows=rows, common=common)


def _there(ran: Ran, first: Learned, evenness: Mapping[str, Evenness]) -> Ran:
    """A group on a pit as even as it was found to be, its line drawn anew where the first answer lies.

    The time bends in h: a line from m has the slope there, and meets nought half the bend times m² lower.
    """
    group, slopes, belief = ran.group, ran.slopes, first.belief(*ran.group.key, ran.group.pit.kind)
    assert belief is not None
    assert first.rows is not None
    h = first.rows.shares.names.index("h")
    m = float(np.clip(belief.mean[h], -FURTHEST, FURTHEST))
    bent = slopes.departures.copy()
    bent[h] += slopes.bend * m
    air = _even(group.air, group.pit.id, evenness)
    moved = [_slower(group, cook, air, slopes) for cook in group.cooks]
    expected = ran.expected + moved - slopes.bend * m**2 / 2.0
    return Ran(replace(group, air=air), expected, replace(slopes, departures=bent))


def _even(air: PitAir, pit: str, evenness: Mapping[str, Evenness]) -> PitAir:
    """The air of a pit as even as it was found to be."""
    return replace(air, unevenness_c=evenness[pit].kelvin.p50) if pit in evenness else air


def _slower(group: Group, cook: PastCook, air: PitAir, slopes: Slopes) -> float:
    """How much longer, in ln, a load's slowest piece takes in air less even."""
    there, here = (slowest_of(group.cut, a, cook.pieces).mean for a in (air, group.air))
    return float(slopes.pieces @ (there - here))


def _root(covariance: Floats) -> Floats:
    """The symmetric square root of a covariance."""
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray((vectors * np.sqrt(np.maximum(values, 0.0))) @ vectors.T)
