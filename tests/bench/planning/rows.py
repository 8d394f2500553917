"""The rows of the table: what is owed, and what a case of each was seen to do."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from statistics import fmean, median

import numpy as np

from tests.bench.planning.apart import Told, told_by
from tests.bench.planning.houses import DEMO

# Cost and gap are told after so many seconds of search.
AT = (1, 5, 30, 60)
# A case is ended so many seconds after its search should have.
GRACE = 600.0


@dataclass(frozen=True)
class Row:
    """A row of the targets: how it is measured, seed by seed, in sentences."""

    what: str
    goal: str
    stretch: str
    seeds: int
    measured: Callable[[int], Iterator[str]]


def day(seeds: int) -> Iterator[str]:
    """The demo's day and drawn ones: first plan, and the plan at 10 s beside that at 60 s."""
    for size, seed in ((DEMO, 0), *(("day", seed) for seed in range(1, seeds + 1))):
        at_once = told_by("planned", limit=GRACE, size=size, seed=seed, seconds=0)
        short, long = (told_by("planned", limit=GRACE + s, size=size, seed=seed, seconds=s) for s in (10, 60))
        ends = [case.last("end") for case in (at_once, short, long)]
        if None in ends:
            yield f"{size} {seed}: {at_once.broken or short.broken or long.broken}"
            continue
        first, at_10, at_60 = ends
        shown = at_once.last("now")
        above = at_10["cost"] / at_60["cost"] - 1
        yield (
            f"{size} {seed}: {at_60['parts']} loads; first plan {_s(shown)} searched,"
            f" {first['s']:.2f} s laid out;"
            f" at 10 s {above:+.1%} of its 60 s plan ({at_10['cost']:.0f}, {at_60['cost']:.0f},"
            f" really {at_10['s']:.0f} and {at_60['s']:.0f} s); gap {_gap(at_60):.0%};"
            f" {_faults(first, at_10, at_60)}; {_mib(long)}"
        )


def small(seeds: int) -> Iterator[str]:
    """Gaps after 45 s, and their mean."""
    yield from _with_mean("small", seeds, 45)


def medium(seeds: int) -> Iterator[str]:
    """Cost beside the plain plan, and gaps."""
    yield from _with_mean("medium", seeds, 60)


def large(seeds: int) -> Iterator[str]:
    """As medium, ten times the size."""
    yield from _with_mean("large", seeds, 60)


def huge(seeds: int) -> Iterator[str]:
    """A commissary."""
    yield from _with_mean("commissary", seeds, 120)


def _with_mean(size: str, seeds: int, seconds: int) -> Iterator[str]:
    gaps, ratios = [], []
    for seed in range(1, seeds + 1):
        case = told_by("searched", limit=seconds + GRACE, size=size, seed=seed, seconds=seconds)
        yield f"{size} {seed}: {_case(case)}"
        end, plain = case.last("end"), case.last("plain")
        if end and plain:
            gaps.append(_gap(end))
            ratios.append(end["cost"] / plain["cost"] - 1)
    if len(gaps) > 1:
        yield f"mean gap {fmean(gaps):.1%}, mean cost {fmean(ratios):+.0%} of the plain plan's"


def _case(case: Told) -> str:
    said = []
    built, plain, end = (case.last(what) for what in ("built", "plain", "end"))
    if built:
        said.append(f"{built['parts']} loads on {built['pits']} pits, tables {built['s']:.1f} s")
    if plain:
        said.append(
            f"plain {plain['cost']:.0f} ({_lacking(plain)}, {_faults(plain)})",
        )
    said += list(_course(case, plain))
    if end:
        against = f" = {end['cost'] / plain['cost'] - 1:+.0%} of plain" if plain else ""
        proved = ", proved" if end["proved"] else ""
        said.append(
            f"end {end['s']:.0f} s: {end['cost']:.0f}{against}, gap {_gap(end):.1%}{proved},"
            f" {_lacking(end)}, {_faults(end)}"
        )
    return "; ".join([*said, _mib(case), *([case.broken] if case.broken else [])])


def _course(case: Told, plain: dict | None) -> Iterator[str]:
    """First plan, first gap, and cost at each of the seconds."""
    seen = case.all("now")
    plans = [event for event in seen if event["cost"] < float("inf")]
    gaps = [event for event in plans if event["bound"] > 0]
    if plans:
        yield f"first plan {plans[0]['s']:.2f} s: {plans[0]['cost']:.0f}"
    if gaps:
        yield f"first gap {gaps[0]['s']:.1f} s: {_gap(gaps[0]):.0%}"
    for at in AT:
        by = [event for event in plans if event["s"] <= at]
        if by and at <= 1.1 * seen[-1]["s"]:
            against = f" ({by[-1]['cost'] / plain['cost'] - 1:+.0%})" if plain else ""
            gap = f"gap {_gap(by[-1]):.0%}" if by[-1]["bound"] > 0 else "no gap yet"
            yield f"{at} s {by[-1]['cost']:.0f}{against} {gap}"


