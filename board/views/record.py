"""The Record view: everything recorded, newest first, corrections in plain sight."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from board.house.calendar import local
from board.ledger import read
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.planning.plan import Plan
from board.views import names
from board.views.days import near_day, when
from board.views.facts import Facts
from board.views.happened import sentence, weight
from board.views.left_out import all_left_out
from board.views.progress import Revised
from board.views.text import Tone, inert

LINES = 400
_LATE_NOTE = timedelta(minutes=10)


class Kind(StrEnum):
    """Which entries are shown."""

    ALL = "everything"
    READINGS = "temperatures"
    NOTES = "notes and handovers"


_KINDS: dict[Kind, tuple[str, ...] | None] = {
    Kind.ALL: None,
    Kind.READINGS: ("reading",),
    Kind.NOTES: ("note", "handover"),
}


@dataclass(frozen=True, slots=True)
class RecordLine:
    """One entry in a line."""

    key: str
    day: str
    clock: str
    says: str
    who: str
    noted: str
    taken_back: bool
    tone: Tone


@dataclass(frozen=True, slots=True)
class Record:
    """The whole view; `left_out` tells that older entries are not shown."""

    kind: Kind
    lines: tuple[RecordLine, ...]
    left_out: bool


def record(
    ledger: Ledger,
    facts: Facts,
    kind: Kind = Kind.ALL,
    lines: int = LINES,
    revised: Revised | None = None,
) -> Record:
    """The newest entries of one kind, read when the view is looked at; readings not counted say why."""
    found = read.entries(ledger, until=facts.now + timedelta(minutes=5), kinds=_KINDS[kind], limit=lines + 1)
    known = replace(facts, plans={**_older_plans(ledger, facts, found), **facts.plans})
    newest = list(reversed(found))[:lines]
    not_counted = all_left_out(revised)
    told = tuple(record_line(known, entry, not_counted.get(entry.seq, "")) for entry in newest)
    return Record(kind, told, len(found) > lines)


def _older_plans(ledger: Ledger, facts: Facts, entries: Sequence[Entry]) -> dict[date, Plan]:
    """The plans of the days that older entries are about."""
    days = {date.fromisoformat(str(e.data["day"])) for e in entries if e.data.get("day")} - set(facts.plans)
    plans = {day: read.current_plan(ledger, day) for day in days}
    return {day: plan for day, plan in plans.items() if plan is not None}


def record_line(facts: Facts, entry: Entry, not_counted: str = "") -> RecordLine:
    """One entry, with who and when, whether it was taken back, written down later or not counted."""
    house = facts.house
    day = local(entry.at, house).date()
    says = sentence(facts, entry) or inert(f"{entry.kind} {entry.subject}")
    return RecordLine(
        key=str(entry.seq),
        day="" if day == facts.today else near_day(facts, day),
        clock=names.clock(house, entry.at),
        says=says + (f"; not counted: {not_counted}" if not_counted else ""),
        who=names.person_name(house, entry.who),
        noted=_noted(facts, entry),
        taken_back=entry.undone,
        tone=Tone.CARE if entry.undoes is not None else weight(entry),
    )


def _noted(facts: Facts, entry: Entry) -> str:
    if entry.noted_at - entry.at < _LATE_NOTE:
        return ""
    return f"written {when(facts, entry.noted_at)}"
