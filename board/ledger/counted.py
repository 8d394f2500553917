"""What happened at the times that passed by the machine's count, where a wrong clock wrote others.

Rules and sums go by these; the record and whatever shows an entry by itself keep to what was written. What
somebody put right counts as it is.
"""

import json
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cached_property, partial
from typing import NamedTuple, TypeVar

from board.house.probes import Silence
from board.ledger import read
from board.ledger.clocks import APART, Clocks
from board.ledger.doubtful import clocks_between, clocks_lately, put_right
from board.ledger.facts import PlacingFacts, WatchFacts
from board.ledger.fed import thinned
from board.ledger.feeding import ProbeState
from board.ledger.open import Ledger
from board.ledger.shifts import Shift, shifts_of
from board.ledger.state import BatchState, Entry, LoadState, PitState, Reading, Timing
from board.ledger.times import moment

HELD_BACK = timedelta(minutes=15)  # what a feed keeps back at most to see what follows
_MARKED = """SELECT e.seq, e.at, e.kind, e.subject, e.data FROM entries e
    WHERE e.seq BETWEEN ? AND ? AND e.kind IN ('load', 'step', 'move', 'batch', 'watch', 'watch ended')
    AND NOT EXISTS (SELECT 1 FROM entries u WHERE u.undoes = e.seq) ORDER BY e.seq"""
_LINKED = """SELECT e.seq, e.noted_at, l.boot, l.up_ms FROM entries e JOIN links l ON l.seq = e.seq
    WHERE e.seq IN (SELECT value FROM json_each(?))"""
_EVER = datetime.fromisoformat("0001-01-03T00:00Z")
State = TypeVar("State", LoadState, BatchState, WatchFacts)


class _Written(NamedTuple):
    """When an entry was written, and by the count of which boot; empty where no count was kept."""

    noted_at: datetime
    boot: str


class _Moved(NamedTuple):
    """A time as it was written, and as it counts."""

    written_at: datetime
    at: datetime


