"""One page of the making of a house: its lines, what it asks, and the keys."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from textual.app import ComposeResult
from textual.containers import Container
from textual.screen import Screen

from board.app.dialogs.pick import Choice, Pick
from board.app.founding.answers import Answers
from board.app.keys import Act, bindings
from board.app.screens.view import LEAST_HEIGHT, LEAST_WIDTH
from board.app.widgets.edges import Edge, Said, fitted_words
from board.app.widgets.panel import Panel
from board.views.founding import LOOK, START, page
from board.views.text import Cell, Tone, inert

if TYPE_CHECKING:
    from board.app.founding.app import FoundingApp

ACTS = (
    Act("likely", "enter", "likely", "choose", "Change the chosen line, or go on.", True),
    Act("add", "a", "add", "add", "Add a pit, a service or a shift.", True),
    Act("take-away", "x", "take_away", "take away", "Take the chosen line away.", True),
    Act("tick", "space", "tick", "tick", "Tick the chosen cut.", True),
    Act("edit", "e", "edit", "edit", "Change the chosen line.", True),
    Act("on", "right", "turn(1)", "next", "The next page.", True),
    Act("back", "escape", "turn(-1)", "back", "The page before.", True),
    Act("before", "left", "turn(-1)", "back", "The page before."),
    Act("quit", "q", "quit", "leave", "Leave; nothing has been written.", True),
)
_LEAVE, _STAY = "leave", "stay"


class FoundingScreen(Screen[None]):
    """The page one is on; Enter changes a line or goes on, Esc goes back, nothing is lost on the way."""

    BINDINGS = bindings(ACTS)
    AUTO_FOCUS = ""

    def compose(self) -> ComposeResult:
        """The edges, and the page's lines between them."""
        yield Edge(id="head", raised=True)
        with Container(id="body"):
            yield Panel(id="page", choose=True)
        yield Edge(id="small")
        yield Said(id="said")
        yield Edge(id="foot", raised=True)

    @property
    def founding(self) -> FoundingApp:
        """The application, as its own type."""
        return cast("FoundingApp", self.app)

    @property
    def panel(self) -> Panel:
        """The page's lines."""
        return self.query_one("#page", Panel)

    def on_mount(self) -> None:
        """Begin on the page one was on."""
        self.answers = Answers(self)
        self.panel.focus()
        self.show()

    def on_resize(self) -> None:
        """Fit the new size, or say plainly that it is too small."""
        small = self.size.width < LEAST_WIDTH or self.size.height < LEAST_HEIGHT
        self.set_class(small, "small")
        width, height = self.size
        says = f"The board needs {LEAST_WIDTH} by {LEAST_HEIGHT}; this is {width} by {height}."
        self.query_one("#small", Edge).show([Cell(says, Tone.CARE)])
        self.show()

    def show(self, wrong: str = "") -> None:
        """Show the page as it stands, and what is wrong with what was just asked."""
        standing = self.founding.standing
        now = page(standing)
        self.panel.show(now.table)
        self.panel.styles.height = "1fr"
        step = f"step {standing.page} of {LOOK}" if standing.page != START else "welcome"
        head = [Cell("Board", Tone.CARE), Cell("A new house", Tone.STRONG), Cell(step, Tone.QUIET)]
        name = [Cell(inert(standing.house.name), Tone.QUIET)] if standing.house.name else []
        self.query_one("#head", Edge).show(head, name)
        said = self.query_one(Said)
        said.show(Cell(inert(wrong), Tone.LATE) if wrong else Cell(now.says, Tone.QUIET))
        said.styles.height = len(said.lines(self.size.width))
        acts = [act for act in ACTS if act.foot and self.answers.knows(act.id)]
        words = [Cell(f"{act.shown_key} {act.word}", Tone.QUIET) for act in acts]
        self.query_one("#foot", Edge).show(fitted_words(words, self.size.width - 2))

    def turn_to(self, page: int) -> None:
        """Go to a page, its first line chosen; the last one is looked over anew."""
        founding = self.founding
        founding.standing = founding.standing._replace(page=max(START, min(LOOK, page)))
        if page == LOOK:
            founding.look_over()
        self.show()
        self.panel.choose(self.answers.first_line())

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click does what Enter does."""
        message.stop()
        self.action_likely()

    async def on_edge_pressed(self, message: Edge.Pressed) -> None:
        """A key's word pressed by mouse or touch does what the key does."""
        message.stop()
        for act in ACTS:
            if message.text == f"{act.shown_key} {act.word}":
                await self.run_action(act.action)

    def action_likely(self) -> None:
        """Change the chosen line, or go on."""
        self.answers.likely()

    def action_add(self) -> None:
        """Add one of what the page lists."""
        self.answers.add()

    def action_take_away(self) -> None:
        """Take the chosen line away."""
        self.answers.take_away()

    def action_tick(self) -> None:
        """Tick the chosen cut, or do what Enter does elsewhere."""
        self.answers.likely()

    def action_edit(self) -> None:
        """Change the chosen line."""
        self.answers.edit()

    def action_turn(self, by: int) -> None:
        """The next page or the one before."""
        at = self.founding.standing.page
        if at == START and by > 0:
            self.answers.likely()
        elif at != START and START <= at + by <= LOOK:
            self.turn_to(at + by)

    def action_quit(self) -> None:
        """Leave; asked only where answers would be lost."""
        if not self.answers.any:
            self.founding.leave("")
            return
        choices = [
            Choice(_STAY, "go on with it"),
            Choice(_LEAVE, "leave", "what was answered is not kept, and nothing is written"),
        ]
        self.app.push_screen(Pick("Leave the new house?", choices), self._quit)

    def _quit(self, chosen: str | None) -> None:
        if chosen == _LEAVE:
            self.founding.leave("")
