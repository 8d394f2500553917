"""What the screen of settings says: what this machine shows, what the house says, where all is."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from board.house.model import House
from board.safety.tables import place_name
from board.views import names
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert

_THEMES = {
    "dark": "dark: warm, for a dim room",
    "light": "light: for a sunny pass",
    "terminal": "terminal: the colours your terminal has",
}
_UNITS = {"degC": "°C", "degF": "°F"}


@dataclass(frozen=True, slots=True)
class Shown:
    """The settings that hold, what goes before the file, its faults, and the house beside them."""

    theme: str
    ascii: bool
    motion: bool
    bell: bool
    who: str
    backup_to: str
    path: str
    over: Mapping[str, str]
    in_file: frozenset[str]
    faults: tuple[str, ...]
    house: House
    ledger: str
    folder: str


def of_machine(shown: Shown) -> Table:
    """What can be changed here, each with what it means."""
    rows = []
    for key, name, value in _values(shown):
        cells = (
            Cell(name, Tone.STRONG),
            Cell(inert(value)),
            Cell(_whence(shown, key), Tone.QUIET),
        )
        rows.append(Row(key, cells))
    columns = (Column(), Column(grow=True), Column())
    return Table("On this machine", columns, tuple(rows))


def _values(shown: Shown) -> Iterator[tuple[str, str, str]]:
    yield "theme", "theme", _THEMES.get(shown.theme, shown.theme)
    yield "ascii", "glyphs", "plain ASCII" if shown.ascii else "all: bars, curves, arrows"
    yield "motion", "motion", "on" if shown.motion else "off: nothing moves by itself"
    yield "bell", "bell", "rings once for a new alarm" if shown.bell else "silent"
    yield "who", "who", names.person_name(shown.house, shown.who) if shown.who else "whoever's shift it is"
    yield "backup_to", "copies", shown.backup_to or "none: backups are on this machine alone"


def _whence(shown: Shown, key: str) -> str:
    if key in shown.over:
        return f"from {shown.over[key]}"
    return "kept" if key in shown.in_file else "usual here"


def of_house(shown: Shown) -> Table:
    """What the house's own files say, each with the file and the key where it is changed."""
    rows = tuple(
        Row(key, (Cell(name), Cell(inert(value)), Cell(key, Tone.QUIET)))
        for key, name, value in _of_files(shown.house)
    )
    return Table("In the house's files", (Column(), Column(grow=True), Column()), rows, "house.toml")


def _of_files(house: House) -> Iterator[tuple[str, str, str]]:
    display = house.display
    units = (display.mass, display.temperature, display.volume)
    said = ", ".join(_UNITS.get(unit, unit) for unit in units)
    yield "zone", "zone", house.zone
    yield "display", "units", f"{said}, a clock of {display.clock_hours} hours"
    yield "jurisdiction", "rules", f"{place_name(house.jurisdiction)}; the local code decides"


def places(shown: Shown) -> Table:
    """What is wrong with the settings; where they, the house's files and the ledger lie."""
    rows = [
        Row(f"fault/{i}", (Cell("wrong", Tone.CARE), Cell(inert(says))))
        for i, says in enumerate(shown.faults)
    ]
    for name, path in (("settings", shown.path), ("house", shown.folder), ("ledger", shown.ledger)):
        if path:
            rows.append(Row(name, (Cell(name), Cell(inert(path), Tone.QUIET))))
    return Table("Where it is kept", (Column(), Column(grow=True)), tuple(rows))