class Counted:
    """One ledger's readings and marks at the times that count; the very same where no clock was wrong."""

    def __init__(self, ledger: Ledger, found: Clocks) -> None:
        self._ledger = ledger
        self._shifts = tuple(shifts_of(ledger, found))
        self._right = put_right(ledger) if self._shifts else frozenset()
        self._asked: dict[tuple[object, ...], list[Reading]] = {}

    def at(self, entry: Entry | PlacingFacts) -> datetime:
        """When an entry that is as it was written counts as having happened."""
        return self._moved(entry.seq, entry.at)

    def readings(
        self,
        *,
        load: str | None = None,
        day: date | None = None,
        place: str | None = None,
        since: datetime | None = None,
        until: datetime | None = None,
        silence: Silence | None = None,
    ) -> list[Reading]:
        """Temperatures by the time that counts, as `read.readings` takes them.

        One whose time is doubtful is there where it may have been taken in the span.
        """
        ask = partial(read.readings, self._ledger, load=load, day=day, place=place)
        if not self._shifts:
            return ask(since=since, until=until, silence=silence)
        asked = (load, day, place, since, until, silence)
        if asked not in self._asked:  # each probe of a place asks the same
            self._asked[asked] = self._counted(ask, since, until, silence)
        return self._asked[asked]

    def _counted(
        self,
        ask: Callable[..., list[Reading]],
        since: datetime | None,
        until: datetime | None,
        silence: Silence | None,
    ) -> list[Reading]:
        """What is asked for, and what wrong clocks wrote of that time elsewhere, by the time that counts."""
        found = {one.key: one for one in ask(since=since, until=until, silence=silence)}
        for shift in self._shifts:
            written = _written(shift, since, until)
            if written is not None:
                near = ask(since=written[0], until=written[1])
                found |= {one.key: one for one in self._each_thinned(near, silence)}
        timed = (
            one
            for one in self._timed([*found.values()])
            if _is_within(one.at, since, until) or (one.is_doubtful and _is_within(one.or_at, since, until))
        )
        ordered = sorted(timed, key=lambda one: (one.at, one.seq))
        return ordered if silence is None else thinned(ordered, silence)

    def loads(self, states: Iterable[LoadState]) -> list[LoadState]:
        """Loads with their marks, and the last of their cores, at the times that count."""
        return [self._with_core(self._marked("load", state.day.isoformat(), state)) for state in states]

    def pits(self, states: Mapping[str, PitState], since: datetime, silence: Silence) -> dict[str, PitState]:
        """Pits with the last of their air by the times that count, where it was read since a moment."""
        return {id: self._with_air(state, since, silence) for id, state in states.items()}

    def probes(self, states: Iterable[ProbeState], since: datetime, silence: Silence) -> list[ProbeState]:
        """Probes with what they last fed by the times that count, where that was since a moment."""
        return [self._with_fed(state, since, silence) for state in states]

    def batches(self, states: Iterable[BatchState]) -> list[BatchState]:
        """Batches with their marks at the times that count."""
        return [self._marked("batch", state.day.isoformat(), state) for state in states]

    def watches(self, since: datetime, until: datetime | None = None) -> list[WatchFacts]:
        """The watches that ran at some time of a span, by their start, as `read.watches` has them."""
        if not self._shifts:
            return read.watches(self._ledger, since=since, until=until)
        every = (self._marked("watch", "", one) for one in read.watches(self._ledger, since=_EVER))
        ran = [
            one
            for one in every
            if (one.ended_at is None or one.ended_at >= since) and _is_within(one.started_at, None, until)
        ]
        return sorted(ran, key=lambda one: (one.started_at, one.id))

    def _each_thinned(self, readings: Sequence[Reading], silence: Silence | None) -> Iterator[Reading]:
        """Readings thinned out where that is asked, those of each clock by themselves."""
        by_clock: dict[Shift | None, list[Reading]] = defaultdict(list)
        for one in readings:
            by_clock[self._shift(one.seq)].append(one)
        for own in by_clock.values():
            yield from own if silence is None else thinned(own, silence)

    def _with_core(self, state: LoadState) -> LoadState:
        if not self._shifts or state.last_core_at is None:
            return state
        last = self.readings(load=state.id, day=state.day)[-1]
        return replace(state, last_core_c=last.temperature_c, last_core_at=last.at)

    def _with_air(self, state: PitState, since: datetime, silence: Silence) -> PitState:
        if not self._shifts or state.last_air_at is None:
            return state
        last = self.readings(place=state.id, since=since, silence=silence)[-1:]
        return replace(state, last_air_c=last[0].temperature_c, last_air_at=last[0].at) if last else state

    def _with_fed(self, state: ProbeState, since: datetime, silence: Silence) -> ProbeState:
        if not self._shifts:
            return state
        load, day = state.load, state.load_day
        place = state.place if load is None else None
        fed = [
            one
            for one in self.readings(load=load, day=day, place=place, since=since, silence=silence)
            if one.probe == state.id
        ]
        if fed:
            state = replace(state, at=fed[-1].at, temperature_c=fed[-1].temperature_c)
        if state.struck_at is None:
            return state
        struck_at = self._moved(state.struck_seq, state.struck_at)
        return replace(state, struck_at=struck_at if struck_at > state.at else None)

    def _moved(self, seq: int, at: datetime) -> datetime:
        """A time that an entry was written with, as it counts."""
        shift = self._shift(seq)
        return at if shift is None else at - shift.by

    def _shift(self, seq: int) -> Shift | None:
        if seq in self._right:
            return None
        return next((shift for shift in self._shifts if shift.first <= seq <= shift.last), None)

    def _timed(self, readings: Sequence[Reading]) -> list[Reading]:
        """Readings at the times that count, with how those are known."""
        numbers = json.dumps(sorted({one.seq for one in readings}))
        written = {
            row["seq"]: _Written(moment(row["noted_at"]), row["boot"] if row["up_ms"] is not None else "")
            for row in self._ledger.rows(_LINKED, (numbers,))
        }
        return [self._reading(one, written.get(one.seq, _Written(one.at, ""))) for one in readings]

    def _reading(self, one: Reading, written: _Written) -> Reading:
        """One reading: what a person or a probe's own clock told is by no count of this machine."""
        shift, noted_at = self._shift(one.seq), written.noted_at
        boot = written.boot if _is_written_at_once(one, noted_at) and one.seq not in self._right else ""
        if shift is None:
            return replace(one, timing=Timing(boot))
        if not shift.is_known:
            return replace(one, at=one.at - shift.by, timing=Timing("", one.at, one.at - shift.or_by))
        if one.probe is not None and _is_written_at_once(one, noted_at - shift.by):
            if not boot:
                return replace(one, timing=Timing(written.boot))  # its own clock was right all the while
            boot = ""  # its time may be by its own clock as well as by this machine's
        return replace(one, at=one.at - shift.by, timing=Timing(boot, one.at, one.at))

    def _marked(self, family: str, day: str, state: State) -> State:
        """A thing with those of its times moved that stand as a wrong clock wrote them."""
        times = self._marks.get((family, day, state.id), {})
        changed = {name: to.at for name, to in times.items() if getattr(state, name, None) == to.written_at}
        moved = {times[name].written_at: at for name, at in changed.items()}
        if (since := getattr(state, "since", None)) in moved:
            changed["since"] = moved[since]
        return replace(state, **changed) if changed else state  # type: ignore[arg-type]

    @cached_property
    def _marks(self) -> Mapping[tuple[str, str, str], Mapping[str, _Moved]]:
        """The times that wrong clocks wrote and nobody put right, by what has them and how it calls them."""
        found: dict[tuple[str, str, str], dict[str, _Moved]] = defaultdict(dict)
        for shift in self._shifts:
            for row in self._ledger.rows(_MARKED, (shift.first, shift.last)):
                if row["seq"] not in self._right:
                    at = moment(row["at"])
                    key, name = _name(row["kind"], row["subject"], json.loads(row["data"]))
                    found[key][name] = _Moved(at, at - shift.by)
        return found


