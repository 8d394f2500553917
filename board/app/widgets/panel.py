"""A titled table with a cursor: the one list that every view is made of."""

from textual.events import Click
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from board.app.keys import LIST, bindings
from board.app.widgets.strips import blank, cells_strip, line_strip
from board.views.table import Line, Row, Table, beside, body_lines, cut_short, head_line, left_over
from board.views.text import Cell, Tone

_EMPTY = Table("", (), ())
_DOUBLE_SECONDS = 1.0


class Panel(Widget):
    """Draws a table in the room it has; the cursor stays in sight, and what is left out is counted."""

    BINDINGS = bindings(LIST)

    class Moved(Message):
        """The cursor is on another row."""

        def __init__(self, panel: "Panel") -> None:
            super().__init__()
            self.panel = panel

        @property
        def control(self) -> "Panel":
            """The panel whose cursor moved."""
            return self.panel

    class Ended(Message):
        """The cursor was moved on from the last row, or back from the first."""

        def __init__(self, panel: "Panel", by: int) -> None:
            super().__init__()
            self.panel = panel
            self.by = by

    class Chosen(Message):
        """A row was chosen by mouse or touch."""

        def __init__(self, panel: "Panel") -> None:
            super().__init__()
            self.panel = panel

    def __init__(self, *, id: str, choose: bool = False, from_top: bool = False, classes: str = "") -> None:
        """`from_top` keeps the cursor on the first row, whatever comes to be first, until it is moved."""
        super().__init__(id=id, classes=classes)
        self.can_focus = choose
        self.reads_on = ""  # how a list without a cursor is read on, told where some of it is hidden
        self.tight = False  # what does not fit is counted on the line of the title
        self._from_top = from_top
        self._moved = False
        self.always_chosen = False
        self._pressed_at = 0.0
        self.cuts_rows = False  # to be read on in: a row may begin on the last lines and end out of sight
        self.one_press = False  # in a list to pick from, the first press is enough
        self._table = _EMPTY
        self._key = ""
        self._first = 0
        self._drawn: dict[int, list[Line]] = {}  # the table's lines, by the width they are laid out for

    def show(self, table: Table) -> None:
        """Show another table, the cursor on the same row where it is still there."""
        if table != self._table:
            before = self.cursor
            if not self.can_focus and table.title != self._table.title:
                self._first = 0
            self._table = table
            keys = [row.key for row in table.rows]
            if self._from_top and not self._moved:
                self._key = keys[0] if keys else ""
            elif self._key not in keys:
                self._moved = before > 0
                self._key = keys[min(before, len(keys) - 1)] if keys else ""
            self._drawn = {}
            self._keep_in_sight()
            self.refresh()

    @property
    def table(self) -> Table:
        """What is shown."""
        return self._table

    @property
    def cursor(self) -> int:
        """The index of the chosen row; 0 when there is none."""
        return next((i for i, row in enumerate(self._table.rows) if row.key == self._key), 0)

    @property
    def chosen(self) -> Row | None:
        """The chosen row."""
        return self._table.rows[self.cursor] if self._table.rows else None

    def choose(self, key: str) -> None:
        """Put the cursor on the row with that key, if there is one."""
        if key != self._key and any(row.key == key for row in self._table.rows):
            self._key, self._moved = key, True
            self._keep_in_sight()
            self.refresh()
            self.post_message(self.Moved(self))

    def action_cursor(self, by: int) -> None:
        """Move the cursor by so many rows, stopping at the ends; one row on from there is told."""
        before = self.cursor
        self._go(by)
        if abs(by) == 1 and self.cursor == before:
            self.post_message(self.Ended(self, by))

    def _go(self, by: int) -> None:
        rows = self._table.rows
        if rows:
            self.choose(rows[min(len(rows) - 1, max(0, self.cursor + by))].key)

    def read_on(self, by: int) -> None:
        """Show the next lines of a table without a cursor, or those before."""
        self._first += by * max(1, self._room() - 1)
        self._keep_in_sight()
        self.refresh()

    def wanted_height(self, width: int) -> int:
        """Lines the whole table takes at a width, its title included."""
        return self._head + len(self._lines_at(width))

    def on_resize(self) -> None:
        """Lay out again; the cursor stays in sight."""
        self._first = 0
        self._keep_in_sight()
        self.refresh()

    def on_focus(self) -> None:
        """Show the cursor."""
        self.refresh()

    def on_blur(self) -> None:
        """Hide the cursor."""
        self.refresh()

    def on_click(self, event: Click) -> None:
        """Choose the row under the pointer; a second click does the likely thing.

        On the count of what is not in sight the list reads on, and from its end begins again.
        """
        index = self._first + event.y - self._head
        lines, end = self._lines(), self._end()
        if (index < self._first if self.tight else index >= end) and self._hidden():
            self._wheel(self._page() if end < len(lines) else -len(lines))
            return
        row = lines[index].row if self.can_focus and self._first <= index < end else None
        if row is None:
            return
        self.choose(self._table.rows[row].key)
        # the second half of a double click that closed a list above is none here
        second = event.chain > 1 and event.time - self._pressed_at < _DOUBLE_SECONDS
        self._pressed_at = event.time
        if second or self.one_press:
            self.post_message(self.Chosen(self))

    def on_mouse_scroll_down(self) -> None:
        """One row down; where there is no cursor, read on."""
        self._wheel(1)

    def on_mouse_scroll_up(self) -> None:
        """One row up; where there is no cursor, read back."""
        self._wheel(-1)

    def _page(self) -> int:
        """How far it is to read on by what is in sight: to as many rows after the last of them.

        Where there is no cursor a step is as much as is in sight already.
        """
        if not self.can_focus:
            return 1
        shown = {line.row for line in self._lines()[self._first : self._end()] if line.row is not None}
        return max(shown, default=0) + len(shown) - self.cursor

    def _wheel(self, by: int) -> None:
        if self.can_focus:
            self._go(by)
        else:
            self.read_on(by)

    @property
    def _head(self) -> int:
        """Lines the title takes."""
        return 1 if self._table.title else 0

    def _lines(self) -> list[Line]:
        return self._lines_at(self.size.width)

    def _lines_at(self, width: int) -> list[Line]:
        if width not in self._drawn:
            self._drawn[width] = body_lines(self._table, max(1, width))
        return self._drawn[width]

    def _room(self) -> int:
        """Lines for rows; one fewer when some are left out and counted."""
        room = self.size.height - self._head
        return room if len(self._lines()) <= room or (self.tight and self._head) else room - 1

    def _end(self) -> int:
        """The first line not shown: a row that would be cut in two is left out whole."""
        lines, end = self._lines(), self._first + max(1, self._room())
        if end >= len(lines) or not self.can_focus or self.cuts_rows:
            return min(end, len(lines))
        while end - 1 > self._first and lines[end - 1].row == lines[end].row:
            end -= 1
        whole = lines[end - 1].row != lines[end].row
        return end if whole else self._first + max(1, self._room())

    def _keep_in_sight(self) -> None:
        lines, room = self._lines(), max(1, self._room())
        own = [i for i, line in enumerate(lines) if line.row == self.cursor]
        if own and self.can_focus:
            self._first = max(self._first, own[-1] - room + 1)
            self._first = min(self._first, own[0])  # of a row longer than the list, its beginning
        self._first = max(0, min(self._first, len(lines) - room))

    def render_line(self, y: int) -> Strip:
        """One line of the panel."""
        theme, width = self.app.theme, self.size.width
        if y < self._head:
            return line_strip(theme, self._title(width), width)
        lines, end = self._lines(), self._end()
        index = self._first + y - self._head
        if index < end:
            line = lines[index]
            if index == end - 1 and end < len(lines) and lines[end].row == line.row:
                line = cut_short(line)
            chosen = (self.has_focus or self.always_chosen) and line.row == self.cursor
            return line_strip(theme, line, width, chosen=chosen)
        hidden = self._hidden()
        if y == self.size.height - 1 and hidden and not self.tight:
            how = f": {self.reads_on}" if self.reads_on else ""
            return cells_strip(theme, (Cell(f"{left_over(hidden)}{how}", Tone.QUIET),), width)
        return blank(theme, width)

    def _title(self, width: int) -> Line:
        """The title, with what does not fit beside it in a tight list; shortly where room is short."""
        line, hidden = head_line(self._table, width), self._hidden()
        if not self.tight or not hidden:
            return line
        return beside(line, left_over(hidden), width) or beside(line, f"… {len(hidden)} more", width) or line

    def _hidden(self) -> list[Row]:
        """The rows that are not in sight, or not all of whose lines are."""
        lines, end = self._lines(), self._end()
        rows = {line.row for line in (*lines[end:], *lines[: self._first]) if line.row is not None}
        return [self._table.rows[row] for row in sorted(rows)]
