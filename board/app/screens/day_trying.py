"""Trying changes of a day's plan: loads moved, split and joined, the view above showing how it would be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from board.app import acting
from board.app.acting import Told
from board.app.background import lay_open
from board.app.dialogs.dialog import Answer
from board.app.dialogs.docked import LINES, Docked
from board.app.dialogs.move import MoveDialog
from board.app.dialogs.pick import Choice, Pick
from board.app.screens.day_acts import DayActs
from board.app.widgets.edges import Said
from board.app.widgets.timeline import TimelineView
from board.ledger.state import LoadStage
from board.planning.plan import Plan
from board.views.facts import load_state
from board.views.pins import stray_pins
from board.views.text import Tone
from board.views.timeline import Timeline, timeline
from board.views.tomorrow import Tomorrow

if TYPE_CHECKING:
    from board.planning.replan.pin import Pin
    from board.planning.replan.regroup import Wish


_CHOSEN = "/"  # no load is called so


class DayTrying(DayActs):
    """A view of one day's plan whose loads can be tried otherwise before anything is recorded."""

    tried: Plan | None = None  # the plan as it would be, while something is tried in a dialog at the foot

    @property
    def room(self) -> int:
        """Lines for the body; while something is tried, those above the dialog at the foot."""
        room = super().room
        if self.tried is None:
            return room
        covered = 1 + len(self.query_one(Said).lines(self.size.width))  # the keys, and what was said
        return max(0, room + covered - LINES)

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

    def focus_shown(self) -> None:
        """Let keys reach what stands below the timeline again."""

    def fit_tried(self, line: TimelineView) -> None:
        """Nothing but the timeline above the dialog at the foot."""
        for id in ("under", "lists", "compare"):
            self.query_one(f"#{id}").display = False
        line.styles.height = max(1, self.room - 1)

    def _try_in(self, dialog: Docked[Answer], plan: Plan, then: Callable[[Answer], None]) -> None:
        """Ask along the foot, the view above it showing what is tried; `then` is told what was chosen."""

        def answered(answer: Answer | None) -> None:
            self.show_tried(None)
            self.focus_shown()
            if answer is not None:
                then(answer)

        self.show_tried(plan)
        self.board.push_screen(dialog, answered)

    def action_move(self) -> None:
        """Try the chosen load elsewhere."""
        found = self._open_load()
        if found is not None:
            plan, load = found
            dialog = MoveDialog(self.board.facts, plan, load, self.show_tried, self.key)
            self._try_in(dialog, plan, self._pin)
            self._lay_open(plan)

    def _lay_open(self, plan: Plan) -> None:
        lay_open(self.board, self.board.session, self.board.facts, plan, self._promised())

    def _pin(self, pin: Pin) -> None:
        self._wish(lambda: acting.pin(self.board.session, self.day, pin))

    def _wish(self, act: Callable[[], Told]) -> None:
        """Record what the next plan is to have, and say how it gets there."""

        def told() -> Told:
            what = act()
            plans = f"{self.key('plan')} plans again around it"
            return Told(f"{what.says}; {plans}", what.entries)

        self.board.record(told)

    def action_pin(self) -> None:
        """Pin the chosen load where it is, or let a pinned one go; a pin that holds nothing is asked for."""
        plan = self.draft or self.board.facts.plans.get(self.day)
        stray = stray_pins(self.board.facts, plan) if plan else ()
        if stray:
            choices = [Choice(pin.load, f"let go the pin of {pin.load}", "holds nothing") for pin in stray]
            chosen = Choice(_CHOSEN, "the chosen load", "pin it, or let it go")
            self.app.push_screen(Pick("Which pin?", [*choices, chosen]), self._let_go)
        else:
            self._pin_chosen()

    def _let_go(self, load: str | None) -> None:
        if load == _CHOSEN:
            self._pin_chosen()
        elif load:
            self.board.record(lambda: acting.unpin(self.board.session, self.day, load))

    def _pin_chosen(self) -> None:
        found = self._open_load()
        if found is None:
            return
        _, load = found
        session, day = self.board.session, self.day
        if any((pin.day, pin.load) == (day, load.id) for pin in self.board.facts.pins):
            self._wish(lambda: acting.unpin(session, day, load.id))
        else:
            self._wish(lambda: acting.pin_here(session, day, load))

    def action_split(self) -> None:
        """Try the chosen load as two."""
        found = self._open_load()
        if found is None:
            return
        plan, load = found
        if load.pieces < 2:
            self.board.say("one piece cannot be split: only whole pieces are cooked", Tone.CARE)
            return
        from board.app.dialogs.regroup import SplitDialog

        dialog = SplitDialog(self.board.facts, plan, load, lay=self._lay_open, tell=self.show_tried)
        self._try_in(dialog, plan, self._regroup)

    def action_join(self) -> None:
        """Try the chosen load as one with another."""
        found = self._open_load()
        if found is None:
            return
        from board.app.dialogs.regroup import JoinDialog
        from board.planning.replan.regroupable import joinable, why_alone

        plan, load = found
        facts = self.board.facts
        states = {one.id: load_state(facts, one, plan.day).stage for one in plan.loads}
        still = [id for id, stage in states.items() if stage is LoadStage.PLANNED]
        others = joinable(facts.house, plan, load.id, still)
        if not others:
            self.board.say(why_alone(facts.house, plan, load.id, still), Tone.CARE)
            return
        dialog = JoinDialog(facts, plan, load, others=others, lay=self._lay_open, tell=self.show_tried)
        self._try_in(dialog, plan, self._regroup)

    def _regroup(self, wish: Wish) -> None:
        self._wish(lambda: acting.regroup(self.board.session, self.day, wish))
