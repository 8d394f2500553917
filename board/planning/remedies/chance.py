"""Chances to be ready in time, from likely spans of a moment."""

from datetime import datetime

from board.house.spans import Span, TimeSpan, minutes_between
from board.planning.cook_times import CookTime

_SOONEST = 0.5  # minutes from now that count as now


def chance_by(ready: TimeSpan, due: datetime, now: datetime) -> float:
    """The chance that something likely ready in a span is ready by a moment.

    What is left from now is taken as a two-sided log-normal through the span's three moments.
    """
    if ready.p90 <= now:
        return 1.0 if ready.p90 <= due else 0.0
    left = [max(minutes_between(now, moment), _SOONEST) for moment in (ready.p10, ready.p50, ready.p90)]
    return CookTime(Span(*left), None).chance(minutes_between(now, due))
