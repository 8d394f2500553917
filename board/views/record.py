"""The Record view: everything recorded, newest first, corrections in plain sight; and what it proves."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum

from board.house.calendar import day_bounds, local
from board.ledger import read
from board.ledger.doubtful import doubtful
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.planning.plan import Plan
from board.views import names
from board.views.clock_words import doubt_word, with_doubt
from board.views.days import near_day, when
from board.views.facts import Facts
from board.views.fed_record import fed_lines
from board.views.gather import corrections
from board.views.happened import sentence, weight
from board.views.left_out import all_left_out
from board.views.probes import as_corrected, probe_failed, probe_word
from board.views.progress import Revised
from board.views.proofs import Proof, Section, proofs, span_facts
from board.views.record_line import RecordLine
from board.views.record_parts import fold_of, part_of
from board.views.shown_cooked import TONES, answer_word
from board.views.text import Tone, inert

LINES = 400
PROVED_DAYS = 7  # what a section of proofs shows where no day is chosen
_LATE_NOTE = timedelta(minutes=10)
_MARGIN = timedelta(minutes=5)
_A_MOMENT = timedelta(microseconds=1)
_NOTHING_DONE = "nothing is written of what was done about it"


class Kind(StrEnum):
    """Which part of the record is shown."""

    ALL = "everything"
    READINGS = "temperatures"
    COOKED = "cooked"
    HOLDING = "holding"
    COOLING = "cooling, reheating, thawing"
    MARKS = "date marks"
    FAILED = "what failed, and what was done"
    PROBES = "probe checks"
    NOTES = "notes and handovers"


_KINDS: Mapping[Kind, tuple[str, ...] | None] = {
    Kind.ALL: None,
    Kind.READINGS: ("reading",),
    Kind.PROBES: ("probe",),
    Kind.NOTES: ("note", "handover"),
}
_FED = (Kind.ALL, Kind.READINGS)
_SECTIONS: Mapping[Kind, tuple[Section, ...]] = {
    Kind.COOKED: (Section.COOKED,),
    Kind.HOLDING: (Section.HOLDING,),
    Kind.COOLING: (Section.COOLING,),
    Kind.MARKS: (Section.MARKS,),
    Kind.FAILED: tuple(Section),
}


@dataclass(frozen=True, slots=True)
class Record:
    """The whole view.

    `left_out` tells that older entries are not looked at, `span` which days are,
    `entries` how many its lines tell.
    """

    kind: Kind
    lines: tuple[RecordLine, ...]
    left_out: bool
    span: str = ""
    entries: int = 0


def record(
    ledger: Ledger,
    facts: Facts,
    kind: Kind = Kind.ALL,
    *,
    lines: int = LINES,
    revised: Revised | None = None,
    day: date | None = None,
) -> Record:
    """One part of the record, newest first, of one day or of all; readings not counted say why."""
    span = "" if day is None else near_day(facts, day)
    if kind in _SECTIONS:
        return Record(kind, tuple(_proved(ledger, facts, kind, day)), False, span or f"{PROVED_DAYS} days")
    since, until = day_bounds(day, facts.house.zone) if day else (None, facts.now + _MARGIN)
    found = read.entries(ledger, since=since, until=until, kinds=_KINDS[kind], limit=lines + 1)
    newest = list(reversed(found))[:lines]
    known = knowing(ledger, facts, newest)
    not_counted = all_left_out(revised)
    told = [(entry.at, _foldable(known, entry, not_counted.get(entry.seq, ""))) for entry in newest]
    count = len(told)
    if kind in _FED:
        told += [(fed.last_at, line) for fed, line in fed_lines(ledger, facts, day)]
        told.sort(key=lambda one: one[0], reverse=True)
    return Record(kind, tuple(line for _, line in told), len(found) > lines, span, count)


def _foldable(facts: Facts, entry: Entry, not_counted: str) -> RecordLine:
    """An entry's line, and what it may be told together with: not what was corrected, or does not count."""
    line = record_line(facts, entry, not_counted)
    if not_counted or line.noted or entry.seq in facts.corrected:
        return line
    part, portions = part_of(facts, entry)
    return replace(line, fold=fold_of(entry), part=part, portions=portions)


def knowing(ledger: Ledger, facts: Facts, entries: Sequence[Entry]) -> Facts:
    """The facts with the older plans, watches, corrections and doubts that some entries are about."""
    subjects = {entry.subject for entry in entries} - {watch.id for watch in facts.watches}
    watches = [watch for id in sorted(subjects) if (watch := read.watch(ledger, id)) is not None]
    return replace(
        facts,
        plans={**_older_plans(ledger, facts, entries), **facts.plans},
        watches=(*facts.watches, *watches),
        corrected=corrections(read.entries(ledger, kinds=("correction",))),
        doubts=doubtful(ledger, entries),
    )


def _older_plans(ledger: Ledger, facts: Facts, entries: Sequence[Entry]) -> dict[date, Plan]:
    """The plans of the days that older entries are about."""
    days = {date.fromisoformat(str(e.data["day"])) for e in entries if e.data.get("day")} - set(facts.plans)
    plans = {day: read.current_plan(ledger, day) for day in days}
    return {day: plan for day, plan in plans.items() if plan is not None}


