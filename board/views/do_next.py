"""What to do next: the work of all loads, batches and fires and the checks due, by time and person."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.calendar import local, on_shift
from board.house.spans import minutes_between
from board.house.wording import duration
from board.views import names
from board.views.cautions import caution_of, caution_of_check
from board.views.checks import MINUTES, Check, checks
from board.views.days import near_day
from board.views.facts import Facts
from board.views.fires import fires_out
from board.views.progress import Revised
from board.views.reference import ref
from board.views.steps import Due, to_do
from board.views.text import Cell, Tone

AHEAD = timedelta(hours=18)
OVERDUE_MINUTES = 5
# of what falls due in one minute, what a fire or hot meat waits for comes before what the bench waits for
_FIRST = ("light", "set", "pull", "wrap", "load", "hold", "rest")


@dataclass(frozen=True, slots=True)
class Next:
    """One thing to do: when, what, how long it takes, who does it, and what to mind.

    `what` and `where` say it in two parts; `mine` tells that it is for whoever asks, for nobody yet, or
    overdue; `stretch` is the part of the day it is in.
    """

    key: str
    clock: str
    says: str
    minutes: str
    who: str
    tone: Tone
    short: str
    what: str
    where: str = ""
    mind: Cell | None = None
    mine: bool = True
    stretch: str = ""


def nexts(facts: Facts, revised: Revised | None, who: str = "") -> list[Next]:
    """The steps to do and the checks due, by time; at once due, by the work's sense, one's own first."""
    until, ends = facts.now + AHEAD, shift_end(facts, who)
    rows = [
        (_minute(due.at), _rank(due), _next(facts, due, who, ends)) for due in to_do(facts, until, revised)
    ]
    last = len(_FIRST) + 1
    due = [*fires_out(facts, until, revised), *checks(facts, until)]
    rows += [(_minute(check.at), last, _next_check(facts, check, ends)) for check in due]
    return [row[-1] for row in sorted(rows, key=lambda row: (*row[:2], not row[2].mine))]


def due_now(facts: Facts, revised: Revised | None) -> int:
    """How many steps and checks are to be done by now."""
    return sum(1 for one in nexts(facts, revised) if one.tone in (Tone.LATE, Tone.HEAT))


def _minute(at: datetime) -> datetime:
    return at.replace(second=0, microsecond=0)


def _rank(due: Due) -> int:
    return _FIRST.index(due.step.what) if due.step.what in _FIRST else len(_FIRST)


def _next_check(facts: Facts, check: Check, ends: datetime | None) -> Next:
    clock, tone = against_now(facts, check.at)
    return Next(
        key=check.key,
        clock=clock,
        says=check.says,
        minutes=duration(MINUTES),
        who="",
        tone=tone,
        short=check.short,
        what=check.short,
        mind=caution_of_check(facts, check.key),
        stretch=_stretch(facts, check.at, ends),
    )


def _next(facts: Facts, due: Due, who: str, ends: datetime | None) -> Next:
    other = "" if due.plan.day == facts.today else f" for {near_day(facts, due.plan.day)}"
    clock, tone = against_now(facts, due.at)
    return Next(
        key=ref(due.plan.day, due.step.id),
        clock=clock,
        says=f"{due.says},{other}" if other else due.says,
        minutes=duration(due.step.minutes),
        who=names.person_name(facts.house, due.step.who) or "nobody",
        tone=tone,
        short=due.short + other,
        what=due.what + other,
        where=due.where,
        mind=caution_of(facts.house, due.plan, due.step),
        mine=not who or due.step.who in (None, who) or tone is Tone.LATE,
        stretch=_stretch(facts, due.at, ends),
    )


def against_now(facts: Facts, at: datetime) -> tuple[str, Tone]:
    """When something is due, as it is said now, and its tone: `20 min late`, `now`, `06:15`."""
    late = minutes_between(at, facts.now)
    if late > OVERDUE_MINUTES:
        return f"{duration(late)} late", Tone.LATE
    return ("now", Tone.HEAT) if late >= 0 else (names.clock(facts.house, at), Tone.PLAIN)


def _stretch(facts: Facts, at: datetime, ends: datetime | None) -> str:
    """The part of the day: what is left of the shift, then of the day, then another day."""
    if ends is not None and at < ends:
        return f"before {names.clock(facts.house, ends)}"
    day = local(at, facts.house).date()
    return "later today" if day == facts.today else near_day(facts, day)


def shift_end(facts: Facts, who: str) -> datetime | None:
    """When the shift at work now ends: the person's own, or else the one that goes on the longest."""
    working = on_shift(facts.house, facts.now, facts.now)
    own = [went for person, _, went, _ in working if person == who]
    return max(own or [went for _, _, went, _ in working], default=None)
