"""What probes fed of a load or a place, as views need it: for the sums, for a line, and in words.

A load is done when its slowest piece is, so of several probes in it the coldest counts. The sums take one
reading of each stretch that is over: a feed would else have them begin again each second.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from board.house.model import House
from board.house.read_probes import silence_of
from board.ledger.state import LoadState, Reading, ReadingKey
from board.views import names

Gap = tuple[datetime, datetime]

SUM_MINUTES = 10.0  # a core moves a degree or two in it, near what a thermometer for food may be off
_HALF_HOUR_S = 1800.0
_STRETCH = timedelta(minutes=SUM_MINUTES)


def gaps_in(house: House, readings: Iterable[Reading]) -> list[Gap]:
    """Where nothing was read after a probe fell silent, from its last reading to the next of any hand."""
    silence = silence_of(house)
    found = []
    before: Reading | None = None
    for one in sorted(readings, key=lambda r: (r.at, r.seq)):
        if before is not None and before.probe is not None:
            apart = one.at - before.at
            if apart > timedelta(minutes=silence.minutes(before.probe)):
                found.append((before.at, one.at))
        before = one
    return found


def summed_core(readings: Sequence[Reading], now: datetime) -> tuple[Reading, ...]:
    """The readings of a core that the sums take: all by hand, and of a feed the coldest of each stretch."""
    last = _last_of_each(readings, now)
    coldest: dict[int, Reading] = {}
    for (stretch, _), one in last.items():
        if stretch not in coldest or one.temperature_c < coldest[stretch].temperature_c:
            coldest[stretch] = one
    return _with_hands(readings, coldest.values())


def summed_air(readings: Sequence[Reading], now: datetime) -> tuple[Reading, ...]:
    """The readings of a pit's air that the sums take: all by hand, and the last of each probe and stretch."""
    return _with_hands(readings, _last_of_each(readings, now).values())


def judged_alike(
    readings: Sequence[Reading], reasons: Mapping[ReadingKey, str]
) -> Iterator[tuple[ReadingKey, str]]:
    """Readings that do not count, with those that were fed in one stretch with one of them.

    What has come since the last stretch that is over is taken for what that was.
    """
    latest: dict[str, tuple[int, str]] = {}
    out: dict[tuple[str, int], str] = {}
    for one in readings:
        why = reasons.get(one.key)
        if why is not None and one.probe is None:
            yield one.key, why
        elif why is not None and one.probe is not None:
            out[one.probe, _stretch(one.at)] = why
            latest[one.probe] = max(latest.get(one.probe, (0, "")), (_stretch(one.at), why))
    for one in readings:
        if one.probe is None:
            continue
        stretch, why = latest.get(one.probe, (0, ""))
        here = out.get((one.probe, _stretch(one.at))) or (why if _stretch(one.at) == stretch + 1 else "")
        if here:
            yield one.key, here


