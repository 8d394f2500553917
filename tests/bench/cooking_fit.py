"""Fits the cooking model's parameters to published times and practice, and prints them.

    python -m tests.bench.cooking_fit [family to leave out]

Least squares over one set for pit and oven: charts and measured ovens by their relative error, ranges of
the trade by how far outside them the middle falls.
"""

import sys
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from board.cooking.cook import Rest
from board.cooking.physics.parameters import Parameters, Prior, parameters
from board.cooking.solver.course import Trace
from tests.cooking import published as p

Floats = NDArray[np.float64]

SHAPES = ("slab", "taper", "block", "ecyl", "dcyl", "ellip", "bird", "shell", "dome", "cyl")
PRIORS = ("expelled", "midpoint", "width", "lag", "wicking", "paper", "foil_gap", "box")
LOOSENESS = {"expelled": 0.2, "midpoint": 5.0, "width": 0.4, "lag": 0.5, "wicking": 0.8, "paper": 0.8}
ROLL = "roll half thickness"
VIEW = "view"
SHAPE_LOOSENESS = 0.12
RANGE_TOLERANCE = 0.06
LIBRARY_TOLERANCE = 0.15
CENTRE_WEIGHT, CORNER_WEIGHT = 1.0, 0.4


def with_values(x: Floats, start: Parameters) -> Parameters:
    """The parameter set a point of the search stands for: all but the midpoint as logarithms of a ratio."""
    priors = dict(start.priors)
    for name, step in zip(PRIORS, x, strict=False):
        old = priors[name]
        priors[name] = Prior(
            old.value * np.exp(step) if old.ratio else old.value + 10 * step, old.sd, old.ratio
        )
    steps = dict(zip(SHAPES, x[len(PRIORS) :], strict=False))
    shape = {name: value * np.exp(steps.get(name, 0.0)) for name, value in start.shape.items()}
    view = dict(start.view)
    view["offset"] = view["offset"] * np.exp(x[-2])
    return replace(start, priors=priors, shape=shape, view=view)


def residuals(x: Floats, start: Parameters, left_out: str) -> Floats:
    """Everything the fit is judged by, in tolerances."""
    using = with_values(x, start)
    roll = p.rolls(p.ROLL_HALF_M * np.exp(x[-1]))
    rows = [r for r in [*p.published(), *roll] if not (left_out and left_out in r.name)]
    rows = [r for r in rows if "roll" not in r.name] + (roll if left_out != "roll" else [])
    ranges, library = p.ranges(), p.library_ranges()
    times = p.centre([r.cook for r in (*rows, *ranges, *library)], using).pulled_s
    split = len(rows), len(rows) + len(ranges)
    charts = [np.log(t / 60 / r.minutes) / r.tolerance for t, r in zip(times[: split[0]], rows, strict=True)]
    trade = [
        (CENTRE_WEIGHT if r.centre else CORNER_WEIGHT) * outside(t / 3600, r.hours) / RANGE_TOLERANCE
        for t, r in zip(times[split[0] : split[1]], ranges, strict=True)
    ]
    loose = [
        outside(t / 3600, r.hours) / LIBRARY_TOLERANCE
        for t, r in zip(times[split[1] :], library, strict=True)
    ]
    return np.array([*charts, *trade, *loose, *_special(using), *_prior(x)])


def outside(hours: float, span: tuple[float, float]) -> float:
    """How far, in ln time, a middle lies outside a range drawn in by a little."""
    low, high = np.log(span[0] * 1.02), np.log(span[1] * 0.98)
    return float(min(0.0, np.log(hours) - low) + max(0.0, np.log(hours) - high))


