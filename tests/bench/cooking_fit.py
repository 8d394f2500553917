"""Fits the cooking model's parameters to published times and practice, and prints them.

    python -m tests.bench.cooking_fit            the fit, and every row against it
    python -m tests.bench.cooking_fit kept-out   each family in turn kept out of a fit of its own

Least squares over one set for pit and oven: charts and measured ovens by their relative error, ranges of
the trade by how far outside them the middle falls. Shape factors share one fitted ratio to the solids they
are named for, and depart from it a little by class: none is drawn to an earlier fit, so that a family kept
out leaves nothing of itself behind.
"""

import sys
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from board.cooking.cook import Rest
from board.cooking.physics.parameters import Parameters, Prior, parameters
from board.cooking.solver.running import Trace
from tests.cooking import published as p

Floats = NDArray[np.float64]

# Where each number is drawn to, and how loosely: of its logarithm, the midpoint's in tens of kelvins.
JUICE = {
    "expelled": (0.48, 0.2),
    "midpoint": (61.0, 0.5),
    "width": (9.0, 0.4),
    "lag": (2000.0, 0.5),
    "wicking": (1.3e-3, 0.8),
    "paper": (2.2e-5, 0.8),
    "foil_gap": (80.0, 0.4),
    "box": (4.5, 0.4),
}
# What the solid leaves out by itself: a rib roast fills 0.61 of its box, an elliptic cylinder 0.785; a bird's
# is free, on a thickness that is not a solid's.
SHAPES = {
    "slab": (1.0, 0.06),
    "taper": (1.0, 0.06),
    "block": (1.0, 0.06),
    "ecyl": (1.0, 0.06),
    "dcyl": (0.88, 0.06),
    "ellip": (1.0, 0.06),
    "cyl": (1.0, 0.06),
    "bird": (1.3, 0.4),
}
COMMON = (1.0, 0.2)
VIEW = (0.6, 0.5)
ROLL = (0.075, 0.5)
RANGE_TOLERANCE = 0.06
LIBRARY_TOLERANCE = 0.15
CENTRE_WEIGHT, CORNER_WEIGHT = 1.0, 0.4
FAMILIES = (
    "turkey chart",
    "turkeys 1998",
    "rib roast chart",
    "lamb leg chart",
    "pork loin chart",
    "brisket, 99",
    "turkey roll, 105",
    "turkey roll, 165",
)


def with_values(x: Floats, start: Parameters) -> Parameters:
    """The parameter set a point of the search stands for."""
    priors = dict(start.priors)
    for (name, (drawn_to, _)), step in zip(JUICE.items(), x, strict=False):
        old = priors[name]
        value = drawn_to * np.exp(step) if old.ratio else drawn_to + 10 * step
        priors[name] = Prior(value, old.sd, old.ratio)
    common = COMMON[0] * np.exp(x[-3])
    shape = dict(start.shape) | {
        name: common * drawn_to * np.exp(step)
        for (name, (drawn_to, _)), step in zip(SHAPES.items(), x[len(JUICE) :], strict=False)
    }
    view = {**start.view, "offset": VIEW[0] * np.exp(x[-2])}
    return replace(start, priors=priors, shape=shape, view=view)


def roll_half_m(x: Floats) -> float:
    """The half thickness of the turkey rolls at a point of the search."""
    return float(ROLL[0] * np.exp(x[-1]))


def residuals(x: Floats, start: Parameters, kept_out: str) -> Floats:
    """Everything the fit is judged by, in tolerances."""
    using = with_values(x, start)
    rows = [r for r in p.published(roll_half_m(x)) if not (kept_out and kept_out in r.name)]
    ranges, library = p.ranges(), p.library_ranges()
    hours = p.centre([r.cook for r in (*rows, *ranges, *library)], using).pulled_s / 3600
    split = len(rows), len(rows) + len(ranges)
    charts = [np.log(60 * t / r.minutes) / r.tolerance for t, r in zip(hours, rows, strict=False)]
    trade = [
        (CENTRE_WEIGHT if r.centre else CORNER_WEIGHT) * outside(t, r.hours) / RANGE_TOLERANCE
        for t, r in zip(hours[split[0] : split[1]], ranges, strict=True)
    ]
    loose = [outside(t, r.hours) / LIBRARY_TOLERANCE for t, r in zip(hours[split[1] :], library, strict=True)]
    return np.array([*charts, *trade, *loose, *_special(using), *_drawn(x)])


def outside(hours: float, span: tuple[float, float]) -> float:
    """How far, in ln time, a middle lies outside a range drawn in by a little."""
    low, high = np.log(span[0] * 1.02), np.log(span[1] * 0.98)
    return float(min(0.0, np.log(hours) - low) + max(0.0, np.log(hours) - high))


