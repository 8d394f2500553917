"""The Record view on the screen."""

from collections.abc import Iterable
from datetime import date, timedelta

from textual.widget import Widget

from board.app import watch_acts
from board.app.keys import RECORD, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.errors import BoardError
from board.house.calendar import local
from board.ledger import read
from board.views.facts import Facts
from board.views.record import Kind, Record, record
from board.views.record_tables import record_table
from board.views.text import Tone


class RecordScreen(ViewScreen):
    """Anyone reads back what was recorded and what it proves, puts it right, and begins or ends a watch."""

    NAME = "record"
    ACTS = RECORD
    BINDINGS = bindings(RECORD)
    AUTO_FOCUS = "#lines"

    _kind = Kind.ALL
    _day: date | None = None
    _view: Record | None = None

    def body(self) -> Iterable[Widget]:
        """One list."""
        yield Panel(id="lines", choose=True)

    def refill(self, facts: Facts) -> None:
        """Read the newest entries of the part and the day that are shown."""
        ledger = self.board.session.ledger
        self._view = record(ledger, facts, self._kind, revised=self.board.revised, day=self._day)
        self.panel("lines").show(record_table(self._view))

    def fit_body(self) -> None:
        """The list takes the room."""
        self.panel("lines").styles.height = max(3, self.room - 1)

    def go_to(self, row: str) -> None:
        """Put the cursor on an entry that was found, on its own day where it is not among those shown."""
        shown = {line.key for line in self._view.lines} if self._view else set()
        entry = read.entry(self.board.session.ledger, int(row)) if row.isdigit() else None
        if row not in shown and entry is not None:
            self._kind, self._day = Kind.ALL, local(entry.at, self.board.facts.house).date()
            self.refill(self.board.facts)
        self.panel("lines").choose(row)

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
        """See the chosen line by itself."""
        if self._key():
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
        """Sign the record of the day that is shown, or of today."""
        board, day = self.board, self._day or self.board.facts.today
        board.record(lambda: watch_acts.sign(board.session, day))

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
