"""What the five views share: the edges, the room for the body, and the keys that work everywhere."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.containers import Container
from textual.screen import Screen
from textual.widget import Widget

from board.app.keys import EVERYWHERE, LIST, Act
from board.app.widgets.alarm_line import AlarmLine
from board.app.widgets.edges import VIEWS, Edge, Said, foot, pressed
from board.app.widgets.panel import Panel
from board.house.wording import short_day
from board.ledger import read
from board.views import names
from board.views.facts import Facts, all_loads
from board.views.opening import countdown, next_occasion
from board.views.reference import ref
from board.views.text import Cell, Tone, inert

if TYPE_CHECKING:
    from board.app.app import BoardApp

LEAST_WIDTH, LEAST_HEIGHT = 60, 20


class ViewScreen(Screen[None]):
    """One view: a head, a body that each view fills, what was just said, and the keys."""

    NAME: ClassVar[str] = ""
    TELLS_ALARMS: ClassVar[bool] = True
    ACTS: ClassVar[tuple[Act, ...]] = ()
    MOVES: ClassVar[tuple[Act, ...]] = LIST
    FOOT_FIRST: ClassVar[tuple[str, ...]] = ()
    AUTO_FOCUS = ""

    _focused_before: Widget | None = None
    _just_shown = False  # while what was queued with the mounting is handled

    def __init__(self) -> None:
        super().__init__()
        # mounting gives it the style of now: Textual would parse all of that anew the first times it is shown
        self._css_update_count = self.app._css_update_count

    def compose(self) -> ComposeResult:
        """The edges and the body between them."""
        yield Edge(id="head", raised=True)
        yield AlarmLine(id="alarm")
        with Container(id="body"):
            yield from self.body()
        yield Edge(id="small")
        yield Said(id="said")
        yield Edge(id="foot", raised=True)

    def body(self) -> Iterable[Widget]:
        """The view's own widgets."""
        return ()

    @property
    def board(self) -> BoardApp:
        """The application, as its own type."""
        return cast("BoardApp", self.app)

    @property
    def acts(self) -> tuple[Act, ...]:
        """What can be done here, with the keys it has in this house."""
        return self.board.keymap.acts(self.ACTS, EVERYWHERE)

    def key(self, id: str) -> str:
        """What the key of an act is called in this house."""
        return self.board.keymap.key(id)

    @property
    def room(self) -> int:
        """Lines for the body."""
        said = self.query_one(Said)
        alarm = self.query_one(AlarmLine).height
        return max(0, self.size.height - 2 - alarm - len(said.lines(self.size.width)))

    def on_mount(self) -> None:
        """Show the facts there are."""
        self.show(self.board.facts)
        self._just_shown = True
        self.call_later(self._settle)

    def _settle(self) -> None:
        self._just_shown = False

    def on_screen_resume(self) -> None:
        """Show what has changed while another view was up; there is nothing yet as it comes up first."""
        if not self._just_shown:
            self.show(self.board.facts)

    def on_resize(self) -> None:
        """Fit the new size, or say plainly that it is too small."""
        small = self.size.width < LEAST_WIDTH or self.size.height < LEAST_HEIGHT
        self._keep_focus(small)
        self.set_class(small, "small")
        width, height = self.size
        says = f"The board needs {LEAST_WIDTH} by {LEAST_HEIGHT}; this is {width} by {height}."
        self.query_one("#small", Edge).show([Cell(says, Tone.CARE)])
        self.tell()

    def _keep_focus(self, small: bool) -> None:
        """What is hidden loses the focus: it gets it back with the room to show it."""
        was_small = self.has_class("small")
        if small and not was_small:
            self._focused_before = self.focused
        elif was_small and not small and self._focused_before is not None:
            self.call_after_refresh(self.set_focus, self._focused_before)

    def on_panel_ended(self, message: Panel.Ended) -> None:
        """From the end of a list the cursor goes on to the next, or back to the one before."""
        message.stop()
        lists = [one for one in self.focus_chain if isinstance(one, Panel) and one.table.rows]
        at = lists.index(message.panel) + message.by if message.panel in lists else -1
        if 0 <= at < len(lists):
            rows = lists[at].table.rows
            lists[at].choose(rows[0 if message.by > 0 else -1].key)
            self.set_focus(lists[at])

    def show(self, facts: Facts) -> None:
        """Show one moment: the body in each view, then the edges, which may tell of it."""
        self.refill(facts)
        self.show_head(facts)
        alarm = self.board.alarming.line() if self.TELLS_ALARMS else []
        self.query_one(AlarmLine).show(alarm, self.key("alarms"))
        self.show_foot()
        self.tell()

    def show_foot(self) -> None:
        """Show what the keys do here and now."""
        self.query_one("#foot", Edge).show(foot(self.acts, self.size.width - 2, self.FOOT_FIRST))

    def show_head(self, facts: Facts) -> None:
        """Show what the line at the top tells."""
        self.query_one("#head", Edge).show(self.head(facts), self.head_right(facts))

    def refill(self, facts: Facts) -> None:
        """Fill the body from the facts."""

    def fit_body(self) -> None:
        """Give the body's parts their heights."""

    def head(self, facts: Facts) -> list[Cell]:
        """House, view, day and time."""
        return [
            Cell(inert(facts.house.name), Tone.HEAD),
            Cell(self.NAME.capitalize(), Tone.STRONG),
            Cell(f"{short_day(facts.today)}  {names.clock(facts.house, facts.now)}", Tone.QUIET),
        ]

    def head_right(self, facts: Facts) -> list[Cell]:
        """Who is at the keys, and how long until the next service."""
        coming = next_occasion(facts)
        who = names.person_name(facts.house, self.board.session.who)
        left = countdown(facts, coming[1]) if coming else "no service ahead"
        return [Cell(f"as {who}", Tone.QUIET), Cell(left, Tone.HEAD)]

    def tell(self) -> None:
        """What was just said, or what this view has to say when nothing was."""
        said = self.query_one(Said)
        said.show(self.board.told or self.standing_word() or Cell(self.quiet_word(), Tone.QUIET))
        said.styles.height = len(said.lines(self.size.width))
        self.fit_body()

    def standing_word(self) -> Cell | None:
        """What is wrong with the house's files, for as long as it is."""
        return self.board.house_files.word

    def quiet_word(self) -> str:
        """The line above the keys when nothing was just recorded."""
        return ""

    def panel(self, id: str) -> Panel:
        """One of the body's lists."""
        return self.query_one(f"#{id}", Panel)

    def panel_meant(self) -> Panel | None:
        """The list a question is about: the one with the cursor, or the view's first that has lines."""
        if isinstance(self.focused, Panel):
            return self.focused
        return next((panel for panel in self.query(Panel) if panel.display and panel.table.rows), None)

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click does what Enter does."""
        message.stop()
        self.call_later(self.run_action, "likely")

    async def on_edge_pressed(self, message: Edge.Pressed) -> None:
        """A key's word pressed by mouse or touch does what the key does."""
        message.stop()
        if message.text == VIEWS:
            self.board.guiding.views()
        act = pressed(message.text, self.acts)
        if act is not None:
            await self.do(act.id)

    async def do(self, id: str) -> None:
        """Do one act of this view, of the board, or of the list the cursor is in, by its id."""
        for acts, holder in ((self.ACTS, self), (EVERYWHERE, self.app), (self.MOVES, self.focused)):
            act = next((act for act in acts if act.id == id), None)
            if act is not None and holder is not None:
                await self.app.run_action(act.action, holder)
                return

    def note_about(self) -> str:
        """What a note written here is about; empty where it is about nothing by itself."""
        return ""

    def chosen_load(self) -> str:
        """The key of the load the cursor is on, for a temperature; empty when it is on none."""
        return ""

    def nothing_to_read(self) -> str:
        """Why no temperature can be meant on the chosen line; empty where one can, or none is chosen."""
        return ""

    def why_not(self, id: str) -> str:
        """Why an act, by its id, can do nothing here and now; empty where it can."""
        if id in ("load-page", "cool") and not self.chosen_load():
            return "no load is on the chosen line"
        if id == "remedies" and not any(
            self.board.cooks(ref(plan.day, load.id)) for plan, load in all_loads(self.board.facts)
        ):
            return "no load is on a pit"
        if id == "undo" and read.last_undoable(self.board.session.ledger, self.board.session.who) is None:
            return "you have recorded nothing to take back"
        if id == "temperature":
            return self.nothing_to_read()
        return ""

    def chosen_place(self) -> str:
        """What a temperature is likely of here, as `load:KEY` or `place:ID`; empty when nothing is chosen."""
        load = self.chosen_load()
        return f"load:{load}" if load else ""

    def chosen_step(self) -> str:
        """The key of the step the cursor is on; empty when it is on none."""
        return ""

    def action_load_page(self) -> None:
        """See the chosen load by itself."""
        load = self.chosen_load()
        if load:
            self.board.open_load(load)
        else:
            self.board.say("choose a load first: no load is on this line", Tone.CARE)

    def action_many(self) -> None:
        """Mark many steps at once."""
        self.board.marking.open(self.chosen_step())

    def action_cool(self) -> None:
        """Begin to cool what is left of the chosen load."""
        self.board.keeping.cool(self.chosen_load())

    def action_remedies(self) -> None:
        """See what would help the chosen load."""
        self.board.open_remedies(self.chosen_load())

    def go_to(self, row: str) -> None:
        """Put the cursor on a row that was found."""