def counted(ledger: Ledger) -> Counted:
    """The times that count, by what the last entries show of clocks."""
    return Counted(ledger, clocks_lately(ledger))


def counted_between(ledger: Ledger, since: datetime, until: datetime) -> Counted:
    """The times that count, by what the entries near what happened in a span show of clocks."""
    return Counted(ledger, clocks_between(ledger, since, until))


def _name(kind: str, subject: str, data: Mapping[str, str]) -> tuple[tuple[str, str, str], str]:
    """What a mark is of, and what the time is called there."""
    if kind in ("watch", "watch ended"):
        return ("watch", "", subject), "started_at" if kind == "watch" else "ended_at"
    if kind == "move":
        return ("load", data["day"], subject), "moved_at"
    family = "batch" if kind == "batch" else "load"
    return (family, data["day"], data.get("load", subject)), f"{data.get('stage')}_at"


def _written(
    shift: Shift, since: datetime | None, until: datetime | None
) -> tuple[datetime, datetime] | None:
    """From when to when a wrong clock can have written what was taken in a span; None where it wrote none."""
    moves = (timedelta(0), shift.by, shift.or_by)
    began, ended = shift.since - HELD_BACK, shift.until + HELD_BACK
    began = began if since is None else max(began, since + min(moves))
    ended = ended if until is None else min(ended, until + max(moves))
    return (began, ended) if began < ended else None


def _is_written_at_once(one: Reading, noted_at: datetime) -> bool:
    """Whether a reading's time is that at which it was written, by the same clock."""
    waited = HELD_BACK if one.probe is not None else APART
    return -APART <= noted_at - one.at <= waited


def _is_within(at: datetime, since: datetime | None, until: datetime | None) -> bool:
    return (since is None or at >= since) and (until is None or at < until)
