"""What the keys do with the plan of a day: plan it, try a load elsewhere, pin it, promise, commit."""

from __future__ import annotations

from datetime import date, timedelta

from board.app import acting
from board.app.background import Planning
from board.app.dialogs.ask import Ask
from board.app.screens.view import ViewScreen
from board.ledger.state import LoadStage
from board.planning.plan import Plan, PlannedLoad
from board.views.committing import commit_lines
from board.views.facts import find_load, load_state
from board.views.text import Tone, inert
from board.views.tomorrow import Tomorrow


class DayActs(ViewScreen):
    """A view of one day's plan: which day, which load is chosen, and what can be done with them."""

    _ahead = 1
    _chosen = ""
    _view: Tomorrow | None = None

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

    def change_promise(self) -> None:
        """Change the chosen promise."""

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

    def action_stop(self) -> None:
        """Stop planning this day and take the best plan so far."""
        if self.planning.stop(self.day):
            self.show(self.board.facts)
        else:
            self.board.say(f"this day is not being planned: {self.key('plan')} plans it", Tone.CARE)

    def action_commit(self) -> None:
        """Ask for the reason, and commit the draft."""
        if self.draft is None:
            self.board.say(f"there is no draft to commit: {self.key('plan')} plans this day", Tone.CARE)
            return
        day = inert(self._view.day_name if self._view else "")
        lines = commit_lines(self.board.facts, self.draft, self.key)
        question = "\n".join((*lines, f"Why this plan for {day}?"))
        self.app.push_screen(Ask("Commit the plan", question, "as planned"), self._commit)

    def _commit(self, reason: str | None) -> None:
        board, draft = self.board, self.draft
        if reason and draft is not None:
            board.record(lambda: acting.commit(board.session, draft, reason, self.key))
