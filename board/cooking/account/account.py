"""Takes one cook's number apart by running single members with one thing changed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from board.cooking.account.books import Case, Path, paths
from board.cooking.account.figures import (
    Account,
    ByWeight,
    Change,
    Narrowed,
    RuleOfThumb,
    Spreading,
    Unknown,
    Worth,
)
from board.cooking.account.stretches import stretches
from board.cooking.account.unknowns import Nudge, centre, nudges, spreadings
from board.cooking.account.worths import Otherwise, changed
from board.cooking.cook import Cook, Estimate
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.readings.revise import revise
from board.cooking.sampling import Draws, drawn, middle, spread_at
from board.cooking.spans import span_of
from board.house.library import library_cuts, practice_hours
from board.house.spans import Span

SAMPLE = 2000  # members drawn to know the slowest piece of a load; none of them is run
READ_SHARES = (0.25, 0.5, 0.75)  # of the cook, at which a narrowed span is told
READ_EVERY_MINUTES = (10, 15, 20, 30, 60, 90, 120)
READINGS_A_COOK = 12


@dataclass(frozen=True, slots=True)
class _Ran:
    """Single members of one question, run together: the middle piece, the load's slowest, and all others."""

    own: Path
    last: Path
    changes: list[tuple[Otherwise, Path]]
    weights: list[tuple[float, Path]]
    nudged: list[tuple[Nudge, Path]]


def account(
    cook: Cook,
    found: Estimate,
    *,
    hotter_k: float = 10.0,
    heavier_kg: float = 1.0,
    seed: int = 0,
    using: Parameters | None = None,
) -> Account:
    """The account of a cook whose estimate was made with `curves`.

    `hotter_k` and `heavier_kg` are the steps its worths are told for. Some fifty members in one run: a
    fraction of a second.
    """
    chosen = using or parameters()
    sample = drawn(cook, SAMPLE, seed, chosen)
    ran = _run(cook, sample, changed(cook, hotter_k, heavier_kg), seed, chosen)
    own, last = ran.own, ran.last
    minutes = [(nudge, path.pulled) for nudge, path in ran.nudged]
    spread = spreadings(last.pulled, minutes, sample)
    return Account(
        middle=own.pulled,
        slowest=last.pulled,
        span=found.minutes,
        stretches=stretches(own, cook.until_core_c if cook.tender_minutes else None),
        steamed_kg_kg=own.at(own.steamed, own.pulled),
        dripped_kg_kg=own.at(own.dripped, own.pulled),
        fat_kg_kg=own.at(own.fat, own.pulled),
        worths=tuple(_worths(cook, ran)),
        spreadings=tuple(spread),
        pit_h=_pit_h(cook, sample),
        known_pit=_known_pit(found.minutes, spread),
        narrowed=tuple(_narrowed(found, last)),
        rule=_rule(cook, ran.weights),
    )


def _run(cook: Cook, sample: Draws, others: list[Otherwise], seed: int, chosen: Parameters) -> _Ran:
    """Run every member there is a question about, together."""
    blank = middle(chosen)
    mid = centre(blank, drawn(replace(cook, pieces=1), SAMPLE, seed, chosen))
    base = centre(blank, sample)
    weights, nudged = _weights(cook), nudges(base, sample)
    cases = [
        Case(cook, mid),
        Case(cook, base),
        *(Case(other.cook, mid) for other in others),
        *(Case(replace(cook, mass_kg=kg), mid) for kg in weights),
        *(Case(cook, draws) for _, draws in nudged),
    ]
    found = iter(paths(cases, chosen))
    return _Ran(
        own=next(found),
        last=next(found),
        changes=[(other, next(found)) for other in others],
        weights=[(kg, next(found)) for kg in weights],
        nudged=[(nudge, next(found)) for nudge in nudged],
    )


def _worths(cook: Cook, ran: _Ran) -> list[Worth]:
    """What each change brings, those left out that never come to their end."""
    own = ran.own.pulled
    worths = [
        Worth(other.change, path.pulled - own, other.amount) for other, path in ran.changes if path.reached
    ]
    if cook.pieces > 1:
        worths.append(Worth(Change.ONE_PIECE, own - ran.last.pulled, float(cook.pieces)))
    return worths


def _pit_h(cook: Cook, sample: Draws) -> Span:
    """The pit's heat transfer as it is known, W/m²K."""
    return span_of(spread_at(cook.pit.h_c, sample.normal["h"]))


def _known_pit(span: Span, spread: Sequence[Spreading]) -> Span:
    """The span if what the pit does to the meat were known: the rest of the variance of ln(time)."""
    left = sum(s.share for s in spread if s.unknown not in (Unknown.PIT_HEAT, Unknown.PIT_DAMP))
    low, high = ((end / span.p50) ** (left**0.5) for end in (span.p10, span.p90))
    return Span(span.p50 * low, span.p50, span.p50 * high)


def _narrowed(found: Estimate, path: Path) -> list[Narrowed]:
    """How readings along one path would narrow the span, at parts of the cook."""
    every = next((m for m in READ_EVERY_MINUTES if path.pulled / m <= READINGS_A_COOK), 120)
    told = []
    for share in READ_SHARES:
        until = every * max(1, round(share * path.pulled / every))
        minutes = np.arange(every, until + 1, every, dtype=float)
        if until >= path.pulled:
            break
        readings = [(float(m), path.at(path.core_c, m)) for m in minutes]
        revision = revise(found, readings)
        told.append(Narrowed(float(until), len(readings), Span(revision.p10, revision.p50, revision.p90)))
    return told


def _weights(cook: Cook) -> tuple[float, ...]:
    """The cut's lightest, usual and heaviest piece, to hold a rule by weight against."""
    masses = cook.cut.mass_kg
    return (masses.low, masses.usual, masses.high)


def _rule(cook: Cook, weights: Sequence[tuple[float, Path]]) -> RuleOfThumb | None:
    """A rule of so many hours a kg that fits at the usual weight, against the sums at the others."""
    if not all(path.reached for _, path in weights):
        return None
    usual_kg, usual = weights[1]
    rows = tuple(ByWeight(kg, usual.pulled * kg / usual_kg, path.pulled) for kg, path in weights)
    return RuleOfThumb(usual_kg, _practice(cook), rows)


def _practice(cook: Cook) -> tuple[float, float] | None:
    """What practice gives a piece of this weight at so many hours a kg, minutes; None for a cut it lacks."""
    if cook.cut.id not in library_cuts():
        return None
    low, high = practice_hours(cook.cut.id, cook.setpoint_c)
    ratio = 60.0 * cook.mass_kg / library_cuts()[cook.cut.id].mass_kg.usual
    return low * ratio, high * ratio
