"""Which readings of a probe likely do not count, what a strike of a span takes, and what to ask of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from board.errors import LedgerError
from board.house.calendar import day_bounds, local, zone
from board.house.model import House
from board.house.probes import ProbeReads
from board.house.time_typed import time_of_day
from board.house.wording import count
from board.ledger.open import Ledger
from board.ledger.state import ReadingKey
from board.ledger.striking import Beside, Strikable, fed_between, last_before
from board.ledger.typed import AHEAD
from board.ledger.when import moment_meant
from board.views import names
from board.views.days import when
from board.views.facts import Facts
from board.views.fed_out import JUDGED, Span, edges, wrong_spell

LOOK_BACK = timedelta(hours=24)  # a clock time alone names no moment before that
USUAL = timedelta(minutes=10)  # what is offered where nothing tells which readings are wrong
_MINUTE = timedelta(minutes=1)
_WHYS: Mapping[ProbeReads, tuple[str, ...]] = {
    ProbeReads.MEAT: ("fell out of the meat", "lay in the fire", "was in another piece"),
    ProbeReads.AIR: ("fell from its place", "touched meat or metal", "was being cleaned"),
}


@dataclass(frozen=True, slots=True)
class Struck:
    """What would be struck: how many readings, a sentence of it, and one of what is beside it."""

    readings: int = 0
    takes: str = ""
    beside: str = ""


def whys(house: House, probe: str) -> tuple[str, ...]:
    """The usual reasons why readings of a probe do not count."""
    known = house.probes.get(probe)
    return _WHYS[known.reads if known else ProbeReads.AIR]


def as_of(facts: Facts, day: date | None) -> datetime:
    """The moment up to which a clock time is meant: now, or the end of an earlier day."""
    if day is None:
        return facts.now
    return min(facts.now, _end_of(facts, day) - AHEAD - _MINUTE)


def _end_of(facts: Facts, day: date) -> datetime:
    return day_bounds(day, facts.house.zone)[1]


def likely_span(
    ledger: Ledger, facts: Facts, probe: str, reasons: Mapping[ReadingKey, str], day: date | None
) -> Span | None:
    """The span to offer: where a meat probe was plainly in no meat, else its last minutes; None without any.

    `reasons` tell which readings the sums leave out; with a day the span is of that day.
    """
    upto = as_of(facts, day)
    last = last_before(ledger, probe, facts.now + _MINUTE if day is None else _end_of(facts, day))
    if last is None or last.at < upto - LOOK_BACK:
        return None
    own = [one for some in facts.readings.values() for one in some if one.probe == probe]
    spell = wrong_spell([one for one in own if upto - LOOK_BACK < one.at <= last.at], reasons)
    since, until = spell or (last.at - USUAL, last.at)
    if spell is not None:
        near = fed_between(ledger, probe, since - 2 * JUDGED, until + JUDGED)
        since, until = edges(near, spell)
    goes_on = upto == facts.now and until >= last.at
    return since, upto if goes_on else until


def span_typed(house: House, since: str, until: str, upto: datetime, now: datetime) -> Span:
    """The span from one typed clock time to another, the whole last minute in it.

    A clock time is the nearest one before `upto`; a date may stand before it.

    Raises:
        LedgerError: no time, still to come, or an end before the beginning.
    """
    first, last = (moment_typed(house, text, upto) for text in (since, until))
    if last < first:
        first_clock, last_clock = (names.clock(house, end) for end in (first, last))
        raise LedgerError(f"{last_clock} is before {first_clock}; turn them round")
    if first > now:
        raise LedgerError(f"{names.clock(house, first)} is still to come")
    return first, min(last + _MINUTE - timedelta(milliseconds=1), max(now, last))


def moment_typed(house: House, text: str, upto: datetime) -> datetime:
    """The moment that is meant by a clock time, or by a date and a time."""
    clock = time_of_day(text)
    return moment_meant(f"{clock:%H:%M}" if clock else text, zone(house), upto)


def as_typed(house: House, moment: datetime, upto: datetime) -> str:
    """How a moment is typed: its clock time where that means it, else with its date."""
    minute = moment.replace(second=0, microsecond=0)
    clock = names.clock(house, minute)
    if moment_typed(house, clock, upto) == minute:
        return clock
    return f"{local(minute, house).date()} {clock}"


def strike_words(facts: Facts, span: Span, found: Strikable | None) -> Struck:
    """What a strike of a span takes, and which readings stay beside it."""
    since, until = (when(facts, end) for end in span)
    if found is None:
        return Struck(takes=f"Nothing that counts was sent from {since} to {until}.")
    low, high = (names.degrees(facts.house, celsius) for celsius in (found.low_c, found.high_c))
    degrees = low if low == high else f"{low} to {high}"
    takes = f"Strikes {count(found.readings, 'reading')} from {since} to {until}, {degrees}."
    sides = [_side(facts, "before it", found.before), _side(facts, "after it", found.after)]
    beside = ", ".join(one for one in sides if one)
    if found.after is None:
        beside += f"{'. ' if beside else ''}What it sends from now on counts"
    return Struck(found.readings, takes, f"{beside[:1].upper()}{beside[1:]}.")


def _side(facts: Facts, where: str, one: Beside | None) -> str:
    return f"{where} {names.degrees(facts.house, one.temperature_c)} at {when(facts, one.at)}" if one else ""
