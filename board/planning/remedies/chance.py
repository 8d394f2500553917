"""Chances to be ready in time, from likely spans of a moment."""

from datetime import datetime, timedelta

from board.house.spans import Span, TimeSpan
from board.planning.cook_times import CookTime

_MINUTE = timedelta(minutes=1)
_SOONEST = 0.5  # minutes from now that count as now


def chance_by(ready: TimeSpan, due: datetime, now: datetime) -> float:
    """The chance that something likely ready in a span is ready by a moment.

    What is left from now is taken as a two-sided log-normal through the span's three moments.
    """
    if ready.p90 <= now:
        return 1.0 if ready.p90 <= due else 0.0
    left = [max((moment - now) / _MINUTE, _SOONEST) for moment in (ready.p10, ready.p50, ready.p90)]
    return CookTime(Span(*left), None).chance((due - now) / _MINUTE)
