"""What the keys do with the plan of a day: plan it, try a load elsewhere, pin it, promise, commit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from board.app import acting
from board.app.acting import Told
from board.app.background import Planning, lay_open
from board.app.dialogs.ask import Ask
from board.app.dialogs.docked import LINES, Answer, Docked
from board.app.dialogs.move import MoveDialog
from board.app.screens.service import portions
from board.app.screens.view import ViewScreen
from board.app.widgets.timeline import TimelineView
from board.ledger.state import LoadStage
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import find_load, load_state
from board.views.text import Tone, inert
from board.views.timeline import Timeline, timeline
from board.views.tomorrow import Tomorrow

if TYPE_CHECKING:
    from board.planning.replan.pin import Pin


class DayActs(ViewScreen):
    """A view of one day's plan: which day, which load is chosen, and what can be done with them."""

    _ahead = 1
    _chosen = ""
    _view: Tomorrow | None = None
    tried: Plan | None = None  # the plan as it would be, while something is tried in a dialog at the foot

    @property
    def day(self) -> date:
        """The day that is planned."""
        return self.board.facts.today + timedelta(days=self._ahead)

    @property
    def planning(self) -> Planning:
        """The planner at work for this board."""
        return self.board.planning

    @property
    def draft(self) -> Plan | None:
        """The day's plan that is not committed yet."""
        return self.board.session.drafts.get(self.day)

    @property
    def plan(self) -> Plan | None:
        """The plan that is shown: the draft where there is one, else the committed one."""
        return self.draft or self.board.facts.plans.get(self.day)

    def chosen_load(self) -> str:
        """The chosen load."""
        return self._chosen

    @property
    def room(self) -> int:
        """Lines for the body; while something is tried, those above the dialog at the foot."""
        return super().room if self.tried is None else max(0, self.size.height - 1 - LINES)

    def show_tried(self, plan: Plan | None) -> None:
        """Draw the plan as it would be; None draws it as it is again."""
        self.tried = plan
        self.show(self.board.facts)

    def drawn(self, view: Tomorrow) -> Timeline:
        """The timeline that is shown: of what is tried, or of the plan."""
        if self.tried is None:
            return view.timeline
        now, then = view.timeline, timeline(self.board.facts, self.tried, self.board.revised)
        return then if then.start < now.start else replace(then, start=now.start)  # the hours stay still

    def fit_tried(self, line: TimelineView) -> None:
        """Nothing but the timeline above the dialog at the foot."""
        for id in ("under", "loads", "promises", "changes"):
            self.query_one(f"#{id}").display = False
        line.styles.height = max(1, self.room - 1)

    def _try_in(self, dialog: Docked[Answer], plan: Plan, then: Callable[[Answer], None]) -> None:
        """Ask along the foot, the view above it showing what is tried; `then` is told what was chosen."""

        def answered(answer: Answer | None) -> None:
            self.show_tried(None)
            if answer is not None:
                then(answer)

        self.show_tried(plan)
        self.board.push_screen(dialog, answered)

    def change_promise(self) -> None:
        """Ask how many portions are promised of the chosen line of promises."""
        row = self.panel("promises").chosen
        if row is None:
            return
        question = f"How many portions of {row.cells[2].text} at {row.cells[1].text}?"
        self.app.push_screen(Ask("Promise", question, row.cells[3].text, check=portions), self._promise)

    def _promise(self, typed: str | None) -> None:
        row = self.panel("promises").chosen
        if typed and row:
            service, item = row.key.split("/", 1)
            session, day = self.board.session, self.day
            self.board.record(lambda: acting.promise(session, day, service, item, portions(typed)))

    def action_plan(self) -> None:
        """Plan this day in the background; what is committed changes as little as helps."""
        self._plan(afresh=False)

    def action_plan_afresh(self) -> None:
        """Plan this day in the background without keeping what is committed."""
        self._plan(afresh=True)

    def _plan(self, *, afresh: bool) -> None:
        if self._view is not None:
            self.planning.start(self.day, self._promised(), afresh=afresh)
            self.show(self.board.facts)

    def _promised(self) -> dict[tuple[str, str], int]:
        return {(p.service, p.item): p.portions for p in self._view.promises} if self._view else {}

    def _open_load(self) -> tuple[Plan, PlannedLoad] | None:
        """The chosen load with its plan, where it has not begun; else says why not."""
        facts = self.board.facts
        plan = self.draft or facts.plans.get(self.day)
        load = find_load(plan, self._chosen.partition("/")[2]) if self._chosen else None
        if plan is None or load is None:
            self.board.say("choose a load first", Tone.CARE)
            return None
        stage = load_state(facts, load, plan.day).stage
        if stage is not LoadStage.PLANNED:
            self.board.say(f"this load is {stage.value}: only one that has not begun is moved", Tone.CARE)
            return None
        return plan, load

    def action_move(self) -> None:
        """Try the chosen load elsewhere."""
        found = self._open_load()
        if found is not None:
            plan, load = found
            self._try_in(MoveDialog(self.board.facts, plan, load, self.show_tried), plan, self._pin)
            self._lay_open(plan)

    def _lay_open(self, plan: Plan) -> None:
        lay_open(self.board, self.board.session, self.board.facts, plan, self._promised())

    def _pin(self, pin: Pin | None) -> None:
        if pin is not None:
            self._wish(lambda: acting.pin(self.board.session, self.day, pin))

    def _wish(self, act: Callable[[], Told]) -> None:
        """Record what the next plan is to have, and say how it gets there."""

        def told() -> Told:
            what = act()
            return Told(f"{what.says}; g plans again around it", what.entries)

        self.board.record(told)

    def action_pin(self) -> None:
        """Pin the chosen load where it is, or let a pinned one go."""
        found = self._open_load()
        if found is None:
            return
        _, load = found
        session, day = self.board.session, self.day
        if any((pin.day, pin.load) == (day, load.id) for pin in self.board.facts.pins):
            self.board.record(lambda: acting.unpin(session, day, load.id))
        else:
            self.board.record(lambda: acting.pin_here(session, day, load))

    def action_stop(self) -> None:
        """Stop planning this day and take the best plan so far."""
        if self.planning.stop(self.day):
            self.show(self.board.facts)
        else:
            self.board.say("this day is not being planned: g plans it", Tone.CARE)

    def action_commit(self) -> None:
        """Ask for the reason, and commit the draft."""
        if self.draft is None:
            self.board.say("there is no draft to commit: g plans this day", Tone.CARE)
            return
        question = f"Why this plan for {inert(self._view.day_name if self._view else '')}?"
        self.app.push_screen(Ask("Commit the plan", question, "as planned"), self._commit)

    def _commit(self, reason: str | None) -> None:
        draft = self.draft
        if reason and draft is not None:
            self.board.record(lambda: acting.commit(self.board.session, draft, reason))
