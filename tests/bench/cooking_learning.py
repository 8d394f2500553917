"""Measures what past cooks are worth: how often spans hold and how wide they are, by how many came before.

    python -m tests.bench.cooking_learning

Houses are drawn from the priors, or from wider ones than the sums assume: their pits, cuts and paper, then
each load; and houses in whose records one cook in ten has a wild time.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from time import perf_counter

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook, PitAir
from board.cooking.estimate import estimate
from board.cooking.learning.evidence import keys_of
from board.cooking.learning.learn import learn
from board.cooking.learning.runs import cook_of
from board.cooking.learning.shares import LASTING, LOAD, shares
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import PIECE_RADIUS_SD, SPOTS_SD, Draws, departed_k, departures, lot_sd
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble, joined
from board.house.files import read_house
from board.house.model import House
from board.house.past import PastCook
from board.house.seeds import seed_house

Floats = NDArray[np.float64]

HISTORIES = (0, 5, 30)
HOUSES = 300
MEMBERS = 96
WIDER = 1.5
TOGETHER = 3000
FIRST = date(2026, 9, 1)
PAIRS = (
    ("brisket", "north", 118.0),
    ("brisket", "south", 120.0),
    ("pork-shoulder", "north", 118.0),
    ("pork-shoulder", "alcove", 121.0),
    ("spare-ribs", "south", 124.0),
    ("turkey-breast", "alcove", 135.0),
    ("chicken-half", "little", 150.0),
)


@dataclass(frozen=True)
class Truth:
    """One drawn house: its loads in time, the last of them the one to foretell."""

    loads: tuple[PastCook, ...]


def truths(house: House, count: int, history: int, seed: int, *, wider: float, wrong: float) -> list[Truth]:
    """Houses with so many loads and one more; each load's minutes as the model cooks it at what was drawn.

    `wider` stretches every departure; `wrong` is the share of past records with a wild time.
    """
    rng = np.random.default_rng(seed)
    asked = [_loads(house, history + 1, rng) for _ in range(count)]
    cooks = [
        cook_of(load, house.cuts[load.cut], PitAir.of(house.pits[load.pit]), house.altitude_m)
        for loads in asked
        for load in loads
    ]
    rows = np.concatenate([_departed(house, loads, rng) for loads in asked]) * wider
    minutes = cooked(cooks, rows, rng)
    found = []
    for n, loads in enumerate(asked):
        took = minutes[n * (history + 1) : (n + 1) * (history + 1)]
        told = [replace(load, minutes=float(t)) for load, t in zip(loads, took, strict=True)]
        slip = rng.random(history) < wrong
        past = [
            replace(x, minutes=x.minutes * float(rng.choice([0.4, 2.5]))) if s else x
            for x, s in zip(told[:-1], slip, strict=True)
        ]
        found.append(Truth((*past, told[-1])))
    return found


def _loads(house: House, count: int, rng: np.random.Generator) -> list[PastCook]:
    found = []
    for n in range(count):
        cut_id, pit, setpoint = PAIRS[rng.integers(len(PAIRS))]
        cut = house.cuts[cut_id]
        wrap = cut.wrap
        found.append(
            PastCook(
                day=FIRST + timedelta(days=n),
                cut=cut_id,
                pit=pit,
                pieces=int(rng.integers(1, 9)),
                mass_kg=cut.mass_kg.usual * float(np.exp(rng.normal(0.0, 0.08))),
                setpoint_c=setpoint + float(rng.choice([-5.0, 0.0, 5.0])),
                minutes=1.0,
                start_c=cut.start_c,
                core_c=None,
                wrap=wrap.material if wrap else None,
                wrap_core_c=wrap.at_core_c if wrap else None,
            )
        )
    return found


def _departed(house: House, loads: Sequence[PastCook], rng: np.random.Generator) -> Floats:
    """Each load's departures: the sum of what its house, kind, pit, cut and the load itself were drawn."""
    told = shares(parameters())
    many = len(told.names) - 1
    drawn: dict[tuple[str, str], Floats] = {}
    rows = np.zeros((len(loads), many))
    for n, load in enumerate(loads):
        keys = keys_of(load.cut, load.pit, house.pits[load.pit].kind) | {LOAD: str(n)}
        for level in (*LASTING, LOAD):
            key = (level, keys[level])
            if key not in drawn:
                drawn[key] = rng.standard_normal(many)
            rows[n] += np.sqrt(told.by[level][:many]) * drawn[key]
    return rows


def cooked(cooks: Sequence[Cook], rows: Floats, rng: np.random.Generator) -> Floats:
    """Minutes of each cook at its departures, its slowest piece among those drawn."""
    names = departures(parameters())
    parts = []
    for cook, row in zip(cooks, rows, strict=True):
        mass = np.exp(lot_sd(cook.cut) * rng.standard_normal(cook.pieces))
        radius = np.exp(PIECE_RADIUS_SD * rng.standard_normal(cook.pieces))
        spot = cook.pit.unevenness_c * SPOTS_SD * rng.standard_normal(cook.pieces)
        slowest = np.argmax(1.5 * (np.log(mass) / 3 + np.log(radius)) - 0.02 * spot)
        normal = {name: np.array([value]) for name, value in zip(names, row, strict=True)}
        air = departed_k(normal["air"], cook.pit) + spot[slowest]
        draws = Draws(normal, mass[[slowest]] / mass.mean(), radius[[slowest]], air)
        parts.append(ensemble(cook, draws, parameters()))
    groups = [joined(parts[n : n + TOGETHER]) for n in range(0, len(parts), TOGETHER)]
    return np.concatenate([run(group, constants(parameters())).pulled_s / 60.0 for group in groups])


def spans(house: House, asked: Sequence[Truth], history: int) -> Iterator[tuple[float, ...]]:
    """Each truth's minutes, its span foretold, and the seconds its learning took."""
    cooks, spent = [], []
    for truth in asked:
        target = truth.loads[-1]
        began = perf_counter()
        air = learn(replace(house, cooks=truth.loads[:history])).air(house.pits[target.pit], target.cut)
        spent.append(perf_counter() - began)
        cooks.append(cook_of(target, house.cuts[target.cut], air, house.altitude_m))
    for truth, found, seconds in zip(asked, estimate(cooks, members=MEMBERS), spent, strict=True):
        span = found.minutes
        yield truth.loads[-1].minutes, span.p10, span.p50, span.p90, seconds


def report(houses: int = HOUSES) -> None:
    """Print how often the 10–90 % span holds before any reading, by history."""
    house = replace(read_house(seed_house("tallow_row")), cooks=())
    print("\nSpans before any reading, by the cooks a house has behind it (mixed cuts on four pits)")
    print("truths            cooks  span holds  width p90/p10  median error  learning ms")
    kinds = (("the priors", 1.0, 0.0), (f"{WIDER:g} times wider", WIDER, 0.0), ("1 in 10 wrong", 1.0, 0.1))
    for name, wider, wrong in kinds:
        longest = truths(house, houses, max(HISTORIES), 11, wider=wider, wrong=wrong)
        for history in HISTORIES:
            asked = [Truth((*t.loads[-1 - history : -1], t.loads[-1])) for t in longest]
            took, p10, p50, p90, spent = np.array(list(spans(house, asked, history))).T
            held = np.mean((p10 <= took) & (took <= p90))
            error = np.median(np.abs(np.log(p50 / took)))
            print(
                f"{name:17s} {history:5d} {held:11.2f} {np.median(p90 / p10):14.2f} "
                f"{100 * error:11.1f} % {1000 * np.median(spent):11.0f}",
                flush=True,
            )


if __name__ == "__main__":
    report()
