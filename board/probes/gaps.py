"""When a probe was silent: stretches in which its readings prove nothing."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from itertools import pairwise
from typing import NamedTuple


class Gap(NamedTuple):
    """From the last reading before a silence to the first after it, or to now."""

    since: datetime
    until: datetime


def gaps(times: Iterable[datetime], silent_minutes: float, now: datetime | None = None) -> Iterator[Gap]:
    """The gaps longer than a probe may be silent, between rising times and, where told, up to now."""
    limit = timedelta(minutes=silent_minutes)
    ends = [*times, *([now] if now is not None else [])]
    return (Gap(before, after) for before, after in pairwise(ends) if after - before > limit)
