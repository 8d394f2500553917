"""How honest and how near the live estimate is, on synthetic cooks whose end is known.

python -m tests.bench.cooking_coverage [TRUTHS]
"""

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from time import perf_counter

import numpy as np

from board.cooking.cook import AirCurve, Estimate
from board.cooking.estimate import estimate
from board.cooking.pit_air import Setpoint
from board.cooking.readings.air import measured_air
from board.cooking.readings.revise import Revision, revise
from board.cooking.readings.sieve import sieve
from tests.bench import cooking_sieve
from tests.bench.cooking_truths import COOKS, Truth, expected_of, limits, swung, truths_of, wider

TRUTHS = 500
SHARES = (0.25, 0.5, 0.75)
LIVE = 128  # members of the board's live estimate
AIR_EVERY = 20.0
RECOVERY = 10.0
AT_ONCE = 64
BRISKET = COOKS["brisket, wrapped"]
Reader = Callable[[Truth, float, int], Revision]


@dataclass
class Score:
    """How one share of the cook did over all truths."""

    held: list[bool] = field(default_factory=list)
    errors: list[float] = field(default_factory=list)
    warned: list[bool] = field(default_factory=list)

    def add(self, truth: Truth, found: Revision) -> None:
        """Count one answer."""
        self.held.append(found.p10 <= truth.total <= found.p90)
        self.errors.append(abs(found.p50 - truth.total))
        self.warned.append(found.warning is not None)

    def __str__(self) -> str:
        return f"{np.mean(self.held):5.2f} {np.median(self.errors):4.0f} {100 * np.mean(self.warned):3.0f} "


def told(name: str, expected: Estimate, truths: Sequence[Truth], reader: Reader) -> None:
    """A row: before any reading, then each share of the cook."""
    scores = []
    for share in SHARES:
        score = Score()
        for number, truth in enumerate(truths):
            score.add(truth, reader(truth, share * truth.total, number))
        scores.append(score)
    told_scores(name, expected, truths, scores)


def told_scores(name: str, expected: Estimate, truths: Sequence[Truth], scores: Sequence[Score]) -> None:
    """A row of scores."""
    before = np.median([abs(expected.minutes.p50 - truth.total) for truth in truths])
    print(f"{name:44s} {before:5.0f}  " + " ".join(map(str, scores)), flush=True)


def steadily(expected: Estimate, every: float) -> Reader:
    """Readings at even times."""
    return lambda truth, upto, number: revise(expected, truth.read(upto, every, number))


def slope(truth: Truth, upto: float, number: int) -> Revision:
    """The slope of the last hour drawn on to the aim: what a chart on the wall gives."""
    (first, _), (last, core_c) = readings = [truth.read(upto, 5.0, number)[i] for i in (-13, -1)]
    rate = max((core_c - readings[0][1]) / (last - first), 1e-3)
    end = last + max(0.0, BRISKET.until_core_c - core_c) / rate
    return Revision(end, end, end)


def three(expected: Estimate) -> Reader:
    """Three readings in all."""
    return lambda truth, upto, number: revise(expected, truth.read(upto + 1.0, upto / 3.0, number)[:3])


def by_cut(count: int) -> None:
    """Each cut, read every five minutes."""
    for name, cook in COOKS.items():
        expected = expected_of(cook)
        told(
            f"{name}, {expected.minutes.p50 / 60:.1f} h",
            expected,
            truths_of(cook, count),
            steadily(expected, 5.0),
        )


def by_readings(count: int) -> None:
    """The brisket read seldom, by few members, from wider priors than assumed."""
    truths, expected, few = truths_of(BRISKET, count), expected_of(BRISKET), expected_of(BRISKET, LIVE)
    using, pit = wider()
    odd = truths_of(replace(BRISKET, pit=pit), count, using)
    for name, theirs, who, reader in (
        ("slope of the last hour alone", expected, truths, slope),
        ("every half hour", expected, truths, steadily(expected, 30.0)),
        ("three readings in all", expected, truths, three(expected)),
        (f"{LIVE} members, as the board", few, truths, steadily(few, 5.0)),
        (f"{LIVE} members, three readings", few, truths, three(few)),
        ("truths from wider priors", expected, odd, steadily(expected, 5.0)),
        ("truths from wider priors, three readings", expected, odd, three(expected)),
    ):
        told(f"brisket, {name}", theirs, who, reader)


