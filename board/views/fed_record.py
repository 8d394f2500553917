"""What probes fed as the record tells it: a line for each probe and day, and the hours behind it."""

from datetime import date, timedelta

from board.house.calendar import day_bounds
from board.house.read_probes import silence_of
from board.house.wording import count
from board.ledger.doubtful import doubts_between, fed_by
from board.ledger.fed_spans import FedSpan, fed_hours, fed_span, fed_spans
from board.ledger.open import Ledger
from board.ledger.striking import StruckSpan, struck_between
from board.views import names
from board.views.clock_words import DOUBTFUL
from board.views.days import near_day
from board.views.facts import Facts
from board.views.fed import gap_words
from board.views.record_line import RecordLine
from board.views.text import Tone, inert

FED = "fed|"


def fed_lines(ledger: Ledger, facts: Facts, day: date | None) -> list[tuple[FedSpan, RecordLine]]:
    """A line for each probe that fed on a day; on this and the last one where none is chosen."""
    days = [day] if day else [facts.today, facts.today - timedelta(days=1)]
    silence = silence_of(facts.house)
    found: list[tuple[FedSpan, RecordLine]] = []
    for on in days:
        bounds = day_bounds(on, facts.house.zone)
        doubts = doubts_between(ledger, *bounds)
        found += [
            (span, _line(facts, span, on, fed_by(ledger, doubts, span.probe, *bounds)))
            for span in fed_spans(ledger, *bounds, silence)
        ]
    return found


def _line(facts: Facts, span: FedSpan, on: date, doubtful: int) -> RecordLine:
    name = inert(names.person_name(facts.house, span.probe))
    return RecordLine(
        key=f"{FED}{on}|{span.probe}",
        day="" if on == facts.today else near_day(facts, on),
        clock=names.clock(facts.house, span.last_at),
        says=f"{name}: {fed_says(facts, span)}",
        who=name,
        noted=f"{DOUBTFUL} {doubtful} by a wrong clock" if doubtful else "",
        taken_back=False,
        tone=Tone.CARE if span.gaps or doubtful else Tone.PLAIN,
        on=on,
        fold=f"{FED}{on}",
        part=f"{name}, {_range(facts, span)}",
    )


def fed_says(facts: Facts, span: FedSpan) -> str:
    """How many readings from when to when, how cold and how hot, and when the probe was silent."""
    first, last = (names.clock(facts.house, at) for at in (span.first_at, span.last_at))
    says = f"{count(span.readings, 'reading')} from {first} to {last}, {_range(facts, span)}"
    says += f", {span.struck} of them struck" if span.struck else ""
    return says + "".join(f"; silent {words}" for words in gap_words(facts.house, span.gaps))


def _range(facts: Facts, span: FedSpan | StruckSpan) -> str:
    low, high = (names.degrees(facts.house, celsius) for celsius in (span.low_c, span.high_c))
    return low if low == high else f"{low} to {high}"


def fed_detail(ledger: Ledger, facts: Facts, key: str) -> tuple[str, tuple[tuple[str, str], ...]] | None:
    """A heading and a line for each hour of what a probe fed on a day, by its line's key."""
    day, _, probe = key.removeprefix(FED).partition("|")
    bounds = day_bounds(date.fromisoformat(day), facts.house.zone)
    found = fed_span(ledger, probe, *bounds, silence_of(facts.house))
    if found is None:
        return None
    name = inert(names.person_name(facts.house, probe))
    hours = fed_hours(ledger, probe, *bounds)
    struck = struck_between(ledger, probe, *bounds)
    lines = [(one.first_at, f"{_range(facts, one)}, {count(one.readings, 'reading')}") for one in hours]
    lines += [(one.strike.since, _struck(facts, one)) for one in struck]
    told = [(names.clock(facts.house, at), says) for at, says in sorted(lines)]
    return f"{name} fed {fed_says(facts, found)}", tuple(told)


def _struck(facts: Facts, one: StruckSpan) -> str:
    """What somebody struck, until when, and why."""
    until, who = names.clock(facts.house, one.strike.until), names.person_name(facts.house, one.strike.who)
    why = f": “{inert(one.strike.why)}”" if one.strike.why else ""
    read = count(one.readings, "reading")
    return f"to {until} struck by {inert(who)}, {_range(facts, one)}, {read}{why}"
