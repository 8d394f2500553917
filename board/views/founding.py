"""The pages a new house is made on: what each asks, what stands there so far, what is still to do."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from board.house.check import Doubt
from board.house.founding import (
    NewHouse,
    Times,
    clock_said,
    cuts_offered,
    days_said,
    missing,
    piece_of,
    setpoints_of,
    usual_dish,
)
from board.house.library import library_cut
from board.house.wording import count, in_list
from board.house.zones import countries, zones
from board.safety.tables import place_name
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert

GO_ON, DEMO, OTHER, NEW, LEAVE = "go-on", "demo", "other", "new", "leave"
START, HOUSE, PITS, SOLD, SERVICES, CREW, LOOK = range(7)
_UNITS = {
    "degC": "Celsius",
    "degF": "Fahrenheit",
    "kg": "kilograms",
    "lb": "pounds",
    "L": "litres",
    "gal": "gallons",
}
_TITLES = ("Start", "The house", "Pits", "What is sold", "Services", "Crew", "Look it over")


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its title, what it asks in a sentence or two, and its lines; the last goes on."""

    title: str
    says: str
    table: Table


class Standing(NamedTuple):
    """How far a new house is: the page, the answers, where it will be written, what the check finds."""

    page: int
    house: NewHouse
    folder: str
    found: Sequence[str] | None = None  # None while it is looked over


def page(standing: Standing) -> Page:
    """The page one is on."""
    says, lines, columns = _PAGES[standing.page]
    rows = list(lines(standing))
    if standing.page not in (START, LOOK):
        rows.append(_row(GO_ON, "go on", f"to {_TITLES[standing.page + 1].lower()}", tone=Tone.HEAT))
    title = _TITLES[standing.page]
    full = tuple(Row(row.key, (*row.cells, *[Cell("")] * (len(columns) - len(row.cells)))) for row in rows)
    return Page(title, says, Table(title, columns, full))


def found_says(found: Sequence[Doubt]) -> list[str]:
    """What the check asks about a new house, in sentences; what nobody was asked yet in one line each."""
    prices = sum(doubt.where.endswith(".price") for doubt in found)
    promises = sum(doubt.where.endswith(".promises") for doubt in found)
    said = [str(d) for d in found if not d.where.endswith((".price", ".promises"))]
    if promises:
        said.append("nothing is promised yet: on the board, 2 then p promises, g plans")
    if prices:
        said.append("no prices yet: write them in items.toml to weigh a sell-out against waste")
    return said


def _row(key: str, name: str, *more: str, tone: Tone = Tone.STRONG) -> Row:
    return Row(key, (Cell(inert(name), tone), *(Cell(inert(each)) for each in more)))


def _start(_: Standing) -> Iterator[Row]:
    yield _row(NEW, "make a new house", "a few minutes; nothing is written before you say so")
    yield _row(DEMO, "see the invented house first", "a busy Saturday at 05:40; then come back here")
    yield _row(OTHER, "open another folder", "a house whose files are there already")
    yield _row(LEAVE, "leave", "nothing has been written")


def _house(standing: Standing) -> Iterator[Row]:
    house, display = standing.house, standing.house.display
    country = countries().get(zones().get(house.zone, ""), "")
    yield _row("name", "name", house.name or "what is it called?")
    yield _row("folder", "folder", standing.folder or "where its files shall be")
    yield _row("zone", "time zone", f"{house.zone}  {country}" if house.zone else "which one is it in?")
    yield _row("mass", "weights", _UNITS[display.mass])
    yield _row("temperature", "degrees", _UNITS[display.temperature])
    yield _row("volume", "volumes", _UNITS[display.volume])
    yield _row("clock", "clock", f"{display.clock_hours} hours")
    yield _row("rules", "rules", f"{place_name(house.jurisdiction)}; the local code decides")


def _pits(standing: Standing) -> Iterator[Row]:
    house = standing.house
    for i, pit in enumerate(house.pits):
        yield _row(str(i), pit.name, pit.kind.value, pit.area, setpoints_of(house, pit.kind))


def _sold(standing: Standing) -> Iterator[Row]:
    house = standing.house
    chosen = {dish.cut: dish for dish in house.dishes}
    for id in cuts_offered():
        dish = chosen.get(id) or usual_dish(house, id)
        sold = dish.portion or f"{dish.portions_a_piece} a piece"
        tick, tone = ("✓", Tone.STRONG) if id in chosen else (" ", Tone.QUIET)
        cells = (
            Cell(f"{tick} {library_cut(id).name}", Tone.GOOD if id in chosen else Tone.PLAIN),
            Cell(inert(dish.name), tone),
            Cell(inert(sold), tone),
            Cell(inert(piece_of(house, dish)), Tone.QUIET),
        )
        yield Row(id, cells)


def _times(house: NewHouse, times: Sequence[Times]) -> Iterator[Row]:
    for i, each in enumerate(times):
        yield _row(str(i), each.name, clock_said(house, each.at), f"for {each.lasts}", days_said(each.days))


def _services(standing: Standing) -> Iterator[Row]:
    yield from _times(standing.house, standing.house.services)


def _crew(standing: Standing) -> Iterator[Row]:
    house = standing.house
    for row, shift in zip(_times(house, house.shifts), house.shifts, strict=True):
        who = Cell(inert(in_list(list(shift.people)))) if shift.people else Cell("who?", Tone.CARE)
        yield Row(row.key, (row.cells[0], who, *row.cells[1:]))


def _look(standing: Standing) -> Iterator[Row]:
    house, lacking = standing.house, missing(standing.house)
    held = (
        count(len(house.pits), "pit"),
        count(len(house.dishes), "item"),
        count(len(house.services), "service"),
        count(len(house.people), "person"),
    )
    yield _row("sum", house.name or "no name yet", in_list(list(held)))
    if lacking:
        yield Row("lacking", (Cell("!", Tone.CARE), Cell(f"{lacking}; Esc goes back", Tone.CARE)))
        return
    if standing.found is None:
        yield _row("looking", "…", "looking it over")
    for i, says in enumerate(standing.found or ()):
        yield Row(f"found/{i}", (Cell("!", Tone.CARE), Cell(inert(says))))
    if standing.found is not None:
        yield _row(GO_ON, "write it", f"into {standing.folder}, and open the board", tone=Tone.HEAT)


_TWO = (Column(), Column(grow=True))
_PAGES: tuple[tuple[str, Callable[[Standing], Iterator[Row]], tuple[Column, ...]], ...] = (
    ("There is no house in this folder yet.", _start, _TWO),
    ("Enter changes a line. What is guessed here follows from the time zone.", _house, _TWO),
    (
        "a adds pits, Enter changes one, x takes one away. Setpoints come from the kind.",
        _pits,
        (Column("pit"), Column("kind"), Column("cooking area"), Column("setpoints", grow=True)),
    ),
    (
        "Enter or Space ticks a cut; e changes its portion and the weight of a piece. Prices can wait.",
        _sold,
        (Column("cut"), Column("sold as", grow=True), Column("a portion"), Column("raw piece")),
    ),
    (
        "When must portions be ready? a adds one, Enter changes one, x takes one away.",
        _services,
        (Column("service"), Column("opens"), Column("lasts"), Column("days", grow=True)),
    ),
    (
        "Long cooks want somebody at the fire the night before. a adds a shift, Enter changes one.",
        _crew,
        (Column("shift"), Column("who", grow=True), Column("begins"), Column("lasts"), Column("days")),
    ),
    (
        "The check advises; the local code and the licensed person decide. All of it may be changed later.",
        _look,
        _TWO,
    ),
)
