"""One unknown at a time, from its 10th to its 90th percentile, everything else at its middle."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.account.figures import Spreading, Unknown
from board.cooking.sampling import ONE_IN_TEN, Draws

Floats = NDArray[np.float64]

# Which unknown each of the members' draws belongs to; one of no group is `other`.
GROUPS: Mapping[str, Unknown] = {
    "h": Unknown.PIT_HEAT,
    "emissivity": Unknown.PIT_HEAT,
    "humidity": Unknown.PIT_DAMP,
    "air": Unknown.PIT_AIR,
    "mass": Unknown.PIECES,
    "girth": Unknown.PIECES,
    "radius": Unknown.SHAPE,
    "roundness": Unknown.SHAPE,
    "conductivity": Unknown.MEAT,
    "heat": Unknown.MEAT,
    "expelled": Unknown.JUICE,
    "midpoint": Unknown.JUICE,
    "width": Unknown.JUICE,
    "lag": Unknown.JUICE,
    "wicking": Unknown.JUICE,
    "paper": Unknown.WRAP,
    "foil_gap": Unknown.WRAP,
    "start": Unknown.START,
}
NO_TIME = frozenset({"box", "rendered", "air"})  # a rest's, a weight's, and one that `air_k` carries


@dataclass(frozen=True, slots=True)
class Nudged:
    """The load's slowest piece with one draw at its 10th or 90th percentile."""

    name: str
    draws: Draws


def usual(middle: Draws, sample: Draws) -> Draws:
    """One piece where its house's own cooks say that it lies; at the priors' middles without history."""
    means = {name: values.mean(keepdims=True) for name, values in sample.normal.items()}
    return replace(middle, normal={name: means.get(name, z) for name, z in middle.normal.items()})


def slowest(middle: Draws, sample: Draws) -> Draws:
    """The middle of the pieces that are the slowest of their loads."""
    return replace(
        middle,
        mass=np.exp(np.log(sample.mass).mean(keepdims=True)),
        radius=np.exp(np.log(sample.radius).mean(keepdims=True)),
        air_k=sample.air_k.mean(keepdims=True),
    )


def nudges(base: Draws, sample: Draws) -> list[Nudged]:
    """Two members an unknown, about a base."""
    found = []
    for side in (-ONE_IN_TEN, ONE_IN_TEN):
        for name in base.normal:
            if name not in NO_TIME:
                normal = {**base.normal, name: base.normal[name] + side * sample.normal[name].std()}
                found.append(Nudged(name, replace(base, normal=normal)))
        mass = base.mass * np.exp(side * np.log(sample.mass).std())
        girth = base.radius * np.exp(side * np.log(sample.radius).std())
        found += [
            Nudged("mass", replace(base, mass=mass)),
            Nudged("girth", replace(base, radius=girth)),
            Nudged("air", replace(base, air_k=base.air_k + side * sample.air_k.std())),
        ]
    return found


def spreadings(base_minutes: float, nudged: Sequence[Nudged], minutes: Sequence[float]) -> list[Spreading]:
    """What each group of unknowns does to the time, most telling first.

    Draws are independent, so their effects on ln(time) add as squares.
    """
    logs: dict[str, list[float]] = {}
    for nudge, its in zip(nudged, minutes, strict=True):
        logs.setdefault(nudge.name, []).append(float(np.log(its / base_minutes)))
    groups: dict[Unknown, list[tuple[float, float]]] = {}
    for name, both in logs.items():
        groups.setdefault(GROUPS.get(name, Unknown.OTHER), []).append((min(*both, 0.0), max(*both, 0.0)))
    ends = {group: _together(parts) for group, parts in groups.items()}
    total = sum((high - low) ** 2 for low, high in ends.values()) or 1.0
    found = [
        Spreading(
            group,
            base_minutes * float(1.0 - np.exp(low)),
            base_minutes * float(np.exp(high) - 1.0),
            (high - low) ** 2 / total,
        )
        for group, (low, high) in ends.items()
    ]
    return sorted(found, key=lambda s: -s.share)


def _together(parts: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Independent departures of ln(time) joined, each side by itself."""
    low, high = np.sqrt((np.array(parts) ** 2).sum(axis=0))
    return -float(low), float(high)