def growth(seeds: int) -> Iterator[str]:
    """Times to the first plan, and the power of the number of loads that fits them."""
    found = []
    for loads in (10, 20, 40, 80, 160, 320):
        for seed in range(1, seeds + 1):
            case = told_by("grown", limit=GRACE, loads=loads, seed=seed)
            first = case.last("first")
            if first is None:
                yield f"{loads} loads: {case.broken}"
                continue
            found.append((first["parts"], first["s"], first["built"] + first["s"]))
            yield (
                f"{first['parts']} loads: tables {first['built']:.2f} s, placed in {first['s']:.3f} s,"
                f" {_lacking(first)}, {_faults(first)}"
            )
    if len(found) > 2:
        n, placed, whole = (np.array(column, dtype=float) for column in zip(*found, strict=True))
        powers = [_power(n, times) for times in (placed, whole, n * np.log(n))]
        yield "n to the {:.2f} placed, {:.2f} with tables; n log n would be {:.2f} here".format(*powers)


def _power(n: np.ndarray, times: np.ndarray) -> float:
    """The slope of times over n, both in logarithms, by least squares."""
    return float(np.polyfit(np.log(n), np.log(times), 1)[0])


def replan(_seeds: int) -> Iterator[str]:
    """The demo's plan after each of its loads slips, one at a time."""
    case = told_by("slipped", limit=GRACE, house_name=DEMO, seconds=1.0)
    slips = case.all("slip")
    if slips:
        seconds, moved = [slip["s"] for slip in slips], [slip["moved"] for slip in slips]
        yield (
            f"{len(slips)} slips: {median(seconds):.2f} s in the middle, {max(seconds):.2f} s at worst;"
            f" {median(moved):.0f} loads moved in the middle, {max(moved)} at most; {_faults(*slips)};"
            f" {_mib(case)}"
        )
    if case.broken:
        yield case.broken


def planted(seeds: int) -> Iterator[str]:
    """Cases of known best, settled for 30 s."""
    for pits in (3, 6, 12, 20):
        for seed in range(1, seeds + 1):
            case = told_by("planted", limit=GRACE, pits=pits, seed=seed, seconds=30.0)
            end = case.last("end")
            if end is None:
                yield f"{pits}/{3 * pits} {seed}: {case.broken}"
                continue
            yield (
                f"{pits}/{3 * pits} {seed}: {end['cost']:.0f}, planted {end['best']:.0f},"
                f" bound {end['bound']:.0f},"
                f" {'proved' if end['proved'] else 'not proved'} in {end['s']:.1f} s, {_faults(end)}"
            )


PUBLISHED = (
    ("ft06", "55"),
    ("la01", "666"),
    ("mk01", "40"),
    ("j301_1.sm", "43"),
    ("ubo10_01.sch", "none"),
    ("ft10", "930"),
)


def published(_seeds: int) -> Iterator[str]:
    """Published cases whose terms let us carry them."""
    for name, best in PUBLISHED:
        case = told_by("published", limit=GRACE, name=name, seconds=60.0)
        end = case.last("end")
        if end is None:
            yield f"{name}: {case.broken}"
            continue
        found = "proved to have none" if end["impossible"] else f"{end['cost']}"
        proved = " proved" if end["proved"] and not end["impossible"] else ""
        yield f"{name}: {found}{proved}, known best {best}, {end['s']:.1f} s, {_faults(end)}"
    yield "mk01 from memory; PSP1, PSP2 not carried (tests/planning/published/data/SOURCES.md)"


def _s(event: dict | None) -> str:
    return "-" if event is None else f"{event['s']:.2f} s"


def _gap(event: dict) -> float:
    return (event["cost"] - event["bound"]) / max(event["cost"], 1e-9)


def _lacking(event: dict) -> str:
    lacking = [f"{event[name]:.0f} {name}" for name in ("unserved", "late") if event[name]]
    return " and ".join(lacking) or "nothing short or late"


def _faults(*events: dict) -> str:
    told = sum(event["faults"] for event in events)
    first = next((e["first_fault"] for e in events if e.get("first_fault")), "")
    return f"{told} faults" + (f" ({first})" if first else "")


def _mib(case: Told) -> str:
    memory = case.last("memory")
    return f"{memory['mib']:.0f} MiB" if memory else "memory not told"


ROWS = {
    "day": Row("a real house's day", "0.1 s / within 2 % of its 60 s plan at 10 s", "0.05 s / 3 s", 1, day),
    "small": Row("small (3/12): gap after 45 s", "<= 8 % mean", "<= 1 %", 3, small),
    "medium": Row(
        "medium (6/40): cost against plain after 30 s; gap in 1 s / at 60 s",
        "-50 %; <= 25 / 20 %",
        "-55 %; <= 12 %",
        1,
        medium,
    ),
    "large": Row(
        "large (40/400), 60 s",
        "-45 %, nothing late, gap shown in 5 s, <= 38 %",
        "-55 %, <= 20 %",
        1,
        large,
    ),
    "huge": Row("huge (500/5,000), 120 s", "-35 %, nothing late", "-50 %", 1, huge),
    "growth": Row("growth of time to first plan", "n log n", "linear", 1, growth),
    "replan": Row("re-plan after one load slips", "<= 2 s, <= 3 loads moved", "<= 0.5 s", 1, replan),
    "planted": Row("planted best, 30 s", "3/9, 6/18, 12/36 all proved", "20/60 too", 1, planted),
    "published": Row("published sets", "all, proved", "ft10 = 930 proved", 1, published),
}
