"""Where the figures of a line come from: a note for each, with the line's own numbers where known."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from board.views.guidance import read_data
from board.views.table import Column, Row, Table
from board.views.text import width_of

_FIGURE = 24  # columns: a longer cell is told by the note's title alone


@dataclass(frozen=True, slots=True)
class Explained:
    """One figure: what it is called and says, what it is, its own numbers, and what stands under that."""

    title: str
    figure: str
    what: str
    own: str
    more: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Note:
    """What is known of a kind of figure."""

    title: str
    what: str
    how: str
    source: str
    leaves_out: str = ""


def notes() -> Mapping[str, Note]:
    """Every note by its id."""
    return {id: Note(**entry) for id, entry in read_data("notes").items()}


def note_of(column: Column) -> str:
    """The id of a column's note: its own, or its heading's."""
    return column.note or column.title.replace(" ", "-")


def explained(table: Table, row: Row, own: Mapping[str, str]) -> Iterator[Explained]:
    """Each figure of a row, two of one note once; `own` is what this very line's numbers add, by note."""
    known = dict(notes())
    for column, cell in zip(table.columns, row.cells, strict=False):
        id = note_of(column)
        if cell.text.strip() and id in known:
            yield _explained(known.pop(id), cell.text.strip(), own.get(id, ""))


def _explained(note: Note, says: str, own: str) -> Explained:
    left_out = f"Leaves out: {_lower(note.leaves_out)}" if note.leaves_out else ""
    more = (note.how, left_out, f"From: {note.source}.")
    figure = says if width_of(says) <= _FIGURE else ""
    return Explained(note.title, figure, note.what, f"Here: {own}" if own else "", tuple(filter(None, more)))


def _lower(sentence: str) -> str:
    """A sentence as it goes on after a colon; a symbol or a name in capitals stays."""
    return (
        sentence[:1].lower() + sentence[1:] if sentence[1:2].islower() or sentence[1:2] == " " else sentence
    )
