"""Reading a record of temperatures from a CSV file: a time column and one with the unit in its name."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from math import isfinite
from pathlib import Path
from zoneinfo import ZoneInfo

from board.errors import BoardError
from board.house.csv_file import Line, read_csv
from board.house.degrees import to_celsius
from board.safety.log import TemperatureLog

TIMES = ("time", "minutes", "minute", "timestamp", "at")
MOST_MINUTES = 1e7  # nineteen years: a date written as a number is no count of minutes
COLDEST_C, HOTTEST_C = -60.0, 110.0  # a freezer, and more than water lets any food come to
_UNIT = re.compile(r"(?:(?P<part>.*?)(?:[\s_]+|(?=[(\[°])))?[(\[]?\s*(?:°|deg)?\s*(?P<unit>[cf])[)\]]?")
_ASKED = "a heading such as time,core_c or time,core_f"
_TIME = "minutes such as 12.5, or a date and time such as 2026-12-19T10:00"

When = float | datetime


@dataclass(frozen=True, slots=True)
class _Line:
    """A row of the file: where it stands, when it was, and its temperature as written, empty for a gap."""

    number: int
    when: When
    degrees: float | None


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the file has its times and the temperatures asked for."""

    time: int
    temperature: int
    name: str
    in_fahrenheit: bool


def read_log(path: Path, part: str | None = None, zone: ZoneInfo | None = None) -> TemperatureLog:
    """The record in a CSV file; commas, semicolons or tabs, a decimal comma where it is no mark.

    `part` names the column, as core of `core_c`; without one, core, or the only temperature there is. An
    empty temperature is a gap; a line that says the same as the one before it is read once. Times without
    an offset are those of a clock in `zone`, where one is given: an hour lost or won at night then counts as
    it was. Raises BoardError, naming file and line, for anything else.
    """
    if path.is_dir():
        raise BoardError(f"{path} is a folder, allowed a CSV file in it")
    lines = list(_lines(path, part))
    if not lines:
        raise BoardError(f"{path.name}: found no reading, allowed rows below {_ASKED}")
    columns, rows = (
        lines[0][0],
        [row if zone is None else _on_clock(path.name, row, zone) for _, row in lines],
    )
    kept = _rising(path.name, rows)
    first = kept[0].when
    return TemperatureLog(
        tuple(_minutes(row.when, first) for row in kept),
        tuple(_celsius(path.name, row, columns) for row in kept),
        columns.in_fahrenheit,
    )


def _lines(path: Path, part: str | None) -> Iterator[tuple[_Columns, _Line]]:
    file = read_csv(path)
    columns: _Columns | None = None
    for line in file.lines:
        if columns is None:
            columns = _found(path.name, line, part)
        else:
            yield columns, _line(path.name, line, columns, file.mark)
    if columns is None:
        raise BoardError(f"{path.name}: found nothing, allowed {_ASKED}")


def _found(file: str, heading: Line, part: str | None) -> _Columns:
    names, where = heading.cells, f"{file}, line {heading.number}"
    lowered = [name.casefold() for name in names]
    times = [i for i, name in enumerate(lowered) if name in TIMES]
    units = {i: m for i, name in enumerate(lowered) if i not in times and (m := _UNIT.fullmatch(name))}
    if len(times) != 1:
        raise BoardError(f"{where}: found {len(times) or 'no'} time column, allowed {_ASKED}")
    wanted = [i for i, m in units.items() if (m["part"] or "") == (part or "core").casefold()]
    if not wanted and part is None and len(units) == 1:
        wanted = list(units)
    if len(wanted) != 1:
        known = ", ".join(names[i] for i in units) or "none with °C or °F in its name"
        asked = f"one {part or 'core'} column with its unit, such as {part or 'core'}_c"
        raise BoardError(f"{where}: found temperatures {known}; allowed {asked}")
    return _Columns(times[0], wanted[0], names[wanted[0]], units[wanted[0]]["unit"] == "f")


