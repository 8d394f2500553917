"""What a board works with: a ledger, a house, a clock, its sums, and who is at the keys."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from board.app import sums
from board.app.clock import Clock
from board.house.calendar import local, on_shift
from board.house.model import House
from board.ledger.doctor.blame import blaming
from board.ledger.open import Ledger
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts
from board.views.gather import AHEAD, gather
from board.views.progress import Revised

if TYPE_CHECKING:
    from board.planning.remedies.remedy import Advice
    from board.planning.replan.desk import Desk
    from board.planning.replan.pin import Pin
    from board.views.inspection import Inspection
    from board.views.labels import Label
    from board.views.load_course import LoadCourse
    from board.views.remedying import Advised

MADE_AHEAD = timedelta(days=21)  # a dry cure may be begun so long before its meat is cooked

Better = Callable[[Plan | None, str], None]
"""Told of a plan to show meanwhile, if there is one, and of how the search goes."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a plan is asked for: the day, what is promised, when it is asked, and what is known then.

    `stop` is asked now and then; when it is true, the best plan so far is taken. `keep` is a plan to change
    as little as helps, `pins` its loads that are held to a place.
    """

    house: House
    day: date
    promises: Mapping[tuple[str, str], int]
    now: datetime
    facts: Facts
    stop: Callable[[], bool] = bool  # never, where nobody can ask
    keep: Plan | None = None
    pins: "tuple[Pin, ...]" = ()


Planner = Callable[[Wanted, Better], Plan]
Reviser = Callable[[Facts], Revised]
Adviser = Callable[[Facts, Revised], "Advised"]
Helper = Callable[[Facts, Plan, PlannedLoad, Revised], "Advice | None"]
Opener = Callable[[Facts, Plan, Mapping[tuple[str, str], int]], "Desk"]
Looker = Callable[[Facts, str], "LoadCourse | None"]
LabelPrinter = Callable[[Sequence["Label"]], bytes]
RecordPrinter = Callable[["Inspection"], bytes]


@dataclass
class Session:
    """One board at work.

    `drafts` are plans not committed, by day; `drafted_over` the versions in force as they were begun;
    `warned` is the entry of the committed plan that undoing was last held back by.
    """

    ledger: Ledger
    house: House
    clock: Clock
    planner: Planner
    reviser: Reviser = sums.revised
    who: str = ""
    drafts: dict[date, Plan] = field(default_factory=dict)
    drafted_over: dict[date, int] = field(default_factory=dict)
    warned: int = 0
    looker: Looker = sums.course_of
    adviser: Adviser = sums.advised
    helper: Helper = sums.advice_for
    opener: Opener = sums.opened
    label_printer: LabelPrinter | None = None
    record_printer: RecordPrinter | None = None

    def __post_init__(self) -> None:
        self.who = self.who or likely_person(self.house, self.clock.now())
        self.ledger.begin_again = "leave with q and open the board again"

    def facts(self) -> Facts:
        """Everything the views ask, of this moment."""
        with blaming(self.ledger.path):
            return gather(self.ledger, self.house, self.clock.now())

    def facts_until(self, day: date) -> Facts:
        """The same, with the plans of all days that what is made until a day may be for."""
        now = self.clock.now()
        ahead = day - local(now, self.house).date() + MADE_AHEAD
        with blaming(self.ledger.path):
            return gather(self.ledger, self.house, now, ahead=max(AHEAD, ahead))


def likely_person(house: House, now: datetime) -> str:
    """Whoever's shift began last of those at work; the first of the crew when nobody is."""
    working = [(came, person) for person, came, went, _ in on_shift(house, now, now) if came <= now < went]
    if working:
        latest = max(came for came, _ in working)
        return next(person for came, person in working if came == latest)
    return next(iter(house.people), "crew")
