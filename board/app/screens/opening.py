"""The Opening view on the screen."""

from collections.abc import Iterable, Sequence

from textual.containers import Horizontal
from textual.widget import Widget

from board.app import acting, batch_acts
from board.app.dialogs.ask import Ask
from board.app.keys import OPENING, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.views import opening_tables as tables
from board.views.checks import PREFIX, READ, load_of_check
from board.views.facts import Facts
from board.views.opening import Opening, opening
from board.views.progress import Risk
from board.views.reference import parts
from board.views.table import share
from board.views.text import width_of

_STACKED_BELOW = 78
_LEAST = {"next": 8, "pits": 5, "cover": 5, "batches": 4}
_LEAST_LOW = {"next": 6, "pits": 4, "cover": 3, "batches": 3}
_ROOM_FOR_BATCHES = 24
_ROOM_FOR_LONG = 30
_BATCHES_WIDE = 64
_WARNING_LINES, _WARNING_LINES_LOW = 4, 2


class OpeningScreen(ViewScreen):
    """Who just walked in reads what happened, what to do next, and how each load stands."""

    NAME = "opening"
    ACTS = OPENING
    BINDINGS = bindings(OPENING)
    AUTO_FOCUS = "#next"

    _view: Opening | None = None

    def body(self) -> Iterable[Widget]:
        """What to reckon with, two lists, the pits, and two lists again."""
        yield Panel(id="warnings")
        yield Horizontal(Panel(id="since"), Panel(id="next", choose=True), id="top")
        yield Panel(id="pits", choose=True)
        yield Horizontal(Panel(id="batches", choose=True), Panel(id="cover"), id="bottom")

    def refill(self, facts: Facts) -> None:
        """Fill the lists."""
        view = opening(facts, self.board.revised, self.board.advising.worked_out)
        self._view = view
        self.panel("warnings").show(tables.warnings_table(view))
        self.panel("since").show(tables.since_table(view))
        self.panel("next").show(tables.next_table(view))
        self.panel("pits").show(tables.pits_table(view, short=self.size.height < _ROOM_FOR_LONG))
        self.panel("batches").show(tables.batches_table(view))
        self.panel("cover").show(tables.cover_table(view))

    def quiet_word(self) -> str:
        """What to mind at the step under the cursor, or else soon; in one line on a low screen."""
        view = self._view
        if view is None:
            return ""
        chosen = self.panel("next").chosen
        mind = next((one.mind for one in view.next if chosen and one.key == chosen.key), None)
        if mind is None:
            return next(iter(view.cautions), "")
        is_low = self.size.height < _ROOM_FOR_LONG and width_of(mind.text) > self.size.width - 2
        return mind.short if is_low and mind.short else mind.text

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another step, other things to mind."""
        if message.panel.id == "next":
            self.tell()

    def fit_body(self) -> None:
        """Side by side, or one under the other when narrow; the longest list gives way first."""
        width = self.size.width - 2
        stacked = self.size.width < _STACKED_BELOW
        self.set_class(stacked, "stacked")
        room = self.room - self._fit_warnings(width)
        self.panel("batches").display = not stacked or room >= _ROOM_FOR_BATCHES
        if stacked:
            order = [id for id in ("next", "pits", "batches", "cover") if self.panel(id).display]
            wants = [self.panel(id).wanted_height(width) for id in order]
            for id, height in zip(order, share(room - 4, wants, _least(room - 4, order)), strict=True):
                self.panel(id).styles.height = height
            return
        left = max(30, width * 3 // 8)
        halves = {
            "since": left,
            "next": width - left - 3,
            "batches": min(_BATCHES_WIDE, width - 39),
            "cover": 36,
        }
        wants = [
            max(self.panel(id).wanted_height(halves[id]) for id in ("since", "next")),
            self.panel("pits").wanted_height(width),
            max(self.panel(id).wanted_height(halves[id]) for id in ("batches", "cover")),
        ]
        for id, columns in halves.items():
            self.panel(id).styles.width = columns
        top, pits, bottom = share(room - 3, wants, _least(room - 3, ("next", "pits", "cover")))
        for id, height in (("since", top), ("next", top), ("batches", bottom), ("cover", bottom)):
            self.panel(id).styles.height = height
        self.panel("pits").styles.height = pits

    def _fit_warnings(self, width: int) -> int:
        """Give the warnings their lines, at most two on a low screen; how many they take."""
        panel = self.panel("warnings")
        panel.display = bool(panel.table.rows)
        most = _WARNING_LINES if self.size.height >= _ROOM_FOR_LONG else _WARNING_LINES_LOW
        lines = min(panel.wanted_height(width), most) if panel.display else 0
        panel.styles.height = lines
        return lines

    def action_remedies(self) -> None:
        """See what would help the chosen load, or the first in trouble where none that cooks is chosen."""
        key = self.chosen_load()
        if not self.board.cooks(key) and self._view:
            troubled = (row.key for row in self._view.standing if row.risk is not Risk.IN_TIME)
            key = next(filter(self.board.cooks, troubled), key)
        self.board.open_remedies(key)

    def chosen_load(self) -> str:
        """The load under the cursor, or the load of the step under it."""
        row = self._focused().chosen
        if row is None:
            return ""
        if self._focused().id == "pits":
            return row.key
        if row.key.startswith(PREFIX):
            return load_of_check(row.key)
        day, id = parts(row.key)
        plan = self.board.facts.plans.get(day)
        load = next((step.load for step in plan.steps if step.id == id), None) if plan else None
        return f"{day.isoformat()}/{load}" if load else ""

    def chosen_place(self) -> str:
        """The place of the reading under the cursor, or its load."""
        row = self._focused().chosen
        if row is not None and row.key.startswith(f"{PREFIX}{READ}"):
            return row.key.removeprefix(f"{PREFIX}{READ}")
        return super().chosen_place()

    def _focused(self) -> Panel:
        return self.focused if isinstance(self.focused, Panel) else self.panel("next")

    def action_likely(self) -> None:
        """Mark what the cursor is on: a step done, a load's next step, a batch made or used."""
        panel = self._focused()
        row = panel.chosen
        if row is None:
            return
        board = self.board
        if row.key.startswith(PREFIX):
            board.keeping.do(row.key)
            return
        acts = {
            "next": lambda: acting.mark_step(board.session, row.key),
            "pits": lambda: acting.mark_load(board.session, board.facts, row.key),
            "batches": lambda: batch_acts.mark_batch(board.session, board.facts, row.key),
        }
        board.record(acts[panel.id or "next"])

    def action_handover(self) -> None:
        """Ask for the handover's words, and sign it."""
        self.app.push_screen(
            Ask("Sign the handover", "What must the next shift know?", "All is as it stands."),
            self._sign,
        )

    def _sign(self, text: str | None) -> None:
        if text:
            self.board.record(lambda: acting.handover(self.board.session, text))


def _least(room: int, lists: Sequence[str]) -> list[int]:
    """The fewest lines of each list: six steps, a late load with its reason, three items; less when low."""
    usual = [_LEAST[id] for id in lists]
    return usual if sum(usual) <= room else [_LEAST_LOW[id] for id in lists]
