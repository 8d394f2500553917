"""One unknown at a time, from its 10th to its 90th percentile, everything else at its middle."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

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


Nudge = tuple[str, Draws]


def centre(blank: Draws, sample: Draws) -> Draws:
    """The middle of a sample of members: of a load's slowest pieces, and where its house's own cooks lie."""
    means = {name: values.mean(keepdims=True) for name, values in sample.normal.items()}
    return Draws(
        normal={name: means.get(name, nought) for name, nought in blank.normal.items()},
        mass=np.exp(np.log(sample.mass).mean(keepdims=True)),
        radius=np.exp(np.log(sample.radius).mean(keepdims=True)),
        air_k=sample.air_k.mean(keepdims=True),
    )


def nudges(base: Draws, sample: Draws) -> list[Nudge]:
    """Two members an unknown, at its 10th and its 90th percentile, about a base."""
    found = []
    for side in (-ONE_IN_TEN, ONE_IN_TEN):
        for name, values in _rows(sample).items():
            found.append((name, _nudged(base, name, side * float(values.std()))))
    return found


def _rows(sample: Draws) -> dict[str, Floats]:
    """What members differ in, each by name."""
    normal = {name: values for name, values in sample.normal.items() if name not in NO_TIME}
    return normal | {"mass": np.log(sample.mass), "girth": np.log(sample.radius), "air": sample.air_k}


def _nudged(base: Draws, name: str, by: float) -> Draws:
    """A member off its base in one thing."""
    if name == "mass":
        return replace(base, mass=base.mass * np.exp(by))
    if name == "girth":
        return replace(base, radius=base.radius * np.exp(by))
    if name == "air":
        return replace(base, air_k=base.air_k + by)
    return replace(base, normal={**base.normal, name: base.normal[name] + by})


def spreadings(base_minutes: float, minutes: Sequence[tuple[Nudge, float]], sample: Draws) -> list[Spreading]:
    """What each group of unknowns does to the time, most telling first.

    ln(time) is taken as a straight line in every unknown, so that its variance is u'Ru with u the effect of
    one standard deviation and R how the unknowns go together; a group's part is its rows of that sum. What a
    house has learned makes unknowns go against each other, and each then tells less than it would alone.
    """
    ends = _ends(base_minutes, minutes)
    rows = _rows(sample)
    effect = np.array([(ends[name][1] - ends[name][0]) / (2 * ONE_IN_TEN) for name in rows])
    parts = effect * (_together(rows) @ effect)
    groups: dict[Unknown, list[int]] = {}
    for i, name in enumerate(rows):
        groups.setdefault(GROUPS.get(name, Unknown.OTHER), []).append(i)
    weights = {group: max(float(parts[own].sum()), 0.0) for group, own in groups.items()}
    total = sum(weights.values()) or 1.0
    found = []
    for group, own in groups.items():
        alone = float((effect[own] ** 2).sum()) or 1.0
        own_ends = [both for name, both in ends.items() if GROUPS.get(name, Unknown.OTHER) is group]
        low, high = _joined(own_ends, (weights[group] / alone) ** 0.5)
        sooner, later = (base_minutes * float(np.expm1(end)) for end in (low, high))
        found.append(Spreading(group, -sooner, later, weights[group] / total))
    return sorted(found, key=lambda s: -s.share)


def _ends(base_minutes: float, minutes: Sequence[tuple[Nudge, float]]) -> dict[str, tuple[float, float]]:
    """ln(time) against the base at both ends of each unknown."""
    logs: dict[str, list[float]] = {}
    for (name, _), its in minutes:
        logs.setdefault(name, []).append(float(np.log(its / base_minutes)))
    return {name: (low, high) for name, (low, high) in logs.items()}


def _together(rows: Mapping[str, Floats]) -> Floats:
    """How members' differences go together: correlations, nought with what never differs."""
    values = np.array([row - row.mean() for row in rows.values()])
    sd = values.std(axis=1)
    scaled = values / np.where(sd > 0.0, sd, 1.0)[:, None]
    return np.asarray(scaled @ scaled.T / values.shape[1])


def _joined(ends: Sequence[tuple[float, float]], scale: float) -> tuple[float, float]:
    """The ends of several unknowns as one: sooner and later each by itself, as squares."""
    low = sum(min(*both, 0.0) ** 2 for both in ends) ** 0.5
    high = sum(max(*both, 0.0) ** 2 for both in ends) ** 0.5
    return -scale * low, scale * high
