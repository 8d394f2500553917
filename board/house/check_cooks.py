"""Doubts about the past cooks of cooks.csv: what would be learned wrongly from a slip of the pen."""

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

from board.house.model import House
from board.house.wording import count

A_YEAR = timedelta(days=365)


def doubtful_cooks(house: House, day: date) -> Iterator[tuple[str, str]]:
    """Cooks dated a year or more after `day`, a slip that stays the latest for good, and lines told twice."""
    later = [cook for cook in house.cooks if cook.day >= day + A_YEAR]
    if later:
        n, last = len(later), later[-1]
        yield (
            "cooks.csv, day",
            f"{count(n, 'cook')} dated a year or more after {day}, the last on {last.day} ({last.cut})",
        )
    for cook, times in Counter(house.cooks).items():
        if times > 1:
            told = f"{cook.cut} on {cook.pit} of {cook.day}"
            yield "cooks.csv", f"{told} stands there {times} times to the minute; each is learned from"