def specials(using: Parameters) -> list[tuple[str, float, float, float, float]]:
    """What is not a time of a cook: name, value, from, to, tolerance. Common practice, no source."""
    roast, bird, half = (_row(n).cook for n in ("rib roast chart, 2.3", "turkeys 1998, 6.8", "half"))
    bench = Rest("room", 30.0)
    cooks = [
        p.CENTRE_BRISKET,
        p.wrapped_brisket("foil"),
        p.wrapped_brisket("paper"),
        p.wrapped_brisket("foil", rest=Rest("cooler", 720.0)),
        replace(roast, rest=bench),
        replace(bird, rest=bench),
        replace(half, rest=bench),
    ]
    trace = Trace([], [], [])
    course = p.centre(cooks, using, trace)
    hours = course.pulled_s / 3600
    carry = [course.peak_c[i] - cooks[i].until_core_c for i in range(len(cooks))]
    stall = (p.minutes_at(trace, 0, 75.0) - p.minutes_at(trace, 0, 65.0)) / 60
    return [
        ("stall 65-75 °C, h", stall, 2.5, 6.0, 0.3),
        ("foil saves, h", hours[0] - hours[1], 2.0, 4.0, 0.5),
        ("paper saves, h", hours[0] - hours[2], 0.8, 4.0, 0.8),
        ("box 95-60 °C, h", _box_hours(trace, 3, hours[3]), 4.0, 8.0, 0.7),
        ("wrapped brisket carry-over, K", carry[3], 2.0, 6.0, 3.0),
        ("rib roast carry-over, K", carry[4], 2.0, 9.0, 1.5),
        ("turkey carry-over, K", carry[5], 2.0, 8.0, 2.0),
        ("chicken half carry-over, K", carry[6], 2.0, 6.0, 4.0),
        ("brisket loss", course.lost[0], 0.29, 0.36, 0.03),
        ("rib roast loss", course.lost[4], 0.17, 0.27, 0.04),
        ("turkey loss", course.lost[5], 0.18, 0.30, 0.03),
    ]


def _special(using: Parameters) -> list[float]:
    return [
        (min(0.0, value - low) + max(0.0, value - high)) / tolerance
        for _, value, low, high, tolerance in specials(using)
    ]


def _box_hours(trace: Trace, member: int, pulled_h: float) -> float:
    """Hours from the pull until the core is down to 60 °C."""
    seconds, core = np.array(trace.seconds)[:, member] / 3600, np.array(trace.core)[:, member]
    after = ~np.isnan(core) & (seconds > pulled_h + 0.5)
    return float(np.interp(-60.0, -core[after], seconds[after]) - pulled_h)


def _row(name: str) -> "p.Row | p.Range":
    """The first row whose name holds a text."""
    return next(r for r in [*p.published(), *p.ranges()] if name in r.name)


def _prior(x: Floats) -> list[float]:
    """A weak pull towards the start, so that what no row decides stays put."""
    loose = [LOOSENESS.get(name, 0.4) / (10 if name == "midpoint" else 1) for name in PRIORS]
    return [*(x[: len(PRIORS)] / loose), *(x[len(PRIORS) : -2] / SHAPE_LOOSENESS), x[-2] / 0.5]


def main() -> None:
    """Fit and print."""
    left_out = sys.argv[1] if len(sys.argv) > 1 else ""
    start = parameters()
    x = np.zeros(len(PRIORS) + len(SHAPES) + 2)
    best = least_squares(
        residuals, x, args=(start, left_out), diff_step=2e-3, loss="soft_l1", max_nfev=12, verbose=2
    )
    using = with_values(best.x, start)
    for name in PRIORS:
        print(f"{name:12s} {using.priors[name].value:.5g}")
    for name in SHAPES:
        print(f"{name:12s} {using.shape[name]:.4f}")
    print(f"{VIEW:12s} {using.view['offset']:.4f}\n{ROLL}: {p.ROLL_HALF_M * np.exp(best.x[-1]):.4f}")
    for name, value, low, high, _ in specials(using):
        print(f"{name:32s} {value:7.3f} ({low} to {high})")
    print(f"cost {best.cost:.2f}")
    report(using, p.ROLL_HALF_M * np.exp(best.x[-1]))


def report(using: Parameters, half_m: float) -> None:
    """Every row against its model figure."""
    rows = [r for r in p.published() if "roll" not in r.name] + p.rolls(half_m)
    errors = []
    for row, seconds in zip(rows, p.centre([r.cook for r in rows], using).pulled_s, strict=True):
        errors.append(seconds / 60 / row.minutes - 1)
        print(f"{row.name:30s} {seconds / 60:6.0f} {row.minutes:6.0f} min {100 * errors[-1]:+6.1f} %")
    print(f"mean of the absolute errors {100 * np.mean(np.abs(errors)):.1f} %")
    spans = [*p.ranges(), *p.library_ranges()]
    for span, seconds in zip(spans, p.centre([r.cook for r in spans], using).pulled_s, strict=True):
        hours = seconds / 3600
        miss = "" if span.hours[0] <= hours <= span.hours[1] else "outside"
        print(f"{span.name:55s} {hours:6.2f} h {span.hours} {miss}")


if __name__ == "__main__":
    main()
