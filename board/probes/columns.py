"""The columns of a logger's CSV file: where its times are, and which probe each temperature is of."""

import csv
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from board.house.csv_file import mark_of
from board.house.probes import Probe
from board.probes.figures import degrees, time, unit
from board.probes.message import DEGREE_KEYS, PROBE_KEYS, TIME_KEYS
from board.probes.reading import Told
from board.probes.refused import BadMessageError, quoted

_NAMED_UNIT = re.compile(r"(?P<name>.*?)[\s_]*[(\[]?\s*(?:°|deg)?\s*(?P<unit>[cf])[)\]]?", re.IGNORECASE)
_APART = re.compile(r"[\s_-]+")
ASKED = "a heading such as time,probe,temperature_c, or time,north-grate_f,meat-1_f with the names of probes"


@dataclass(frozen=True, slots=True)
class Column:
    """A column of temperatures: of which probe, None where another column names it, and in which unit."""

    place: int
    probe: str | None
    unit: str | None


@dataclass(frozen=True, slots=True)
class Columns:
    """How the rows below a heading are read; `skipped` are headings of temperatures of no probe known."""

    mark: str
    times: tuple[int, ...]
    probe: int | None
    unit: int | None
    degrees: tuple[Column, ...]
    skipped: tuple[str, ...] = ()


def columns_of(
    line: str, named: Mapping[str, Probe], probe: str | None = None, mark: str | None = None
) -> Columns:
    """The columns that a heading names.

    Args:
        line: the heading.
        named: the probes by the names that messages give them; their ids are known besides.
        probe: whose the temperatures are, where the file does not say.
        mark: what parts the cells; None for whichever of comma, semicolon and tab there is most of.

    Raises:
        BadMessageError: no column of times, or no temperature of a probe that is known.
    """
    mark = mark or mark_of(line)
    names = [cell.casefold() for cell in cells_of(line, mark)]
    times = _times(names)
    of_probe = next((n for n, name in enumerate(names) if name in PROBE_KEYS), None)
    of_unit = names.index("unit") if "unit" in names else None
    rest = [n for n in range(len(names)) if n not in (*times, of_probe, of_unit)]
    if of_probe is not None or probe is not None:
        own = None if of_probe is not None else probe
        found = [Column(n, own, DEGREE_KEYS[names[n]]) for n in rest if names[n] in DEGREE_KEYS][:1]
        skipped: list[str] = []
    else:
        found, skipped = _of_probes(names, rest, named)
    if not times or not found:
        missing = f"no probe sent as {', '.join(skipped)}" if skipped else "no temperature of a probe"
        raise BadMessageError(f"found {missing if times else 'no time'} in {quoted(line)}, allowed {ASKED}")
    return Columns(mark, times, of_probe, of_unit, tuple(found), tuple(skipped))


def is_heading(line: str, columns: Columns) -> bool:
    """Whether a row is a heading again, as a logger writes one each time that it begins."""
    try:
        cells = cells_of(line, columns.mark) if any(sign.isalpha() for sign in line) else []
    except BadMessageError:
        return False
    return bool(cells) and _times([cell.casefold() for cell in cells]) != ()


def told_by(line: str, columns: Columns) -> Iterator[Told]:
    """What one row tells, empty cells left out.

    Raises:
        BadMessageError: a cell that is no time or temperature, or no name of a probe.
    """
    cells = cells_of(line, columns.mark)
    at = time("T".join(cells[n] for n in columns.times if n < len(cells)))
    if at is None:
        raise BadMessageError(f"found no time in {quoted(line)}")
    named = _cell(cells, columns.probe)
    for column in columns.degrees:
        said = _cell(cells, column.place)
        if said:
            value, own = degrees(said)
            probe = column.probe or named
            if not probe:
                raise BadMessageError(f"found no name of a probe in {quoted(line)}")
            yield Told(probe, value, own or unit(_cell(cells, columns.unit)) or column.unit, at)


def cells_of(line: str, mark: str) -> list[str]:
    """The cells of one line.

    Raises:
        BadMessageError: a line that is no CSV.
    """
    try:
        return [" ".join(cell.split()) for cell in next(csv.reader([line], delimiter=mark, strict=True), [])]
    except csv.Error as error:
        raise BadMessageError(f"found {quoted(line)}, which is no CSV ({error})") from None


def _times(names: list[str]) -> tuple[int, ...]:
    """Where the times are: one column, or a date and a time of day beside each other."""
    found = [n for n, name in enumerate(names) if name in (*TIME_KEYS, "datetime")]
    dates = [n for n, name in enumerate(names) if name == "date"]
    return (*dates[:1], *found[:1]) if found else ()


def _of_probes(
    names: list[str], rest: list[int], named: Mapping[str, Probe]
) -> tuple[list[Column], list[str]]:
    """The columns that bear the name of a probe, with or without a unit; and those of no probe."""
    known = {_plain(one.id): sent_as for sent_as, one in named.items()}
    known |= {_plain(sent_as): sent_as for sent_as in named}
    found, skipped = [], []
    for n in rest:
        split = _NAMED_UNIT.fullmatch(names[n])
        bare, scale = (split["name"], split["unit"].upper()) if split else (names[n], None)
        if _plain(names[n]) in known:
            found.append(Column(n, known[_plain(names[n])], None))
        elif _plain(bare) in known:
            found.append(Column(n, known[_plain(bare)], scale))
        elif split:
            skipped.append(names[n])
    return found, skipped


def _plain(name: str) -> str:
    return _APART.sub(" ", name.casefold()).strip()


def _cell(cells: list[str], place: int | None) -> str | None:
    return cells[place] if place is not None and place < len(cells) else None