def coldest_of(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Readings of a core; where several probes feed, all by hand and the coldest probe of each stretch."""
    probes = {one.probe for one in readings if one.probe is not None}
    if len(probes) < 2:
        return tuple(readings)
    return summed_core(readings, max(one.at for one in readings) + _STRETCH)


def line_of(readings: Sequence[Reading]) -> tuple[tuple[datetime, float], ...]:
    """A line through readings of a core."""
    return tuple(sorted((one.at, one.temperature_c) for one in coldest_of(readings)))


def without_doors(
    readings: Sequence[Reading], is_out: Callable[[float], bool], minutes: float
) -> tuple[tuple[Reading, ...], int]:
    """Readings of a place without what a probe sent while a door stood open, and how often one did.

    Air that is out of its limit for less than these minutes, and was and is within it before and after, is
    air: no food follows so fast. What was read by hand counts as it is.
    """
    kept: list[Reading] = []
    doors = 0
    for probe in {one.probe for one in readings if one.probe is not None}:
        own, often = _without_doors([one for one in readings if one.probe == probe], is_out, minutes)
        kept += own
        doors += often
    return _with_hands(readings, kept), doors


def _without_doors(
    readings: Sequence[Reading], is_out: Callable[[float], bool], minutes: float
) -> tuple[list[Reading], int]:
    """The same of one probe: short spells out of the limit between two readings within it are left out."""
    kept: list[Reading] = []
    out: list[Reading] = []
    doors = 0
    for one in readings:
        if is_out(one.temperature_c):
            out.append(one)
            continue
        if out and kept and one.at - kept[-1].at <= timedelta(minutes=minutes):
            doors += 1
        else:
            kept += out
        out = []
        kept.append(one)
    return [*kept, *out], doors


def listed(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings worth a line each: all by hand, and of a feed the extremes of each half hour."""
    ends: dict[tuple[str, int], tuple[Reading, Reading]] = {}
    for one in readings:
        if one.probe is not None:
            key = one.probe, int(one.at.timestamp() // _HALF_HOUR_S)
            low, high = ends.get(key, (one, one))
            ends[key] = (
                min(low, one, key=lambda r: r.temperature_c),
                max(high, one, key=lambda r: r.temperature_c),
            )
    return _with_hands(readings, {one for pair in ends.values() for one in pair})


def with_coldest(state: LoadState, readings: Sequence[Reading]) -> LoadState:
    """How a load stands, its last core the coldest of the probes that are in it now."""
    if not readings or readings[-1].probe is None:
        return state
    now: dict[str, Reading] = {}
    for one in readings:
        if one.probe is not None and one.at > readings[-1].at - _STRETCH:
            now[one.probe] = one
    coldest = min(now.values(), key=lambda one: one.temperature_c)
    return replace(state, last_core_c=coldest.temperature_c, last_core_at=coldest.at)


def told(
    house: House,
    readings: Sequence[Reading],
    struck: Sequence[Reading] = (),
    left_out: Mapping[ReadingKey, str] | None = None,
) -> Iterator[tuple[datetime, str, str]]:
    """What each probe fed in a line: the moment of its last reading, what it says, and the probe.

    A probe was not silent while it fed what was `struck`; of what is `left_out` the last has its reason.
    """
    of_probe: dict[str, list[Reading]] = {}
    for one in readings:
        if one.probe is not None:
            of_probe.setdefault(one.probe, []).append(one)
    for probe, own in of_probe.items():
        low, high = (end(one.temperature_c for one in own) for end in (min, max))
        span = f"{names.degrees(house, low)} to {names.degrees(house, high)}"
        last = f"last {names.degrees(house, own[-1].temperature_c)}"
        since = names.clock(house, own[0].at)
        sent = (*own, *(one for one in struck if one.probe == probe))
        silent = "".join(f"; silent {words}" for words in gap_words(house, gaps_in(house, sent)))
        out = [(one.at, why) for one in own if (why := (left_out or {}).get(one.key))]
        not_counted = f"; left out, last at {names.clock(house, out[-1][0])}: {out[-1][1]}" if out else ""
        yield own[-1].at, f"fed since {since}: {span}, {last}{silent}{not_counted}", probe


def gap_words(house: House, gaps: Sequence[Gap]) -> list[str]:
    """Gaps as `02:10–05:10`, the last few of many."""
    shown = [f"{names.clock(house, start)}–{names.clock(house, end)}" for start, end in gaps[-3:]]
    return [f"{len(gaps) - 3} times before", *shown] if len(gaps) > 3 else shown


def _stretch(at: datetime) -> int:
    return int(at.timestamp() // _STRETCH.total_seconds())


def _last_of_each(readings: Iterable[Reading], now: datetime) -> dict[tuple[int, str], Reading]:
    """The last reading of each probe in each stretch that is over."""
    current = _stretch(now)
    fed = ((_stretch(one.at), one.probe, one) for one in readings if one.probe is not None)
    return {(stretch, probe): one for stretch, probe, one in fed if stretch < current}


def _with_hands(readings: Iterable[Reading], fed: Iterable[Reading]) -> tuple[Reading, ...]:
    hands = (one for one in readings if one.probe is None)
    return tuple(sorted((*hands, *fed), key=lambda one: (one.at, one.seq)))
