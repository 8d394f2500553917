"""What is said back to alarms: which are quiet and why, the usual reasons, and until when one is put off."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

from board.house.calendar import on_shift
from board.ledger.facts import AlarmFacts
from board.views import names
from board.views.alarm import Alarm, AlarmKind
from board.views.days import when
from board.views.facts import Facts
from board.views.text import Cell, Tone, inert

GLYPH = "▲"
_FOLD_ABOVE = 3  # so many of one kind are told one by one
_SHORTER = (("15 min", timedelta(minutes=15)), ("1 h", timedelta(hours=1)))
_NEXT_SHIFT = timedelta(days=2)  # ahead in which the next one is looked for

REASONS: Mapping[AlarmKind, tuple[str, ...]] = {
    AlarmKind.RULE: ("reheated, then read again", "chilled at once, then read again", "discarded"),
    AlarmKind.LATE: ("another load goes first", "the service knows and waits", "seen to: read again soon"),
    AlarmKind.PIT: ("fire seen to, coming back", "the door stood open", "the probe was not in the air"),
    AlarmKind.HOLD: ("served first from now on", "looked at: still good", "set aside"),
    AlarmKind.BATCH: ("begun now", "not needed any more", "the day is planned again"),
    AlarmKind.CHECK: ("being read now", "nothing of it is left", "read on paper, entered later"),
    AlarmKind.PROBE: ("set right and checked again", "out of use"),
}


@dataclass(frozen=True, slots=True)
class Folded:
    """One line of alarms: one of them, or several of a kind in one sentence."""

    says: str
    tone: Tone
    count: int


@dataclass(frozen=True, slots=True)
class PutOff:
    """One choice of how long to put an alarm off."""

    name: str
    until: datetime


def answer_to(facts: Facts, alarm: Alarm) -> AlarmFacts | None:
    """What keeps an alarm quiet now; None where nothing does, or it has got worse since."""
    said = facts.answers.get(alarm.key)
    if said is None or said.level < alarm.level or (said.until is not None and said.until <= facts.now):
        return None
    return said


def loud(facts: Facts, alarms: Sequence[Alarm]) -> tuple[Alarm, ...]:
    """The alarms that nobody has answered or put off."""
    return tuple(alarm for alarm in alarms if answer_to(facts, alarm) is None)


def said_back(facts: Facts, answer: AlarmFacts) -> str:
    """What somebody said to an alarm: `put off by Ines until 06:15`."""
    who = names.person_name(facts.house, answer.who)
    if answer.until is not None:
        return f"put off by {who} until {when(facts, answer.until)}"
    return f"answered by {who} at {when(facts, answer.at)}: {inert(answer.why or '')}"


def folded(alarms: Sequence[Alarm]) -> list[Folded]:
    """The alarms in lines: more than three of one kind are one sentence, where the first of them stood."""
    kinds = {kind: list(group) for kind, group in groupby(sorted(alarms, key=_kind), key=_kind)}
    lines, told = [], set()
    for alarm in alarms:
        group = kinds[alarm.kind]
        if len(group) <= _FOLD_ABOVE:
            lines.append(Folded(alarm.whole, alarm.tone, 1))
        elif alarm.kind not in told:
            told.add(alarm.kind)
            says = f"{len(group)} times {alarm.kind}, the first: {alarm.whole}"
            lines.append(Folded(says, alarm.tone, len(group)))
    return lines


def _kind(alarm: Alarm) -> AlarmKind:
    return alarm.kind


def in_a_line(alarms: Sequence[Alarm]) -> list[Cell]:
    """The worst of what is loud for one line, and how many more there are; nothing where all is quiet."""
    lines = folded(alarms)
    if not lines:
        return []
    more = sum(line.count for line in lines) - lines[0].count
    cells = [Cell(f"{GLYPH} {lines[0].says}", lines[0].tone)]
    return [*cells, Cell(f"{more} more", Tone.QUIET)] if more else cells


def put_offs(facts: Facts) -> list[PutOff]:
    """For how long an alarm may be put off: a quarter of an hour, an hour, till the next shift comes."""
    found = [PutOff(name, facts.now + length) for name, length in _SHORTER]
    shifts = on_shift(facts.house, facts.now, facts.now + _NEXT_SHIFT)
    coming = [came for _, came, *_ in shifts if came > facts.now]
    if coming:
        found.append(PutOff(f"till the next shift, {when(facts, min(coming))}", min(coming)))
    return found