def specials(using: Parameters) -> list[tuple[str, float, float, float, float]]:
    """What is not a time of a cook: name, value, from, to, tolerance.

    Common practice, no source; losses beside Lowe's table of roasts and the yields of smoked briskets.
    """
    roast, bird = (_row(n).cook for n in ("rib roast chart, 2.3", "turkeys 1998, 6.8"))
    bench = Rest("room", 30.0)
    cooks = [
        p.CENTRE_BRISKET,
        p.wrapped_brisket("foil"),
        p.wrapped_brisket("paper"),
        p.wrapped_brisket("foil", rest=Rest("cooler", 720.0)),
        replace(roast, rest=bench),
        replace(bird, rest=bench),
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
        ("rib roast carry-over, K", carry[4], 2.0, 9.0, 1.5),
        ("turkey carry-over, K", carry[5], 2.0, 8.0, 2.0),
        ("brisket loss", course.lost[0], 0.38, 0.44, 0.03),
        ("rib roast loss", course.lost[4], 0.17, 0.27, 0.04),
        ("turkey loss", course.lost[5], 0.22, 0.32, 0.03),
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


def _drawn(x: Floats) -> Floats:
    """How far each number is from where it is drawn to, so that what no row decides stays put."""
    loose = [row[1] for row in (*JUICE.values(), *SHAPES.values(), COMMON, VIEW, ROLL)]
    return np.asarray(x / np.array(loose))


def fitted(kept_out: str = "", verbose: int = 0) -> tuple[Parameters, float, float]:
    """The parameters, the rolls' half thickness and the cost of a fit without the rows of one family."""
    start = parameters()
    x = np.zeros(len(JUICE) + len(SHAPES) + 3)
    best = least_squares(
        residuals, x, args=(start, kept_out), diff_step=2e-3, loss="soft_l1", max_nfev=6, verbose=verbose
    )
    return with_values(best.x, start), roll_half_m(best.x), float(best.cost)


def fit_and_report() -> None:
    """The fit, its numbers and every row against it."""
    using, half_m, cost = fitted(verbose=2)
    for name in JUICE:
        print(f"{name:12s} {using.priors[name].value:.5g}")
    for name in SHAPES:
        print(f"{name:12s} {using.shape[name]:.4f}")
    print(f"view         {using.view['offset']:.4f}\nroll half thickness {half_m:.4f}\ncost {cost:.2f}")
    report(using, half_m)


def keep_out() -> None:
    """Each family kept out of a fit of its own, and what that fit says of it."""
    print(f"{'kept out':24s} {'rows':>4s}  errors, %")
    everything: list[float] = []
    for family in FAMILIES:
        using, half_m, _ = fitted(family)
        rows = [r for r in p.published(half_m) if family in r.name]
        errors = _errors(rows, using)
        everything += errors
        print(f"{family:24s} {len(rows):4d}  " + " ".join(f"{100 * e:+.1f}" for e in errors), flush=True)
    print(
        f"mean of the absolute errors {100 * np.mean(np.abs(everything)):.1f} %, "
        f"mean error {100 * np.mean(everything):+.1f} %, worst {100 * np.max(np.abs(everything)):.0f} %"
    )


def _errors(rows: Sequence[p.Row], using: Parameters) -> list[float]:
    """Each row's model time over the published one, less one."""
    times = p.centre([r.cook for r in rows], using).pulled_s / 60
    return [float(t / r.minutes - 1) for t, r in zip(times, rows, strict=True)]


def report(using: Parameters, half_m: float) -> None:
    """Every row against its model figure."""
    rows = p.published(half_m)
    errors = _errors(rows, using)
    for row, error in zip(rows, errors, strict=True):
        print(f"{row.name:30s} {row.minutes * (1 + error):6.0f} {row.minutes:6.0f} min {100 * error:+6.1f} %")
    print(f"mean of the absolute errors {100 * np.mean(np.abs(errors)):.1f} %")
    spans = [*p.ranges(), *p.library_ranges()]
    for span, seconds in zip(spans, p.centre([r.cook for r in spans], using).pulled_s, strict=True):
        hours = seconds / 3600
        miss = "" if span.hours[0] <= hours <= span.hours[1] else "outside"
        print(f"{span.name:55s} {hours:6.2f} h {span.hours} {miss}")
    for name, value, low, high, _ in specials(using):
        print(f"{name:32s} {value:7.3f} ({low} to {high})")


if __name__ == "__main__":
    keep_out() if sys.argv[1:] == ["kept-out"] else fit_and_report()
