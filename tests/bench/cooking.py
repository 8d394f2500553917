"""Measures the cooking model and prints tables: time, memory, exactness, published times, coverage.

python -m tests.bench.cooking
"""

import resource
from collections.abc import Callable
from dataclasses import replace
from statistics import median
from time import perf_counter

import numpy as np

from board.cooking.cook import Cook, PitAir
from board.cooking.estimate import estimate
from board.cooking.physics.parameters import parameters
from board.cooking.readings.revise import revise
from board.cooking.sampling import middle
from board.cooking.solver.course import Trace, constants, run
from board.cooking.solver.ensemble import NODES, ensemble
from board.house.library import library_cuts
from board.house.model import PitKind
from tests.bench.cooking_fit import report
from tests.cooking import bodies, stiff
from tests.cooking import published as p
from tests.cooking.lab import core_at, plain_air, plain_meat
from tests.cooking.test_stiff import COOKS, legs_of, piece_of

REPEATS = 5
PIT = PitAir.usual(PitKind.OFFSET)
BRISKET = replace(p.CENTRE_BRISKET, pit=PIT)


def timed(work: Callable[[], object]) -> float:
    """Median milliseconds of a few runs."""
    spent = []
    for _ in range(REPEATS):
        began = perf_counter()
        work()
        spent.append(1000 * (perf_counter() - began))
    return median(spent)


def plan_cooks() -> list[Cook]:
    """What a plan asks for: fifty loads of six pieces, mixed cuts, some wrapped."""
    cooks = []
    for cut in library_cuts().values():
        for setpoint in (112.0, 121.0, 135.0):
            wrap = cut.wrap if cut.wrap and cut.wrap.at_core_c < cut.pull_core_c else None
            cooks.append(Cook(cut, cut.mass_kg.usual, 6, PIT, setpoint, cut.pull_core_c, 4.0, wrap))
    return cooks[:50]


def speed() -> None:
    """Times of the calls the board makes, and the memory after them."""
    cooks = plan_cooks()
    found = estimate([BRISKET], members=500, curves=True)[0]
    readings = [(float(m), 4.0 + 55.0 * (1 - np.exp(-m / 150.0))) for m in range(5, 360, 1)]
    long_cook = replace(BRISKET, setpoint_c=107.0)
    print("What                                             median ms")
    for name, work in (
        ("50 mixed cooks, 64 members", lambda: estimate(cooks, members=64)),
        ("one brisket, 200 members, with curves", lambda: estimate([BRISKET], members=200, curves=True)),
        ("one brisket at 107 °C (16 h), 500 members", lambda: estimate([long_cook], members=500)),
        ("a revision by 355 readings, 500 members", lambda: revise(found, readings)),
    ):
        print(f"{name:48s} {timed(work):9.1f}")
    print(f"peak memory of this process {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


def exactness() -> None:
    """Conduction against the exact series, and the order of convergence in nodes."""
    seconds = np.arange(1200.0, 4 * 3600 + 1, 600.0)
    radius, k, heat, h = 0.05, 0.46, 3.45e6, 15.0
    print("\nCore against exact series after 20 min, K     nodes 10     20     40     80")
    for name, g in (("slab", 0.0), ("cylinder", 1.0), ("sphere", 2.0)):
        exact = 115.0 - 110.0 * bodies.series(g, h * radius / k).centre(k / heat * seconds / radius**2)
        errors = [
            np.abs(
                core_at(plain_meat(radius, g, k, heat, n), plain_air(h, 115.0), 5.0, seconds, 15.0) - exact
            ).max()
            for n in (10, 20, 40, 80)
        ]
        print(f"{name:46s} " + " ".join(f"{e:7.4f}" for e in errors))
    print(f"the board uses {NODES} nodes")


def against_a_stiff_solver() -> None:
    """Five cooks against SciPy's BDF on the same equations, with the time a member takes in each."""
    chosen = parameters()
    print(
        "\nAgainst BDF                        core K   wrap s   pull s   BDF ms   ours, a member of 500, ms"
    )
    for name, cook in COOKS.items():
        members = ensemble(cook, middle(chosen), chosen)
        legs, trace = legs_of(cook, members), Trace([], [], [])
        course = run(members, constants(chosen), trace)
        seconds, core = np.array(trace.seconds)[:, 0], np.array(trace.core)[:, 0]
        piece = piece_of(cook, members)
        began = perf_counter()
        theirs, switches = stiff.course(piece, legs, cook.start_c, seconds)
        spent = 1000 * (perf_counter() - began)
        pull = course.pulled_s[0] - switches[-2 if cook.rest else -1]
        wrap = course.wrapped_s[0] - switches[0] if cook.wrap else float("nan")
        ours = timed(lambda cook=cook: estimate([cook], members=500)) / 500  # type: ignore[misc]
        worst = np.nanmax(np.abs(core - theirs))
        print(f"{name:32s} {worst:8.4f} {wrap:8.2f} {pull:8.2f} {spent:8.0f} {ours:12.2f}")


def coverage() -> None:
    """Synthetic briskets of another seed, read every five minutes: how often the span holds."""
    expected = estimate([BRISKET], members=500, curves=True)[0]
    truths = estimate([BRISKET], members=500, seed=99, curves=True)[0]
    assert truths.paths is not None
    noise = np.random.default_rng(1)
    print("\nShare of the cook   span holds   median error min   before any reading   slope of the last hour")
    for share in (0.25, 0.5, 0.75):
        held, errors, prior, slope = [], [], [], []
        for i, true in enumerate(truths.member_minutes):
            minutes = np.arange(5.0, share * true, 5.0)
            path = np.nan_to_num(truths.paths.core[i], nan=BRISKET.until_core_c)
            core = np.interp(minutes, truths.paths.minutes, path) + noise.normal(0.0, 0.5, len(minutes))
            found = revise(expected, list(zip(minutes.tolist(), core.tolist(), strict=True)))
            held.append(found.p10 <= true <= found.p90)
            errors.append(abs(found.p50 - true))
            prior.append(abs(expected.minutes.p50 - true))
            rate = max((core[-1] - core[-13]) / 60.0, 1e-3)
            slope.append(abs(minutes[-1] + (BRISKET.until_core_c - core[-1]) / rate - true))
        print(
            f"{share:17.2f} {np.mean(held):12.2f} {np.median(errors):18.0f} {np.median(prior):20.0f} "
            f"{np.median(slope):24.0f}"
        )


def main() -> None:
    """Print every table."""
    speed()
    exactness()
    against_a_stiff_solver()
    coverage()
    print()
    report(parameters(), p.ROLL_HALF_M)


if __name__ == "__main__":
    main()
