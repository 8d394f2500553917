"""The Tomorrow view on the screen."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import TYPE_CHECKING

from textual.containers import Horizontal
from textual.widget import Widget

from board.app import acting
from board.app.background import Planning, lay_open
from board.app.dialogs.ask import Ask
from board.app.dialogs.move import MoveDialog
from board.app.keys import TOMORROW, bindings
from board.app.screens.service import portions
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.app.widgets.timeline import TimelineView
from board.house.calendar import zone
from board.ledger.state import LoadStage
from board.planning.plan import Plan, PlannedLoad
from board.views import tomorrow_tables as tables
from board.views.facts import Facts, find_load, load_state
from board.views.pinning import changed
from board.views.pinning_tables import changes_table
from board.views.table import Table
from board.views.text import Cell, Tone, inert
from board.views.tomorrow import Tomorrow, tomorrow

if TYPE_CHECKING:
    from board.planning.replan.pin import Pin

_WIDE, _LEAST_UNDER = 118, 7
_NOTHING = Table("", (), ())


class TomorrowScreen(ViewScreen):
    """The pitmaster plans a day: timeline above, the chosen load or the promises below."""

    NAME = "tomorrow"
    ACTS = TOMORROW
    BINDINGS = bindings(TOMORROW)
    AUTO_FOCUS = "#timeline"

    _ahead = 1
    _chosen = ""
    _under = "account"
    _view: Tomorrow | None = None

    def body(self) -> Iterable[Widget]:
        """The timeline over what is known of one load, or over a list."""
        yield TimelineView(id="timeline")
        yield Horizontal(Panel(id="chain"), Panel(id="why"), Panel(id="lacks"), id="under")
        yield Panel(id="loads", choose=True)
        yield Panel(id="promises", choose=True)
        yield Panel(id="changes", choose=True)

    @property
    def day(self) -> date:
        """The day that is planned."""
        return self.board.facts.today + timedelta(days=self._ahead)

    @property
    def planning(self) -> Planning:
        """The planner at work for this board."""
        return self.board.planning

    def refill(self, facts: Facts) -> None:
        """Draw the timeline and fill what is under it."""
        draft = self.board.session.drafts.get(self.day)
        view = tomorrow(facts, self.day, draft=draft, selected=self._chosen, revised=self.board.revised)
        self._view = view
        self._chosen = view.account.key if view.account else ""
        line = self.query_one(TimelineView)
        hours_12 = facts.house.display.clock_hours == 12
        line.show(view.timeline, zone(facts.house), hours_12=hours_12, chosen=self._chosen)
        self.panel("chain").show(tables.chain_table(view.account) if view.account else _NOTHING)
        self.panel("why").show(tables.why_table(view.account) if view.account else _NOTHING)
        self.panel("lacks").show(tables.lacks_table(view))
        self.panel("loads").show(tables.loads_table(view))
        self.panel("promises").show(tables.promises_table(view))
        self.panel("changes").show(changes_table(changed(facts, draft, self.day)))

    def head(self, facts: Facts) -> list[Cell]:
        """House, view, the day and how its plan stands."""
        view = self._view
        if view is None:
            return super().head(facts)
        tone = Tone.GOOD if view.standing == "committed" else Tone.CARE
        return [
            Cell(inert(facts.house.name), Tone.CARE),
            Cell("Tomorrow", Tone.STRONG),
            Cell(view.day_name, Tone.QUIET),
            Cell(view.standing, tone),
        ]

    def head_right(self, facts: Facts) -> list[Cell]:
        """How sure and how good the plan is, or how planning goes."""
        busy = self.planning.word(self.day)
        if busy:
            return [Cell(busy, Tone.HEAT)]
        view = self._view
        parts = [view.nearness, view.surety] if view else []
        tones = [Tone.QUIET, Tone.CARE if view and view.unsure else Tone.GOOD]
        return [Cell(text, tone) for text, tone in zip(parts, tones, strict=False) if text]

    def quiet_word(self) -> str:
        """What to do with an empty day, or what to see to where there is no room for the list of it."""
        if self._view and not self._view.loads:
            return "No load is planned for this day: g plans it, [ and ] change the day."
        told = self._view and (*self._view.cautions, *self._view.unsure)
        if told and self.size.width < _WIDE:
            return told[0]  # a list of them has no room
        return "↑ ↓ choose a load   ← → + - move and stretch the hours   [ ] change the day"

    def fit_body(self) -> None:
        """The timeline as tall as it is, what was asked for below it, and the loads where there is room."""
        line = self.query_one(TimelineView)
        width, wide = self.size.width - 2, self.size.width >= _WIDE
        lacking = wide and bool(self.panel("lacks").table.rows)
        widths = {"chain": width * (9 if wide else 11) // 20, "lacks": max(24, width // 5)}
        widths["why"] = max(20, width - widths["chain"] - (widths["lacks"] + 3 if lacking else 0) - 6)
        account = max(self.panel(id).wanted_height(w) for id, w in widths.items() if id != "lacks" or lacking)
        loads = self.panel("loads").wanted_height(width)
        room = self.room - 2
        spare = room - line.wanted_height - account - loads - 1
        above = line.roomy_height if spare >= line.roomy_height - line.wanted_height else line.wanted_height
        above = max(4, min(above, room - _LEAST_UNDER))
        under = max(3, room - above)
        line.styles.height = above
        left = under - account - 1
        both = self._under == "account" and left >= min(loads, _LEAST_UNDER)
        for id in ("loads", "promises", "changes"):
            self.panel(id).display = self._under == id or (id == "loads" and both)
            self.panel(id).styles.height = min(loads, left) if both else under
        self.query_one("#under").display = self._under == "account"
        self.panel("lacks").display = lacking
        for id, columns in widths.items():
            self.panel(id).styles.height = account + 1 if both else under
            self.panel(id).styles.width = columns

    def chosen_load(self) -> str:
        """The chosen load."""
        return self._chosen

    def go_to(self, row: str) -> None:
        """Go to a load that was found, on its day."""
        day = date.fromisoformat(row.partition("/")[0])
        self._ahead = (day - self.board.facts.today).days
        self._choose(row)

    def _choose(self, key: str) -> None:
        self._chosen = key
        self.show(self.board.facts)

    def on_timeline_view_moved(self, message: TimelineView.Moved) -> None:
        """Another load was chosen on the timeline."""
        message.stop()
        self._choose(message.key)

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another load was chosen in the list."""
        message.stop()
        if message.panel.id == "loads" and message.panel.chosen:
            self._choose(message.panel.chosen.key)

    def _show_under(self, what: str) -> None:
        self._under = "account" if self._under == what else what
        self.fit_body()
        if self._under == "loads":
            self.panel("loads").choose(self._chosen)
        target = self.query_one(TimelineView) if self._under == "account" else self.panel(self._under)
        self.set_focus(target)

    def action_loads(self) -> None:
        """Show or hide the list of loads."""
        self._show_under("loads")

    def action_promises(self) -> None:
        """Show or hide what is promised."""
        self._show_under("promises")

    def action_changes(self) -> None:
        """Show or hide what the draft changes of the committed plan."""
        if self.day not in self.board.session.drafts or self.day not in self.board.facts.plans:
            self.board.say("nothing to compare: g plans again what is committed", Tone.CARE)
            return
        self._show_under("changes")

    def action_account(self) -> None:
        """Show the chosen load's chain and account."""
        self._under = ""
        self._show_under("account")

    def action_likely(self) -> None:
        """Change the chosen promise; elsewhere show the account."""
        row = self.panel("promises").chosen
        if self._under != "promises" or row is None:
            self.action_account()
            return
        question = f"How many portions of {row.cells[2].text} at {row.cells[1].text}?"
        self.app.push_screen(Ask("Promise", question, row.cells[3].text, check=portions), self._promise)

    def _promise(self, typed: str | None) -> None:
        row = self.panel("promises").chosen
        if typed and row:
            service, item = row.key.split("/", 1)
            session, day = self.board.session, self.day
            self.board.record(lambda: acting.promise(session, day, service, item, portions(typed)))

    def action_day(self, by: int) -> None:
        """Go to another day."""
        self._ahead += by
        self._chosen = ""
        self.show(self.board.facts)

    def action_pan(self, by: int) -> None:
        """Move the hours."""
        self.query_one(TimelineView).pan(by)

    def action_zoom(self, by: int) -> None:
        """Draw the hours wider or narrower."""
        self.query_one(TimelineView).zoom(by)

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
        plan = self.board.session.drafts.get(self.day) or facts.plans.get(self.day)
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
            board = self.board
            board.push_screen(MoveDialog(board.facts, plan, load), self._pin)
            lay_open(board, board.session, board.facts, plan, self._promised())

    def _pin(self, pin: Pin | None) -> None:
        if pin is not None:
            self.board.record(lambda: acting.pin(self.board.session, self.day, pin))

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
        if self.day not in self.board.session.drafts:
            self.board.say("there is no draft to commit: g plans this day", Tone.CARE)
            return
        question = f"Why this plan for {inert(self._view.day_name if self._view else '')}?"
        self.app.push_screen(Ask("Commit the plan", question, "as planned"), self._commit)

    def _commit(self, reason: str | None) -> None:
        draft: Plan | None = self.board.session.drafts.get(self.day)
        if reason and draft is not None:
            self.board.record(lambda: acting.commit(self.board.session, draft, reason))
