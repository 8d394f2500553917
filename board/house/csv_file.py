"""The lines of a CSV file as a spreadsheet or a logger saves it."""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from board.errors import HouseFileError
from board.house.text_file import read_text

_MARKS = ",;\t"
_SAID = re.compile(r"\s*\"?sep=([,;\t])\"?\s*", re.IGNORECASE)  # how spreadsheets tell the mark
_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?!\d))")  # 6,4 but not 1,200, which may be a thousand


@dataclass(frozen=True, slots=True)
class Line:
    """The cells of a row, and the line of the file on which it begins."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CsvFile:
    """A CSV file: what parts its cells, and its lines, those without anything left out."""

    name: str
    mark: str
    lines: Iterator[Line]

    @property
    def has_decimal_commas(self) -> bool:
        """Whether a comma may be a decimal one: where it parts no cells."""
        return self.mark != ","


def read_csv(path: Path) -> CsvFile:
    """A CSV file whose cells are parted by commas, semicolons or tabs, whichever its heading has most of.

    Line breaks and spaces within a cell become one space; empty cells at the end of a line are left out.

    Raises:
        HouseFileError: the file cannot be read; as the lines are read, also what is no CSV.
    """
    text = read_text(path)
    first = next((line for line in text.splitlines() if line.strip()), "")
    mark = told_mark(first) or mark_of(first)
    return CsvFile(path.name, mark, _lines(path.name, text, mark))


def told_mark(line: str) -> str | None:
    """The mark that parts cells, where a line says nothing but that; None of any other line."""
    found = _SAID.fullmatch(line)
    return found[1] if found else None


def mark_of(heading: str) -> str:
    """What parts the cells of a heading: whichever of comma, semicolon and tab there is most of."""
    return max(_MARKS, key=heading.count)


def with_points(text: str) -> str:
    """A quantity with decimal points for its decimal commas."""
    return _DECIMAL_COMMA.sub(".", text)


def _lines(name: str, text: str, mark: str) -> Iterator[Line]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    begins = 1
    try:
        for cells in reader:
            tidy = [" ".join(cell.split()) for cell in cells]
            while tidy and not tidy[-1]:
                tidy.pop()
            if tidy and told_mark(mark.join(cells)) is None:
                yield Line(begins, tuple(tidy))
            begins = reader.line_num + 1
    except csv.Error as error:
        raise HouseFileError(
            f"{name}, line {begins}: cannot be read as CSV ({error}); is a quotation mark not closed?"
        ) from None