def record_line(facts: Facts, entry: Entry, not_counted: str = "") -> RecordLine:
    """One entry, with who and when, whether it was taken back, written down later or not counted."""
    house = facts.house
    says = sentence(facts, entry) or inert(f"{entry.kind} {entry.subject}")
    if entry.kind == "probe":
        says += f": {probe_word(house, as_corrected(facts, entry))}"
    return RecordLine(
        key=str(entry.seq),
        day=_day(facts, entry),
        clock=with_doubt(facts.doubts, entry.seq, names.clock(house, entry.at)),
        says=says + (f"; not counted: {not_counted}" if not_counted else ""),
        who=names.person_name(house, entry.who),
        noted=_noted(facts, entry),
        taken_back=entry.undone,
        tone=_tone(facts, entry),
        about=f"entry:{entry.seq}",
        on=local(entry.at, house).date(),
    )


def _tone(facts: Facts, entry: Entry) -> Tone:
    if entry.undoes is not None:
        return Tone.CARE
    if entry.kind == "probe" and probe_failed(facts.house, as_corrected(facts, entry)):
        return Tone.LATE
    return weight(entry)


def _day(facts: Facts, entry: Entry) -> str:
    day = local(entry.at, facts.house).date()
    return "" if day == facts.today else near_day(facts, day)


def _noted(facts: Facts, entry: Entry) -> str:
    if entry.seq in facts.doubts:
        return doubt_word(facts.doubts[entry.seq])
    if entry.noted_at - entry.at < _LATE_NOTE:
        return ""
    return f"written {when(facts, entry.noted_at)}"


def proofs_shown(ledger: Ledger, facts: Facts, day: date | None = None) -> list[Proof]:
    """What a day proves, or the last days."""
    since, until = _shown(facts, day)
    known = span_facts(ledger, facts.house, since, max(since, min(until, facts.now + _A_MOMENT)))
    return proofs(ledger, known, since, until)


def _shown(facts: Facts, day: date | None) -> tuple[datetime, datetime]:
    since, until = facts.now - timedelta(days=PROVED_DAYS), facts.now + _MARGIN
    if day is not None:
        since, ends = day_bounds(day, facts.house.zone)
        until = min(ends, until)
    return since, until


def _proved(ledger: Ledger, facts: Facts, kind: Kind, day: date | None) -> list[RecordLine]:
    """What a day proves, or the last days, newest first."""
    found = [proof for proof in proofs_shown(ledger, facts, day) if proof.section in _SECTIONS[kind]]
    newest = sorted(found, key=lambda proof: (proof.at, proof.key), reverse=True)
    if kind is not Kind.FAILED:
        return [proof_line(facts, proof) for proof in newest]
    failed = [proof_line(facts, proof) for proof in newest if proof.failed or proof.actions]
    return [*_bad_probes(ledger, facts, day), *failed]


def _bad_probes(ledger: Ledger, facts: Facts, day: date | None) -> list[RecordLine]:
    """The probes that were too far off, newest first: what they read is in doubt, so they come first."""
    since, until = _shown(facts, day)
    checks = read.entries(ledger, since=since, until=until, kinds=("probe",))
    known = knowing(ledger, facts, checks)
    acted = [entry for entry in read.entries(ledger, kinds=("action",)) if not entry.undone]
    return [
        replace(record_line(known, entry), below=tuple(_done_about(acted, entry)))
        for entry in reversed(checks)
        if not entry.undone and probe_failed(facts.house, as_corrected(known, entry))
    ]


def _done_about(acted: Sequence[Entry], entry: Entry) -> list[str]:
    done = [action for action in acted if action.data.get("entry") == entry.seq]
    return _told(done) or [_NOTHING_DONE]


def _told(actions: Sequence[Entry]) -> list[str]:
    return [f"done about it: {inert(str(action.data['text']))}" for action in actions]


def proof_line(facts: Facts, proof: Proof) -> RecordLine:
    """One proof: what it is of, the answer with its reason, what settles it, and what was done about it."""
    day = local(proof.at, facts.house).date()
    verdict = proof.verdict
    answer = ""
    if verdict is not None:
        word = answer_word(verdict.answer) if proof.section is Section.COOKED else str(verdict.answer)
        answer = f": {word}. {verdict.why}"
    below = [f"to settle it: {verdict.settle}"] if verdict is not None and verdict.settle else []
    below += _told(proof.actions)
    if proof.failed and not proof.actions:
        below.append(_NOTHING_DONE)
    return RecordLine(
        key=f"{proof.section}|{proof.key}",
        day="" if day == facts.today else near_day(facts, day),
        clock=names.clock(facts.house, proof.at),
        says=inert(proof.what + answer),
        who=proof.ended,
        noted="",
        taken_back=False,
        tone=TONES[verdict.answer] if verdict is not None else Tone.PLAIN,
        below=tuple(inert(text) for text in below),
        about=_about(proof),
        on=day,
    )


def _about(proof: Proof) -> str:
    """What an action on a proof answers: its load, its watch, or the last reading of a place."""
    if proof.key.startswith("place:"):
        return f"entry:{proof.readings[-1].seq}"
    return proof.key
