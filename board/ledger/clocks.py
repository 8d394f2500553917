"""Where a machine's clock was set, and which entries' times are doubtful for it.

Within one boot of a machine its clock less its count of uptime stays the same: where it does not, the clock
was set. Between boots, and where boots are not known, time goes on from entry to entry. Pure: from the
numbers of entries, their written times and counts alone.
"""

from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from board.ledger.clock_settings import APART, Noted, Stand, Stretch, offset_ms, stand_of, zero_at
from board.ledger.clock_ways import trusted

__all__ = ["APART", "ClockSet", "Clocks", "Doubt", "Following", "Noted", "clocks_of", "set_by"]


@dataclass(frozen=True, slots=True)
class ClockSet:
    """The clock was set between two entries of one boot: on by `by`, or back where that is below zero."""

    after: int
    before: int
    by: timedelta


@dataclass(frozen=True, slots=True)
class Doubt:
    """Entries written by a clock that was wrong: ahead by `ahead`, None where nobody can say how far.

    `spans` are their numbers, first and last; what lies between two spans is of another clock. `boot` is
    empty where no count was kept.
    """

    spans: tuple[tuple[int, int], ...]
    ahead: timedelta | None
    boot: str = ""

    def covers(self, seq: int) -> bool:
        """Whether an entry is one of them."""
        return any(first <= seq <= last for first, last in self.spans)


@dataclass(frozen=True, slots=True)
class Clocks:
    """What the entries show of the clocks that wrote them, and when each boot began by what is right."""

    sets: tuple[ClockSet, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    began_at: Mapping[str, datetime] = field(default_factory=dict)

    def expected(self, boot: str, up_ms: int | None) -> datetime | None:
        """The time at a count of a boot, by the setting that is taken for right; None of an unknown boot."""
        began = self.began_at.get(boot)
        return None if began is None or up_ms is None else began + timedelta(milliseconds=up_ms)

    def doubt(self, seq: int) -> Doubt | None:
        """Why an entry's time is doubtful; None where it is not."""
        return next((doubt for doubt in self.doubts if doubt.covers(seq)), None)


class Following:
    """Takes entry after entry, and says what they show so far."""

    def __init__(self) -> None:
        self._stretches: list[Stretch] = []
        self._last: dict[str, Noted] = {}
        self._sets: list[ClockSet] = []

    def take(self, noted: Noted, *, told: bool = False) -> None:
        """Take one more entry; `told` that a person said there which clock is right: the one it has."""
        if noted.up_ms is None:
            return
        self._look_for_a_set(noted)
        stretch = self._stretch(noted)
        stand = stand_of(stretch, noted)
        if told:
            stretch.tell(stand)
        stretch.last = noted

    def clocks(self) -> Clocks:
        """The settings found, and the entries that stand against what is most likely right."""
        chosen = trusted(self._stretches)
        doubts = (
            Doubt(tuple(stand.spans), _ahead(stand, right), stretch.boot)
            for stretch, right in zip(self._stretches, chosen, strict=True)
            for stand in stretch.stands
            if stand is not right
        )
        began = {
            stretch.boot: zero_at(right)
            for stretch, right in zip(self._stretches, chosen, strict=True)
            if right is not None and stretch.boot
        }
        return Clocks(tuple(self._sets), tuple(_as_one(doubts)), began)

    def _look_for_a_set(self, noted: Noted) -> None:
        if not noted.is_counted:
            return
        before = self._last.get(noted.boot)
        if before is not None and (by := set_by(before, noted)):
            self._sets.append(ClockSet(before.seq, noted.seq, by))
        self._last[noted.boot] = noted

    def _stretch(self, noted: Noted) -> Stretch:
        """The stretch that an entry goes on with, or a new one."""
        last = self._stretches[-1] if self._stretches else None
        if last is not None and noted.is_counted and last.boot == noted.boot:
            return last
        self._stretches.append(Stretch(noted.boot))
        return self._stretches[-1]


def clocks_of(entries: Iterable[Noted], told: Set[int] = frozenset()) -> Clocks:
    """What entries show of their clocks; `told` are those where a person said which clock is right."""
    following = Following()
    for noted in entries:
        following.take(noted, told=noted.seq in told)
    return following.clocks()


def set_by(before: Noted, after: Noted) -> timedelta:
    """By how much the clock was set between two entries of one boot; zero for what is hardly anything."""
    by = timedelta(milliseconds=offset_ms(after) - offset_ms(before))
    return by if abs(by) > APART else timedelta(0)


def _as_one(doubts: Iterable[Doubt]) -> Iterator[Doubt]:
    """The doubts; of entries that follow each other, and are off by nobody knows how much, one."""
    held: Doubt | None = None
    for doubt in doubts:
        if held and not (held.boot or doubt.boot) and held.spans[-1][1] + 1 == doubt.spans[0][0]:
            span = (held.spans[-1][0], doubt.spans[0][1])
            held = Doubt((*held.spans[:-1], span, *doubt.spans[1:]), None)
            continue
        if held:
            yield held
        held = doubt
    if held:
        yield held


def _ahead(stand: Stand, right: Stand | None) -> timedelta | None:
    """How far a setting was ahead of the right one, to the middle of what each showed."""
    if right is None:
        return None
    middle = (stand.low_ms + stand.high_ms) // 2 - (right.low_ms + right.high_ms) // 2
    return timedelta(milliseconds=middle)
