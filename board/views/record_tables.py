"""The Record view as a table."""

from collections.abc import Iterator
from dataclasses import replace

from board.views.guidance import Key
from board.views.record import Kind, Record
from board.views.record_line import RecordLine
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

DAY = "day:"
_EMPTY = {
    Kind.COOKED: "No load came off in these days.",
    Kind.HOLDING: "Nothing was held, and no cooler was read, in these days.",
    Kind.COOLING: "Nothing was cooled, reheated or thawed in these days.",
    Kind.MARKS: "Nothing was date-marked in these days.",
    Kind.FAILED: "Nothing failed in these days.",
    Kind.PROBES: "No probe was checked yet.",
}
_THEN = {Kind.COOLING: ("begin", "begins a watch"), Kind.PROBES: ("probe", "records a check")}  # its act
_OPENS = {"closed": "▸ ", "open": "▾ "}


def record_table(view: Record, filtered: str = "", key: Key | None = None) -> Table:
    """Entries newest first under their days; what was taken back stays, and says so.

    `key` is for where keys are at hand: an empty part then says how it is filled.
    """
    columns = (
        Column(note="told-at"),
        Column(grow=True, note="told"),
        Column(),
        Column(drop=1, note="written-at"),
    )
    aside = ", ".join(filter(None, (view.kind.value, view.span, "newest first")))
    if view.left_out:
        aside += f"; the last {view.entries}"
    if filtered:
        aside = f"with “{filtered}”; {aside}"
    empty = _EMPTY.get(view.kind, "Nothing is recorded yet.")
    if key and view.kind in _THEN:
        act, does = _THEN[view.kind]
        empty = f"{empty.removesuffix('.')}: {key(act)} {does}."
    rows = tuple(_under_days(view))
    return Table("Record", columns, rows, aside, "Nothing has all of that." if filtered else empty)


def _under_days(view: Record) -> Iterator[Row]:
    """The rows with a heading before each day but the first where that is today."""
    day = ""
    for line in view.lines:
        if line.day != day and line.on is not None:
            day = line.day
            heading = (Cell(""), Cell(day or "today", Tone.HEAD), Cell(""), Cell(""))
            yield Row(f"{DAY}{line.on.isoformat()}", heading)
        yield _row(line)


def _row(line: RecordLine) -> Row:
    says = f"{line.says} (taken back)" if line.taken_back else line.says
    indent = "  " if line.within else ""
    cells = (
        Cell(line.clock, Tone.QUIET),
        Cell(f"{indent}{_OPENS.get(line.opens, '')}{says}", Tone.QUIET if line.taken_back else line.tone),
        Cell(line.who, Tone.QUIET),
        Cell(line.noted, Tone.QUIET),
    )
    return Row(line.key, cells, tuple(Cell(text, Tone.CARE) for text in line.below))


def shown(view: Record, lines: tuple[RecordLine, ...]) -> Record:
    """The view with other lines of it: folded, or those that were asked for."""
    return replace(view, lines=lines)
