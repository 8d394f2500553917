"""The lines of a CSV file as a spreadsheet or a logger saves it."""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from board.errors import HouseFileError
from board.house.text_file import read_text

MARKS = ",;\t"
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
    written = [line for line in text.splitlines() if line.strip()]
    said = _SAID.fullmatch(written[0]) if written else None
    heading = next(iter(written[1 if said else 0 :]), "")
    mark = said[1] if said else max(MARKS, key=heading.count)
    return CsvFile(path.name, mark, _lines(path.name, text, mark))


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
            if tidy and not _SAID.fullmatch(mark.join(cells)):
                yield Line(begins, tuple(tidy))
            begins = reader.line_num + 1
    except csv.Error as error:
        raise HouseFileError(
            f"{name}, line {begins}: cannot be read as CSV ({error}); is a quotation mark not closed?"
        ) from None
