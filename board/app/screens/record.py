"""The Record view on the screen."""

from collections.abc import Iterable
from datetime import date, timedelta

from textual.widget import Widget
from textual.widgets import Input

from board.app import signing, watch_acts
from board.app.dialogs.confirm import Confirm
from board.app.keys import RECORD, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.house.calendar import local
from board.ledger import read
from board.ledger.signers import Vouched
from board.views.facts import Facts
from board.views.record import LINES, Kind, Record, record
from board.views.record_folds import FOLD, filtered, folded
from board.views.record_tables import DAY, record_table, shown
from board.views.signing import to_sign
from board.views.text import Tone, inert

FILTERED_LINES = 2000  # entries that a filter looks through


class RecordScreen(ViewScreen):
    """Anyone reads back what was recorded and what it proves, puts it right, and begins or ends a watch."""

    NAME = "record"
    ACTS = RECORD
    BINDINGS = bindings(RECORD)
    AUTO_FOCUS = "#lines"

    _kind = Kind.ALL
    _day: date | None = None
    _view: Record | None = None
    _filter = ""

    def __init__(self) -> None:
        super().__init__()
        self._opened: set[str] = set()

    def body(self) -> Iterable[Widget]:
        """One list, and over it a line to filter by."""
        yield Input(placeholder="words that the lines must have", id="filter")
        yield Panel(id="lines", choose=True)

    def on_mount(self) -> None:
        """The filter waits until it is asked for."""
        self._typing.display = False
        self._typing.cursor_blink = False

    @property
    def _typing(self) -> Input:
        return self.query_one("#filter", Input)

    def refill(self, facts: Facts) -> None:
        """Read the newest entries of the part and the day that are shown; more of them to filter."""
        lines = FILTERED_LINES if self._filter else LINES
        ledger, revised = self.board.session.ledger, self.board.revised
        self._view = record(ledger, facts, self._kind, lines=lines, revised=revised, day=self._day)
        self._show()

    def _show(self) -> None:
        """Show the lines with the words typed, or all of them with those told together that belong so."""
        view = self._view
        if view is None:
            return
        asked = self._filter
        lines = filtered(view.lines, asked) if asked else folded(view.lines, self._opened)
        self.panel("lines").show(record_table(shown(view, lines), inert(self._filter), self.key))

    def fit_body(self) -> None:
        """The list takes the room."""
        typing = 1 if self._typing.display else 0
        self.panel("lines").styles.height = max(3, self.room - 1 - typing)

    def action_filter(self) -> None:
        """Let words be typed that the lines must have."""
        self._typing.display = True
        self._typing.focus()
        self.fit_body()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Filter by what is typed so far."""
        event.stop()
        begun, self._filter = not self._filter, event.value.strip()
        if begun or not self._filter:
            self.refill(self.board.facts)
        else:
            self._show()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the lines found; an empty filter goes away."""
        event.stop()
        if not self._filter:
            self._typing.display = False
        self.panel("lines").focus()
        self.fit_body()

    def action_unfilter(self) -> None:
        """Show all lines again."""
        self._typing.value = ""
        self._typing.display = False
        self.panel("lines").focus()
        self.fit_body()

    def go_to(self, row: str) -> None:
        """Put the cursor on an entry that was found, on its own day where it is not among those shown."""
        self.action_unfilter()
        lines = self._view.lines if self._view else ()
        entry = read.entry(self.board.session.ledger, int(row)) if row.isdigit() else None
        if entry is not None and row not in {line.key for line in lines}:
            self._kind, self._day = Kind.ALL, local(entry.at, self.board.facts.house).date()
            self.refill(self.board.facts)
        self._open_at(row)
        self.panel("lines").choose(row)

    def _open_at(self, row: str) -> None:
        """Open what a line is told together with, where it is."""
        lines = self._view.lines if self._view else ()
        fold = next((line.fold for line in lines if line.key == row), "")
        if fold:
            self._opened.add(f"{FOLD}{fold}")
            self._show()

    def quiet_word(self) -> str:
        """What the board is, and is not."""
        return "The board advises and records, it does not certify."

    def _key(self) -> str:
        row = self.panel("lines").chosen
        return row.key if row else ""

    def _about(self) -> str:
        lines = self._view.lines if self._view else ()
        return next((line.about for line in lines if line.key == self._key()), "")

    def action_kind(self) -> None:
        """Show the next part of the record."""
        kinds = list(Kind)
        self._kind = kinds[(kinds.index(self._kind) + 1) % len(kinds)]
        self.refill(self.board.facts)

    def action_day(self, by: int) -> None:
        """Show one day only: the day before, or the day after; after today, all of them."""
        today = self.board.facts.today
        day = (self._day or today + timedelta(days=1)) + timedelta(days=by)
        self._day = day if day <= today else None
        self.refill(self.board.facts)

    def action_likely(self) -> None:
        """See the chosen line by itself; open or close what is told together; see one day only."""
        key = self._key()
        if key.startswith(FOLD):
            self._opened ^= {key}
            self._show()
        elif key.startswith(DAY):
            self._day = date.fromisoformat(key.removeprefix(DAY))
            self.refill(self.board.facts)
        elif key:
            self.board.keeping.look(self._key(), self._about(), self._day)

    def action_correct(self) -> None:
        """Put the chosen entry right."""
        self.board.keeping.correct(self._key())

    def action_done(self) -> None:
        """Say what was done about the chosen line."""
        self.board.keeping.act_on(self._about())

    def action_begin(self) -> None:
        """Begin to watch some food."""
        self.board.keeping.begin()

    def action_end(self) -> None:
        """Say that a watch is over."""
        self.board.keeping.end()

    def action_sign(self) -> None:
        """Say what would be signed, of the day that is shown or of today, and sign it on Enter."""
        board, day = self.board, self._day or self.board.facts.today
        says = to_sign(board.session.ledger, board.facts, day, board.session.who)

        def sign(vouched: Vouched | None) -> None:
            board.record(lambda: signing.sign(board.session, day, vouched))

        def vouch(sure: bool | None) -> None:
            if sure:
                board.attempt(lambda: signing.vouch(board, "signs the record", sign))

        board.push_screen(Confirm("Sign the record", says, "signs"), vouch)

    def action_print(self) -> None:
        """Write that day's print-out as a PDF, and say where."""
        try:
            day = self._day or self.board.facts.today
            self.board.say(watch_acts.print_record(self.board.session, day))
        except BoardError as error:
            self.board.say(str(error), Tone.LATE)

    def action_probe(self) -> None:
        """Check a probe."""
        self.board.keeping.probe()