def _line(file: str, line: Line, columns: _Columns, mark: str) -> _Line:
    number, cells = line.number, line.cells
    time, degrees = (cells[i] if i < len(cells) else "" for i in (columns.time, columns.temperature))
    when = _when(time, mark)
    if when is None:
        raise BoardError(f"{file}, line {number}, time: found {_quoted(time)}, allowed {_TIME}")
    if not degrees:
        return _Line(number, when, None)
    read = _number(degrees, mark)
    if read is None:
        raise BoardError(
            f"{file}, line {number}, {columns.name}: found {_quoted(degrees)}, "
            "allowed a number, or nothing where the reading is lost"
        )
    return _Line(number, when, read)


def _when(text: str, mark: str) -> When | None:
    minutes = _number(text, mark)
    if minutes is not None:
        return minutes if abs(minutes) <= MOST_MINUTES else None
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if len(text) > len("2026-12-19") else None


def _number(text: str, mark: str) -> float | None:
    written = text if mark == "," else text.replace(",", ".")
    try:
        number = float(written)
    except ValueError:
        return None
    return number if isfinite(number) and "_" not in written else None


def _rising(file: str, rows: list[_Line]) -> list[_Line]:
    """The rows, each later than the one before it; what only repeats is left out."""
    kept = rows[:1]
    for row in rows[1:]:
        before = kept[-1]
        if not _is_alike(before.when, row.when):
            raise BoardError(
                f"{file}, line {row.number}, time: found another kind of time than in line {before.number}, "
                "allowed all in minutes, or all as dates and times, all with an offset or all without"
            )
        apart = _minutes(row.when, before.when)
        if apart > 0:
            kept.append(row)
        elif apart < 0 or row.degrees != before.degrees:
            raise BoardError(
                f"{file}, line {row.number}, time: found {_shown(row.when)}, "
                f"allowed a time after {_shown(before.when)} of line {before.number}"
            )
    return kept


def _on_clock(file: str, row: _Line, zone: ZoneInfo) -> _Line:
    """The row at the moment that a clock in a zone showed its time, where it has no offset of its own."""
    if not isinstance(row.when, datetime) or row.when.tzinfo is not None:
        return row
    try:
        both = {row.when.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1)}
        found = [at for at in both if at.astimezone(zone).replace(tzinfo=None) == row.when.replace(fold=0)]
    except OverflowError:
        found = []
    if len(found) != 1:
        raise BoardError(
            f"{file}, line {row.number}, time: found {_shown(row.when)}, which a clock in {zone} showed "
            f"{'twice' if found else 'never'}; write it with its offset, such as 2026-11-01T01:30-06:00"
        )
    return replace(row, when=found[0])


def _is_alike(one: When, other: When) -> bool:
    if isinstance(one, datetime) and isinstance(other, datetime):
        return (one.tzinfo is None) == (other.tzinfo is None)
    return not isinstance(one, datetime) and not isinstance(other, datetime)


def _minutes(when: When, first: When) -> float:
    """Minutes from the first time of the record."""
    if isinstance(when, datetime) and isinstance(first, datetime):
        return (when - first) / timedelta(minutes=1)
    assert not isinstance(when, datetime)
    assert not isinstance(first, datetime)
    return when - first


def _celsius(file: str, row: _Line, columns: _Columns) -> float | None:
    if row.degrees is None:
        return None
    c = to_celsius(row.degrees) if columns.in_fahrenheit else row.degrees
    if not COLDEST_C <= c <= HOTTEST_C:
        other = "" if columns.in_fahrenheit else "; is it °F?"
        raise BoardError(
            f"{file}, line {row.number}, {columns.name}: found {row.degrees:g}, allowed what food comes to, "
            f"{COLDEST_C:g} to {HOTTEST_C:g} °C{other}"
        )
    return c


def _shown(when: When) -> str:
    return when.isoformat() if isinstance(when, datetime) else f"{when:g}"


def _quoted(text: str) -> str:
    return f"'{text[:60]}'" if text else "nothing"