def by_faults(count: int) -> None:
    """The brisket read every quarter of an hour, three faults in its readings, sieved and not."""
    truths, expected = truths_of(BRISKET, count), expected_of(BRISKET)
    told("brisket, every quarter hour", expected, truths, steadily(expected, 15.0))
    told("brisket, three faults, sieved", expected, truths, spoilt(expected, sieved=True))
    told("brisket, three faults, not sieved", expected, truths, spoilt(expected, sieved=False))


def spoilt(expected: Estimate, *, sieved: bool) -> Reader:
    """Three faults of different kinds planted; what no probe reads is left to the sieve in both."""

    def reader(truth: Truth, upto: float, number: int) -> Revision:
        rng = np.random.default_rng(5000 + number)
        minutes, core = (np.array(row) for row in zip(*truth.read(upto, 15.0, number), strict=True))
        for name in rng.choice(list(cooking_sieve.FAULTS), 3, replace=False):
            minutes, core, _ = cooking_sieve.FAULTS[name](minutes, core, BRISKET.setpoint_c, rng)
        readings = list(zip(minutes.tolist(), core.tolist(), strict=True))
        if sieved:
            return revise(expected, sieve(limits(BRISKET), readings).kept)
        return revise(expected, [one for one in readings if -30.0 <= one[1] <= 130.0])

    return reader


def by_pit(count: int) -> None:
    """The brisket on a pit that swings, and whose fire is low for two hours, its past unknown and known."""
    expected = expected_of(BRISKET, LIVE)
    for name, fire_out in (("pit swings", 0.0), ("fire low for two hours", 120.0)):
        truths = swung(BRISKET, count, fire_out)
        told(f"brisket, {name}, air not read", expected, truths, steadily(expected, 5.0))
        scores = [with_air(truths, share) for share in SHARES]
        told_scores(f"brisket, {name}, air read", expected, truths, scores)


def with_air(truths: Sequence[Truth], share: float) -> Score:
    """The air read every twenty minutes until some way through, each cook estimated again with its own."""
    score = Score()
    for first in range(0, len(truths), AT_ONCE):
        some = truths[first : first + AT_ONCE]
        cooks = [
            replace(BRISKET, air=air_read(truth, share * truth.total, first + i))
            for i, truth in enumerate(some)
        ]
        for i, expected in enumerate(estimate(cooks, members=LIVE, curves=True, thin_ends=False)):
            truth = some[i]
            score.add(truth, revise(expected, truth.read(share * truth.total, 5.0, first + i)))
    return score


def air_read(truth: Truth, upto: float, number: int) -> AirCurve:
    """A pit's air as its readings tell it, by a thermometer with an error of its own."""
    assert truth.air is not None
    rng = np.random.default_rng(3000 + number)
    minutes = np.arange(AIR_EVERY, upto, AIR_EVERY)
    air = np.interp(minutes, truth.air.minutes, truth.air.celsius)
    air += rng.normal(0.0, 1.5) + rng.normal(0.0, 1.0, len(minutes))
    read = list(zip(minutes.tolist(), air.tolist(), strict=True))
    return measured_air([Setpoint(0.0, BRISKET.setpoint_c)], RECOVERY, BRISKET.pit.control_band_c, read)


def speed() -> None:
    """What one more reading costs, in milliseconds: all the readings sieved and the span narrowed."""
    truth = truths_of(BRISKET, 8)[0]
    for members in (LIVE, 500):
        expected = expected_of(BRISKET, members)
        bounds = limits(BRISKET, members)
        for every in (1.0, 5.0, 30.0):
            readings = truth.read(0.75 * truth.total, every, 0)
            spent = []
            for _ in range(20):
                began = perf_counter()
                revise(expected, sieve(bounds, readings).kept)
                spent.append(1000 * (perf_counter() - began))
            print(f"{len(readings):4d} readings, {members} members: {np.median(spent):.1f} ms")


def report(count: int = TRUTHS) -> None:
    """Print every table."""
    print(f"\nSpans of 10 to 90 % on {count} true cooks a row. Median error before any reading, min; then")
    print("at 1/4, 1/2, 3/4 of the cook: share of spans that hold, median error, min, and warned of, %")
    by_cut(count)
    by_readings(count)
    by_faults(count)
    by_pit(count)
    speed()
    cooking_sieve.report()


if __name__ == "__main__":
    report(int(sys.argv[1]) if len(sys.argv) > 1 else TRUTHS)
