"""The settings that a clock had, told apart by its difference from the machine's count."""

from bisect import bisect_left, insort
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

# Common practice, no source: wider than what a writer waits its turn, narrower than what a person sets.
APART = timedelta(minutes=1)
_TICK = timedelta(milliseconds=1)
_WORTH_MS = 1_000  # an entry alone speaks for a clock as much as one that stood for so long
_TOLD_MS = 1 << 50  # a person's word goes before any count


class Noted(NamedTuple):
    """When an entry was written by the machine's clock, and its count then.

    `boot` is empty where counts of one boot cannot be told from those of another. Without a count the time
    was told, or is of before counts were kept, and says nothing of a clock.
    """

    seq: int
    noted_at: datetime
    boot: str
    up_ms: int | None

    @property
    def is_counted(self) -> bool:
        """Whether its count can be held against others of its boot."""
        return bool(self.boot) and self.up_ms is not None


@dataclass(slots=True)
class Stand:
    """Entries of one boot, or of none, that one setting of a clock wrote; offsets are of clock less count."""

    low_ms: int
    high_ms: int
    first_at: datetime
    last_at: datetime
    last_up_ms: int
    last_ms: int
    count: int = 1
    held_ms: int = 0
    told: bool = False
    is_first: bool = False
    spans: list[tuple[int, int]] = field(default_factory=list)

    @property
    def weight(self) -> int:
        """How much speaks for it; of equals the one that stood first."""
        return self.held_ms + _WORTH_MS * self.count + _TOLD_MS * self.told + self.is_first


@dataclass(slots=True)
class Stretch:
    """Entries that follow each other from one boot, by its clock's settings; one alone without a count."""

    boot: str
    by_offset: list[Stand] = field(default_factory=list)  # more than `APART` between each and the next
    told: Stand | None = None
    last: Noted | None = None

    @property
    def stands(self) -> Sequence[Stand]:
        """Its settings in the order of their first entries."""
        return sorted(self.by_offset, key=_first_seq)

    def tell(self, stand: Stand) -> None:
        """Take a person's word that this setting is right, in place of what was said before."""
        if self.told is not None:
            self.told.told = False
        stand.told = True
        self.told = stand


def offset_ms(noted: Noted) -> int:
    """The clock less the count."""
    return (noted.noted_at.replace(tzinfo=None) - datetime.min) // _TICK - (noted.up_ms or 0)


def zero_at(stand: Stand) -> datetime:
    """The time by a setting, as it was last seen, when the count was nought."""
    return datetime.min.replace(tzinfo=UTC) + stand.last_ms * _TICK


def stand_of(stretch: Stretch, noted: Noted) -> Stand:
    """Add an entry to those of the same setting of the clock, or begin with it."""
    offset = offset_ms(noted) if noted.is_counted else 0
    apart = APART // _TICK
    place = bisect_left(stretch.by_offset, offset - apart, key=_high_ms)
    near = [one for one in stretch.by_offset[place : place + 2] if one.low_ms - apart <= offset]
    if not near:
        made = Stand(offset, offset, noted.noted_at, noted.noted_at, noted.up_ms or 0, offset)
        made.is_first = not stretch.by_offset
        made.spans.append((noted.seq, noted.seq))
        stretch.by_offset.insert(place, made)
        return made
    stand = near[-1] if near[-1].told else near[0]
    for other in near:
        if other is not stand:
            _join(stand, other)
    stretch.by_offset[place : place + len(near)] = [stand]
    goes_on = stretch.last is not None and stand.spans[-1][1] == stretch.last.seq
    if goes_on:
        stand.held_ms += max(0, (noted.up_ms or 0) - stand.last_up_ms)
        stand.spans[-1] = (stand.spans[-1][0], noted.seq)
    else:
        stand.spans.append((noted.seq, noted.seq))
    stand.low_ms, stand.high_ms = min(stand.low_ms, offset), max(stand.high_ms, offset)
    stand.first_at, stand.last_at = min(stand.first_at, noted.noted_at), max(stand.last_at, noted.noted_at)
    stand.last_up_ms, stand.last_ms, stand.count = noted.up_ms or 0, offset, stand.count + 1
    return stand


def _join(stand: Stand, other: Stand) -> None:
    """Make one of two settings that turn out to be one; `stand` is the one a person named, if either is."""
    stand.low_ms, stand.high_ms = min(stand.low_ms, other.low_ms), max(stand.high_ms, other.high_ms)
    stand.first_at = min(stand.first_at, other.first_at)
    stand.last_at = max(stand.last_at, other.last_at)
    stand.last_up_ms = max(stand.last_up_ms, other.last_up_ms)
    stand.count, stand.held_ms = stand.count + other.count, stand.held_ms + other.held_ms
    stand.is_first = stand.is_first or other.is_first
    few, many = sorted((stand.spans, other.spans), key=len)
    for span in few:
        insort(many, span)
    stand.spans = many


def _high_ms(stand: Stand) -> int:
    return stand.high_ms


def _first_seq(stand: Stand) -> int:
    return stand.spans[0][0]
