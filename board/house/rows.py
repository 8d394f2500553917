"""A strict reader of CSV rows: typed cells, one clear line when wrong, no column left unread."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, date, datetime, time
from difflib import get_close_matches
from pathlib import Path
from typing import TypeVar

from board.errors import HouseFileError, QuantityError
from board.house.calendar import at_time
from board.house.csv_file import Line, read_csv, with_points
from board.house.tables import MOST_PEOPLE_COUNT, as_date, as_time
from board.house.years import ALLOWED as YEARS
from board.house.years import known_moment

T = TypeVar("T")


class Row:
    """One line of a CSV house file; an empty cell is an absent one."""

    def __init__(self, file: str, line: int, cells: dict[str, str], *, decimal_commas: bool = False) -> None:
        self.file = file
        self.line = line
        self._cells = cells
        self._decimal_commas = decimal_commas

    def has(self, column: str) -> bool:
        """Whether the cell holds something."""
        return bool(self._cells.get(column))

    def refuse(self, column: str, allowed: str) -> HouseFileError:
        """The error for a cell: file, line, column, found, allowed."""
        found = f"'{self._cells[column][:60]}'" if self.has(column) else "nothing"
        return HouseFileError(f"{self.file}, line {self.line}, {column}: found {found}, allowed {allowed}")

    def value(self, column: str, default: T | None, read: Callable[[str], T], allowed: str) -> T:
        """The cell through `read`, whose ValueError, TypeError or QuantityError means not allowed."""
        if not self.has(column):
            if default is None:
                raise self.refuse(column, allowed)
            return default
        try:
            return read(self._cells[column])
        except (ValueError, TypeError, QuantityError):
            raise self.refuse(column, allowed) from None

    def text(self, column: str, default: str | None = None) -> str:
        """A text."""
        return self.value(column, default, _printable, "a text")

    def whole(self, column: str, default: int | None = None) -> int:
        """A whole number, nought or more."""
        return self.value(column, default, _whole, "a whole number such as 12")

    def some(self, column: str, default: int | None = None) -> int:
        """A whole number above nought."""
        number = self.whole(column, default)
        if number == 0:
            raise self.refuse(column, "a whole number above nought")
        return number

    def one_of(self, column: str, known: Iterable[str], default: str | None = None) -> str:
        """One of the names known."""
        found = self.text(column, default)
        if found not in known:
            raise self.refuse(column, f"one of {', '.join(known)}")
        return found

    def quantity(self, column: str, default: T | None, read: Callable[[str], T], allowed: str) -> T:
        """A quantity, its decimals after a comma too where a comma parts no cells."""
        typed = with_points if self._decimal_commas else str
        return self.value(column, default, lambda text: read(typed(text)), allowed)

    def between(
        self,
        column: str,
        read: Callable[[str], float],
        within: tuple[float, float],
        allowed: str,
        default: float | None = None,
    ) -> float:
        """A quantity within two ends, in the unit of `read`."""
        low, high = within

        def inside(text: str) -> float:
            number = read(text)
            if not low <= number <= high:
                raise ValueError(text)
            return number

        return self.quantity(column, default, inside, allowed)

    def date(self, column: str) -> date:
        """A date."""
        return self.value(column, None, as_date, f"a date such as 2026-12-19, {YEARS}")

    def time_of_day(self, column: str) -> time | None:
        """A time of day on the house's clock, None when absent."""
        return self.value(column, None, as_time, "a time of day such as 18:40") if self.has(column) else None

    def moment(self, column: str, zone: str) -> datetime:
        """A moment: with an offset, or on the wall clock of a zone."""
        allowed = f"a date and time such as 2026-12-19T10:00, {YEARS}"
        return self.value(column, None, lambda text: _moment(text, zone), allowed)


def read_rows(path: Path, columns: Sequence[str], needed: Sequence[str]) -> Iterator[Row]:
    """The rows of a CSV file with a heading line; commas, semicolons or tabs; blank lines left out.

    Raises HouseFileError for a missing or unknown column, and for a line with too many cells.
    """
    file = read_csv(path)
    names: list[str] | None = None
    for line in file.lines:
        if names is None:
            names = _heading(path.name, line, columns, needed)
        elif len(line.cells) > len(names):
            raise HouseFileError(
                f"{path.name}, line {line.number}: found {len(line.cells)} cells, allowed {len(names)}"
            )
        else:
            cells = dict(zip(names, line.cells, strict=False))
            yield Row(path.name, line.number, cells, decimal_commas=file.has_decimal_commas)


def _heading(file: str, line: Line, columns: Sequence[str], needed: Sequence[str]) -> list[str]:
    where = f"{file}, line {line.number}"
    lowered = [name.lower() for name in line.cells]
    for name in lowered:
        if name not in columns:
            near = get_close_matches(name, columns, n=1, cutoff=0.5)
            known = f"did you mean {near[0]}?" if near else f"allowed {', '.join(columns)}"
            raise HouseFileError(f"{where}: found an unknown column '{name[:60]}', {known}")
    if len(set(lowered)) < len(lowered):
        raise HouseFileError(f"{where}: found a column twice, allowed each of {', '.join(columns)} once")
    for name in needed:
        if name not in lowered:
            raise HouseFileError(f"{where}: found no column {name}, allowed {', '.join(columns)}")
    return lowered


def _printable(text: str) -> str:
    if not text.isprintable():
        raise ValueError(text)
    return text


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdigit()) or len(text) > len(str(MOST_PEOPLE_COUNT)):
        raise ValueError(text)
    return int(text)


def _moment(text: str, zone: str) -> datetime:
    found = known_moment(text)
    if len(text) <= len("2026-12-19"):
        raise ValueError("a date alone would mean midnight")
    if found.tzinfo is None:
        return at_time(found.date(), found.time(), zone)
    return found.astimezone(UTC)
