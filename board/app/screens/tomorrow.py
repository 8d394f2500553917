"""The Tomorrow view on the screen."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from textual.containers import Horizontal, Vertical
from textual.widget import Widget

from board.app.keys import TIMELINE, TOMORROW, Act, bindings
from board.app.screens.day_cures import DayCures
from board.app.widgets.edges import fits
from board.app.widgets.panel import Panel
from board.app.widgets.promises import PromisesPanel
from board.app.widgets.timeline import TimelineView
from board.house.calendar import zone
from board.house.wording import short_day
from board.views import tomorrow_tables as tables
from board.views.comparing import comparison
from board.views.comparing_tables import also_table, figures_table, pairs_table
from board.views.empty_day import what_first
from board.views.facts import Facts
from board.views.promises import changed_since
from board.views.table import Table
from board.views.text import Cell, Tone, inert
from board.views.tomorrow import Tomorrow, tomorrow, with_account

_WIDE, _WIDEST, _LEAST_UNDER = 118, 160, 7
_LOW = 30  # lines of a screen below which no line is left blank over the timeline
_KEYS = (
    "↑ ↓ choose a load, Tab the next pit; ← → + - move and stretch the hours, Home the whole day; "
    "PgDn reads on"
)
_KEYS_NARROW = "↑ ↓ a load, Tab a pit, ← → + - Home the hours, PgDn reads on, [ ] the day"
_NOTHING = Table("", (), ())


class TomorrowScreen(DayCures):
    """The pitmaster plans a day: timeline above, the chosen load or the promises below."""

    NAME = "tomorrow"
    ACTS = TOMORROW
    MOVES = TIMELINE
    FOOT_FIRST = ("tomorrow-likely",)
    BINDINGS = bindings(TOMORROW)
    AUTO_FOCUS = "#timeline"

    _under = "account"
    _made_of: tuple[object, ...] = (None, None, None)

    def body(self) -> Iterable[Widget]:
        """The timeline over what is known of one load, or over a list."""
        yield TimelineView(id="timeline")
        yield Horizontal(Panel(id="chain"), Panel(id="why"), Panel(id="lacks"), id="under")
        yield Horizontal(
            Panel(id="loads", choose=True), PromisesPanel(id="promises"), Panel(id="worth"), id="lists"
        )
        yield Horizontal(
            Panel(id="changes", choose=True), Vertical(Panel(id="figures"), Panel(id="also"), id="whole"),
            id="compare",
        )  # fmt: skip

    def refill(self, facts: Facts) -> None:
        """Draw the timeline and fill what is under it; what nothing has changed of stays as it is."""
        view = self._day_view(facts)
        self.panel("lacks").show(tables.lacks_table(view))
        self.panel("loads").show(tables.loads_table(view))
        if self.size.width >= _WIDEST:
            self.panel("worth").show(tables.worth_table(view))
        self._show_load(view)
        self._fill_list()

    def _day_view(self, facts: Facts) -> Tomorrow:
        """The day as a view, worked out anew only where what it says may be another."""
        made_of = (facts, self.draft, self.board.revised)
        known = self._view
        same = all(old is new for old, new in zip(self._made_of, made_of, strict=True))
        if known is None or known.day != self.day or not same:
            self._made_of = made_of
            return tomorrow(
                facts, self.day, draft=self.draft, selected=self._chosen, revised=self.board.revised
            )
        return with_account(known, facts, self.plan, self._chosen)

    def _show_load(self, view: Tomorrow) -> None:
        """Show the chosen load on the timeline, its chain and its account."""
        facts, account = self.board.facts, view.account
        self._view, self._chosen = view, account.key if account else ""
        self.panel("chain").show(tables.chain_table(account) if account else _NOTHING)
        self.panel("why").show(tables.why_table(account) if account else _NOTHING)
        hours_12 = facts.house.display.clock_hours == 12
        line = self.query_one(TimelineView)
        line.show(self.drawn(view), zone(facts.house), hours_12=hours_12, chosen=self._chosen)

    def _fill_list(self) -> None:
        """Fill the list that is open; the others wait until they are asked for."""
        if self._view and (self._under == "promises" or self.size.width >= _WIDEST):
            self.fill_promises()
        if self._under != "changes":
            return
        compared = comparison(self.board.facts, self.draft, self.day)
        if compared is None:  # it was committed, or taken back
            self._under = "account"
            return
        wide = self.size.width >= _WIDE
        self.panel("changes").show(pairs_table(compared, wide=wide))
        self.panel("figures").show(figures_table(compared))
        self.panel("also").show(also_table(compared, wide=wide))

    def head(self, facts: Facts) -> list[Cell]:
        """House, view, the day and how its plan stands."""
        view = self._view
        if view is None:
            return super().head(facts)
        busy = self.planning.word(self.day)
        tone = Tone.HEAT if busy else Tone.GOOD if view.standing == "committed" else Tone.CARE
        said = [
            Cell("Tomorrow", Tone.STRONG),
            Cell(view.day_name, Tone.QUIET),
            Cell(busy or view.standing, tone),
        ]
        house = Cell(inert(facts.house.name), Tone.HEAD)
        if fits((house, *said, Cell(view.surety)), self.size.width - 2):
            return [house, *said]
        if not fits((*said, Cell(view.surety)), self.size.width - 2):
            said[1] = Cell(short_day(view.day), Tone.QUIET)
        return said  # how sure it is matters more than whose board it is

    def head_right(self, facts: Facts) -> list[Cell]:
        """How sure and how good the plan is."""
        view = self._view
        parts = [view.nearness, view.surety] if view else []
        tones = [Tone.QUIET, Tone.CARE if view and view.unsure else Tone.GOOD]
        return [Cell(text, tone) for text, tone in zip(parts, tones, strict=False) if text]

    def on_mount(self) -> None:
        """Tell each second how planning goes."""
        self.set_interval(1.0, self._tell_planning)

    def _tell_planning(self) -> None:
        if self._view is not None and self.planning.word(self.day):
            self.show_head(self.board.facts)

    def standing_word(self) -> Cell | None:
        """What is wrong with the house's files, or that this plan was made before they changed."""
        overtaken = self.board.house_files.overtaken(self.day)
        if not overtaken and self.plan and changed_since(self.board.facts, self.plan):
            overtaken = f"promises changed since this was planned: {self.key('plan')} plans with them"
        planning = self.planning.word(self.day)
        return super().standing_word() or (Cell(overtaken, Tone.CARE) if overtaken and not planning else None)

    def quiet_word(self) -> str:
        """What to do with an empty day, or what to see to where there is no room for the list of it."""
        if self.planning.word(self.day):
            stops = f"{self.key('stop')} stops planning and takes the best plan so far"
            return f"{stops}; the keys work meanwhile"
        if self._view and not self._view.loads:
            return what_first(self.board.facts, self.day, self.key)
        if self._under == "promises":
            typing = f"{self.key('tomorrow-likely')} types a number, Tab a time"
            return f"{typing}, + takes an order, Del strikes one, {self.key('promises')} closes"
        told = self._view and (*self._view.cautions, *self._view.unsure)
        if told and self.size.width < _WIDE:
            return told[0]  # a list of them has no room
        return _KEYS if self.size.width >= _WIDE else _KEYS_NARROW

    def fit_body(self) -> None:
        """The timeline as tall as it is, what was asked for below it, and the loads where there is room."""
        line = self.query_one(TimelineView)
        if self.tried is not None:
            self.fit_tried(line)
            return
        width = self.size.width - 2
        account, lists = self._fit_account(width), self.panel("loads").wanted_height(width)
        room = self.room - 1 - (0 if self.has_class("low") else 1)
        spare = room - line.wanted_height - account - lists - 1
        blank = line.roomy_height - line.wanted_height
        above = line.wanted_height + (blank if spare >= blank else min(1, max(0, spare)))
        least = room * 3 // 5 if self._under == "changes" else _LEAST_UNDER
        above = max(4, min(above, room - least))
        line.styles.height = above
        under = max(3, room - above)
        both = self._under == "account" and under - account - 2 >= min(lists, _LEAST_UNDER)
        self.query_one("#under").display = self._under == "account"
        self.query_one("#under").styles.height = account if both else under
        self._fit_lists(under - account - 1 if both else under, both=both)
        self.query_one("#compare").display = self._under == "changes"
        if self._under == "changes":
            self._fit_compare(width, under)

    def _fit_account(self, width: int) -> int:
        """Share the width among what is told of a load, and what is short; the lines all of it takes."""
        wide = self.size.width >= _WIDE
        lacking = wide and bool(self.panel("lacks").table.rows)
        widths = {"chain": width * (9 if wide else 11) // 20, "lacks": max(24, width // 5)}
        widths["why"] = max(20, width - widths["chain"] - (widths["lacks"] + 3 if lacking else 0) - 6)
        self.panel("lacks").display = lacking
        for id, columns in widths.items():
            self.panel(id).styles.width = columns
            self.panel(id).styles.height = "100%"
        return max(self.panel(id).wanted_height(w) for id, w in widths.items() if id != "lacks" or lacking)

    def _fit_lists(self, room: int, *, both: bool) -> None:
        """The list that is open, or under the account as many as there is room for."""
        widest = both and self.size.width >= _WIDEST
        shown = {"loads": both, "promises": widest, "worth": widest and bool(self.panel("worth").table.rows)}
        for id, beside in shown.items():
            self.panel(id).display = beside or self._under == id
            self.panel(id).set_class(beside and id != "loads", "beside")
            self.panel(id).styles.height = room
        self.query_one("#lists").display = both or self._under in shown

    def _fit_compare(self, width: int, room: int) -> None:
        """The two plans load by load, and beside it or below it the whole day."""
        wide, compare, whole = self.size.width >= _WIDE, self.query_one("#compare"), self.query_one("#whole")
        compare.set_class(not wide, "stacked")
        figures, also = self.panel("figures"), self.panel("also")
        across = width // 3 if wide else width
        whole.styles.width = across
        if wide:
            self.panel("changes").styles.height = room
            figures.styles.height = min(figures.wanted_height(across), max(3, room // 2))
            also.styles.height = max(0, room - min(figures.wanted_height(across), max(3, room // 2)))
            return
        pairs = min(self.panel("changes").wanted_height(width), max(3, room // 2))
        self.panel("changes").styles.height = pairs
        figures.styles.height = min(figures.wanted_height(width), max(0, room - pairs))
        also.styles.height = max(0, room - pairs - figures.wanted_height(width))

    def on_resize(self) -> None:
        """Leave no blank line on a low screen; what was not wanted at the old width is filled."""
        self.set_class(self.size.height < _LOW, "low")
        self.refill(self.board.facts)

    def panel_meant(self) -> Panel | None:
        """On the timeline a question is about the chosen load's line of the list."""
        if isinstance(self.focused, Panel):
            return self.focused
        self.panel("loads").choose(self._chosen)
        return self.panel("loads")

    def go_to(self, row: str) -> None:
        """Go to a load that was found, on its day."""
        day = date.fromisoformat(row.partition("/")[0])
        self._ahead = (day - self.board.facts.today).days
        self._choose(row)

    def _choose(self, key: str) -> None:
        self._chosen = key
        if self._view is None or self._view.day != self.day:
            self.show(self.board.facts)
        else:
            self._show_load(self._day_view(self.board.facts))
            self.fit_body()

    def on_timeline_view_moved(self, message: TimelineView.Moved) -> None:
        """Another load was chosen on the timeline."""
        message.stop()
        self._choose(message.key)

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another load was chosen in the list."""
        message.stop()
        if message.panel.id == "loads" and message.panel.chosen:
            self._choose(message.panel.chosen.key)

    def on_timeline_view_read_on(self, message: TimelineView.ReadOn) -> None:
        """Read on in the chain and the account together."""
        message.stop()
        for id in ("chain", "why", "lacks"):
            self.panel(id).read_on(message.by)

    def _show_under(self, what: str) -> None:
        self._under = "account" if self._under == what else what
        self._fill_list()
        self.show_foot()
        self.tell()
        if self._under == "loads":
            self.panel("loads").choose(self._chosen)
        self.focus_shown()

    def focus_shown(self) -> None:
        """Let keys reach the list that is open, else the timeline."""
        target = self.query_one(TimelineView) if self._under == "account" else self.panel(self._under)
        self.set_focus(target)

    @property
    def acts(self) -> tuple[Act, ...]:
        """Over what is promised Enter changes it, elsewhere it shows a load."""
        if self._under != "promises":
            return super().acts
        return tuple(
            replace(act, word="change") if act.id == "tomorrow-likely" else act for act in super().acts
        )

    def action_loads(self) -> None:
        """Show or hide the list of loads."""
        self._show_under("loads")

    def action_promises(self) -> None:
        """Show or hide what is promised."""
        self._show_under("promises")

    def why_not(self, id: str) -> str:
        """Without a draft nothing is committed or compared, and only what is being planned can be stopped."""
        if id == "commit" and self.draft is None:
            return "there is no draft"
        if id == "changes" and (self.draft is None or self.day not in self.board.facts.plans):
            return "nothing to compare"
        if id == "stop" and not self.planning.word(self.day):
            return "this day is not being planned"
        return super().why_not(id)

    def action_changes(self) -> None:
        """Show or hide what the draft changes of the committed plan."""
        if self.draft is None or self.day not in self.board.facts.plans:
            self.board.say(f"nothing to compare: {self.key('plan')} plans again what is committed", Tone.CARE)
            return
        self._show_under("changes")

    def action_account(self) -> None:
        """Show the chosen load's chain and account."""
        self._under = ""
        self._show_under("account")

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

    def action_likely(self) -> None:
        """Change the chosen promise; elsewhere see the chosen load by itself."""
        if self._under == "promises":
            self.change_promise()
        else:
            self.action_load_page()
