"""Sums in the background: plans and revised pull times; the screen never waits for them."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from threading import Event, Thread
from typing import TYPE_CHECKING

from textual.app import App
from textual.message import Message

from board.app.session import Reviser, Session, Wanted
from board.errors import BoardError
from board.ledger import read
from board.planning.plan import Plan
from board.views.facts import Facts
from board.views.guidance import Key
from board.views.progress import Revised

if TYPE_CHECKING:
    from board.planning.replan.desk import Desk


class Planned(Message):
    """A plan came, or word of how the search goes, or why there is none."""

    def __init__(self, day: date, plan: Plan | None, word: str, problem: str = "") -> None:
        super().__init__()
        self.day = day
        self.plan = plan
        self.word = word
        self.problem = problem


class Revising(Message):
    """Pull times revised by the readings of one moment."""

    def __init__(self, revised: Revised) -> None:
        super().__init__()
        self.revised = revised


class LaidOpen(Message):
    """A plan laid open to try its loads elsewhere, or why it cannot be."""

    def __init__(self, plan: Plan, desk: "Desk | None", problem: str = "") -> None:
        super().__init__()
        self.plan = plan
        self.desk = desk
        self.problem = problem


def revise(app: App[None], reviser: Reviser, facts: Facts) -> None:
    """Begin to revise the pull times; the answer comes as a message to the application."""
    Thread(target=lambda: app.post_message(Revising(reviser(facts))), daemon=True).start()


def lay_open(
    app: App[None], session: Session, facts: Facts, plan: Plan, promises: Mapping[tuple[str, str], int]
) -> None:
    """Begin to lay a plan open; the answer comes as a message to the application."""

    def opened() -> None:
        desk, problem = None, "the plan could not be laid open"
        try:
            desk, problem = session.opener(facts, plan, promises), ""
        except BoardError as error:
            problem = str(error)
        finally:
            app.post_message(LaidOpen(plan, desk, problem))

    Thread(target=opened, daemon=True).start()


@dataclass
class Planning:
    """At most one search for each day; what it finds comes as messages to the application."""

    app: App[None]
    session: Session

    def __post_init__(self) -> None:
        self._words: dict[date, str] = {}
        self._stops: dict[date, Event] = {}
        self._begun: dict[date, datetime] = {}

    def word(self, day: date) -> str:
        """How long a day has been planned and how near it is; empty when no search is under way."""
        word = self._words.get(day, "")
        return f"planning: {self._seconds(day)} s, {word}" if word else ""

    def _seconds(self, day: date) -> int:
        return max(0, int((self.session.clock.now() - self._begun[day]).total_seconds()))

    def start(self, day: date, promises: Mapping[tuple[str, str], int], *, afresh: bool = False) -> None:
        """Begin to plan a day, unless it is being planned already.

        Args:
            afresh: not to keep the committed plan; pins hold all the same, so a plan that has them is kept.
        """
        from board.views.pinning import pins_for, plan_to_keep, wishes_for

        if day in self._words:
            return
        self._words[day] = "looking for a first plan"
        self._begun[day] = self.session.clock.now()
        self.session.drafted_over[day] = read.version_in_force(self.session.ledger, day)
        facts = self.session.facts()
        stop = self._stops[day] = Event()
        keep = plan_to_keep(facts, day, self.session.drafts.get(day))
        pins = pins_for(facts, day, keep)
        kept = None if afresh and not (pins or wishes_for(facts, day)) else keep
        wanted = Wanted(facts.house, day, promises, facts.now, facts, stop.is_set, kept, pins)
        Thread(target=self._search, args=(wanted,), daemon=True).start()

    def stop(self, day: date) -> bool:
        """Ask the search for a day to take the best plan it has; whether there is a search."""
        if day not in self._words:
            return False
        self._stops[day].set()
        self._words[day] = "stopping: the best plan so far is taken"
        return True

    def took_in(self, message: Planned) -> None:
        """Keep what came: a plan as the day's draft, and how the search goes."""
        if message.plan is not None:
            self.session.drafts[message.day] = message.plan
        if not message.word:
            self._words.pop(message.day, None)
        elif not self._stops[message.day].is_set():
            self._words[message.day] = message.word

    def planned(self, day: date, plan: Plan | None, key: Key) -> str:
        """What a finished search leaves to do: how good its plan is, and the keys that go on from it."""
        from board.views.worth import nearness

        near = f", {nearness(plan)}" if plan and nearness(plan) else ""
        over = self.session.drafted_over.get(day)
        compare = f"{key('changes')} compares it with the committed plan, " if over else ""
        then = f"{key('commit')} commits it, {key('plan')} plans again"
        return f"planned in {self._seconds(day)} s{near}: {compare}{then}"

    def _search(self, wanted: Wanted) -> None:
        """In its own thread: tells the application, touches nothing else."""

        def better(plan: Plan | None, word: str) -> None:
            self.app.post_message(Planned(wanted.day, plan, word))

        try:
            plan = self.session.planner(wanted, better)
        except BoardError as error:
            self.app.post_message(Planned(wanted.day, None, "", str(error)))
            return
        except Exception as error:
            # a thread that dies would leave the view waiting for ever
            problem = f"the plan could not be made: {type(error).__name__} {error}"
            self.app.post_message(Planned(wanted.day, None, "", problem))
            raise
        self.app.post_message(Planned(wanted.day, plan, ""))
