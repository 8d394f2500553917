"""Past cooks held against the model: a row for the time each took, and one for the air read in it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import PitAir
from board.cooking.errors import CookingError
from board.cooking.learning.gaussian import Keys, Rows
from board.cooking.learning.runs import Group, Ran, Slopes, cook_of, slowest_of
from board.cooking.learning.shares import LOAD, PROBE, Shares, record
from board.cooking.possible import check
from board.cooking.sampling import SPOTS_SD, departed_k
from board.house.model import Cut, Pit
from board.house.past import PastCook
from board.house.wording import duration

Floats = NDArray[np.float64]

MOST_COOKS = 200  # the latest; older ones say little more
UNTIMED = "a wrong clock wrote some of its times; it teaches once they are put right"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A past cook that was left out of the sum, or counts for little, and why."""

    cook: PastCook
    why: str


def possible(
    cooks: Sequence[PastCook], cuts: Mapping[str, Cut], pits: Mapping[str, Pit], altitude_m: float
) -> tuple[list[PastCook], list[LeftOut]]:
    """The latest cooks the model can be asked about, and those it cannot with the reason."""
    kept, refused = [], []
    for cook in sorted(cooks, key=lambda cook: cook.day)[-MOST_COOKS:]:
        if cook.cut not in cuts or cook.pit not in pits:
            continue
        if cook.is_untimed:
            refused.append(LeftOut(cook, UNTIMED))
            continue
        try:
            check(cook_of(cook, cuts[cook.cut], PitAir.of(pits[cook.pit]), altitude_m))
        except CookingError as error:
            refused.append(LeftOut(cook, str(error)))
        else:
            kept.append(cook)
    return kept, refused


def grouped(
    cooks: Sequence[PastCook], cuts: Mapping[str, Cut], pits: Mapping[str, Pit], altitude_m: float
) -> list[Group]:
    """Cooks by cut, pit and wrap, as they are run together."""
    found: dict[tuple[object, ...], list[PastCook]] = {}
    for cook in cooks:
        found.setdefault((cook.cut, cook.pit, cook.wrap), []).append(cook)
    return [
        Group(cuts[each[0].cut], pits[each[0].pit], PitAir.of(pits[each[0].pit]), altitude_m, tuple(each))
        for each in found.values()
    ]


@dataclass(frozen=True, slots=True)
class Row:
    """One number that a past cook told: ln of its time, or K of its air.

    `wild_sd` is how far it may lie where its record is wrong.
    """

    cook: PastCook
    slopes: Floats
    told: float
    noise: float
    keys: Keys
    wild_sd: float
    is_time: bool


def rows_of(ran: Sequence[Ran], shares: Shares) -> list[Row]:
    """A row for the time of each cook that comes to its end, and one for the air read in it."""
    found = []
    for each in ran:
        for n, (cook, ln) in enumerate(zip(each.group.cooks, each.expected, strict=True)):
            keys = _keys(each.group, cook, n)
            if not np.isnan(ln):
                found.append(_time(each.group, cook, float(ln), each.slopes, keys))
            if cook.air_c is not None:
                found.append(_air(each.group, cook, shares, keys))
    return found


def together(rows: Sequence[Row], shares: Shares) -> Rows:
    """Rows as arrays."""
    return Rows(
        shares=shares,
        slopes=np.array([row.slopes for row in rows]),
        told=np.array([row.told for row in rows]),
        noise=np.array([row.noise for row in rows]),
        keys=tuple(row.keys for row in rows),
    )


def why_not(row: Row, residual: float) -> str:
    """Why a row is left out, given how far it lies from what all others make likely."""
    if row.is_time:
        likely = row.cook.minutes * float(np.exp(-residual))
        return f"took {duration(row.cook.minutes)} where about {duration(likely)} was to be expected"
    return f"air of {row.cook.air_c:.0f} °C was read in a pit asked for {row.cook.setpoint_c:.0f} °C"


def keys_of(cut: str, pit: str, kind: str) -> dict[str, str]:
    """What a cut on a pit shares with other cooks."""
    return {"house": "", "kind": kind, "pit": pit, "cut": cut}


def _keys(group: Group, cook: PastCook, n: int) -> Keys:
    load = f"{group.cut.id}|{group.pit.id}|{cook.wrap}|{n}"
    return keys_of(group.cut.id, group.pit.id, group.pit.kind) | {LOAD: load}


def _time(group: Group, cook: PastCook, expected_ln: float, slope: Slopes, keys: Keys) -> Row:
    """How much longer a cook took than the model says, as a logarithm."""
    trust = record()
    pieces = slowest_of(group.cut, group.air, cook.pieces).covariance
    written = (trust.minutes_sd / cook.minutes) ** 2
    core = (trust.core_sd * slope.core_k) ** 2
    noise = slope.pieces @ pieces @ slope.pieces + written + core
    slopes = np.append(slope.departures, 0.0)  # where a probe hangs moves no cook
    return Row(
        cook, slopes, np.log(cook.minutes) - expected_ln, float(noise), keys, trust.wrong_sd, is_time=True
    )


def _air(group: Group, cook: PastCook, shares: Shares, keys: Keys) -> Row:
    """How far the air that was read lies from the setpoint, K."""
    trust, slopes = record(), np.zeros(len(shares.names))
    slopes[shares.names.index("air")] = departed_k(np.ones(1), group.air)[0]
    slopes[shares.names.index(PROBE)] = SPOTS_SD * group.air.unevenness_c
    assert cook.air_c is not None
    told = cook.air_c - cook.setpoint_c
    return Row(cook, slopes, told, trust.air_sd**2, keys, trust.wrong_air_sd, is_time=False)
