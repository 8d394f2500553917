"""What is promised on a day, service by service and order by order, and the meat that takes."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from board.errors import BoardError
from board.house.calendar import at_time
from board.house.model import House
from board.house.time_typed import time_of_day
from board.house.units import format_mass
from board.planning.demand import Need, needs_of
from board.planning.dues import WHOLE, occasions_on
from board.planning.plan import Occasion, Plan
from board.planning.weights import weights_of
from board.views import names
from board.views.allotted import allotted
from board.views.facts import Facts
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert

_CLOCK = {24: "type a time such as 11:30 or 1130", 12: "type a time such as 11:30 or 2:30 pm"}


@dataclass(frozen=True, slots=True)
class Promise:
    """Portions promised of an item at a serving time, what the plan makes for it, and the meat it takes.

    `raw` is said once for each item: its pieces, as planned and as they are needed now, and their raw mass.
    """

    service: str
    service_name: str
    clock: str
    item: str
    item_name: str
    portions: int
    planned: int
    is_order: bool = False
    raw: str = ""

    @property
    def key(self) -> str:
        """The serving time and the item."""
        return f"{self.service}/{self.item}"


@dataclass(frozen=True, slots=True)
class Typing:
    """What is being typed in place: in which line, in its number or its time, and the text so far."""

    key: str
    field: str
    text: str


@dataclass(frozen=True, slots=True)
class _Sums:
    """Pieces of each item that the plan has, and that what is promised now asks for."""

    planned: Mapping[str, int] = field(default_factory=dict)
    needed: Mapping[str, int] = field(default_factory=dict)


def promises(facts: Facts, plan: Plan) -> tuple[Promise, ...]:
    """Each promise of a plan's day as it stands now, in order of time; orders as they are taken too."""
    sums, told = _sums(facts, plan), set[str]()
    lines = []
    for occasion, item, portions in _promised(facts, plan):
        raw = "" if item in told else _raw(facts.house, item, sums)
        told.add(item)
        lines.append(
            Promise(
                occasion.id,
                inert(occasion.name),
                names.clock(facts.house, occasion.at),
                item,
                names.item_name(facts.house, item),
                portions,
                _made(plan, occasion.id, item),
                occasion.is_order,
                raw,
            )
        )
    return tuple(lines)


def said_of(facts: Facts, plan: Plan, item: str) -> str:
    """What a change of a promise does to the meat of its item: `brisket: 5 → 6 briskets, 84 lb raw`."""
    raw = _raw(facts.house, item, _sums(facts, plan))
    return f"{names.item_name(facts.house, item)}: {raw}" if raw else ""


def serving_times(facts: Facts, plan: Plan) -> tuple[Occasion, ...]:
    """The services and orders of a plan's day, with every change of them since."""
    now = {(occasion.id, item): n for occasion, item, n in _promised(facts, plan) if not occasion.is_order}
    return occasions_on(facts.house, plan.day, now)


def orderable(house: House) -> list[tuple[str, str, str]]:
    """What can be ordered: its id, its name, and by what it is counted; what the house sells whole once."""
    items = [(item.id, item.name, "portions") for item in house.items.values()]
    called = {item.name for item in house.items.values()}
    whole = [f"{WHOLE}{cut}" for cut in {item.cut: None for item in house.items.values()}]
    pieces = [(id, names.item_name(house, id), "whole pieces") for id in whole]
    return [*items, *(each for each in pieces if each[1] not in called)]


def changed_since(facts: Facts, plan: Plan) -> bool:
    """Whether a day promises something else now than its plan was made for."""
    had = {(one.id, item): n for one in plan.occasions for item, n in one.promises.items()}
    now = {(one.id, item): n for one, item, n in _promised(facts, plan) if n}
    return bool(plan.loads) and had != now


def _promised(facts: Facts, plan: Plan) -> Iterator[tuple[Occasion, str, int]]:
    """Each item at each serving time; what was taken off stays to be put on again."""
    edited: dict[str, dict[str, int]] = {}
    for (day, service, item), portions in facts.promises.items():
        if day == plan.day:
            edited.setdefault(service, {})[item] = portions
    before = {occasion.id: occasion for occasion in plan.occasions if not occasion.is_order}
    now = {occasion.id: occasion for occasion in occasions_on(facts.house, plan.day)}
    for occasion in sorted({**before, **now}.values(), key=lambda o: (o.at, o.id)):
        promised = before.get(occasion.id, occasion).promises
        lines = {**promised, **edited.get(occasion.id, {})}
        yield from ((occasion, item, n) for item, n in lines.items())


def _made(plan: Plan, service: str, item: str) -> int:
    """Portions that the plan makes of an item for one serving time."""
    wanted = {occasion.id: occasion.promises.get(item, 0) for occasion in plan.occasions}
    given = allotted(plan, item, lambda load: load.portions, wanted)
    return sum(n for (_, who), n in given.items() if who == service)


def _sums(facts: Facts, plan: Plan) -> _Sums:
    """Pieces by item; what is needed now counts from the plan's, which may have saved a piece somewhere."""
    planned: dict[str, int] = {}
    for load in plan.loads:
        planned[load.item] = planned.get(load.item, 0) + load.pieces
    before = _needed(facts.house, plan.occasions) if planned else {}
    after = _needed(facts.house, serving_times(facts, plan))
    needed = {
        item: planned.get(item, 0) + after.get(item, 0) - before.get(item, 0)
        for item in {*planned, *before, *after}
    }
    return _Sums(planned, needed)


def _needed(house: House, occasions: tuple[Occasion, ...]) -> dict[str, int]:
    found: dict[str, int] = {}
    try:
        needs: tuple[Need, ...] = needs_of(house, occasions, weights_of(house.weighing).enough_chance)
    except BoardError:
        return {}  # a promise of what the house does not make is told by planning
    for need in needs:
        found[need.item] = found.get(need.item, 0) + need.pieces
    return found


def _raw(house: House, item: str, sums: _Sums) -> str:
    """The pieces of an item and their raw mass; both numbers of pieces where they differ."""
    made = house.items.get(item)
    cut = house.cuts.get(made.cut if made else item.removeprefix(WHOLE))
    if cut is None:
        return ""
    planned, needed = sums.planned.get(item, 0), sums.needed.get(item, 0)
    mass = format_mass(needed * cut.mass_kg.usual, house.display)
    before = f"{planned} → " if planned not in (0, needed) else ""
    return f"{before}{names.of_cut(house, cut.id, needed)}, {mass}"


def clock_typed(house: House, day: date, typed: str) -> datetime:
    """The moment of a day that a typed time means.

    Raises:
        BoardError: no time of day.
    """
    at = time_of_day(typed)
    if at is None:
        found = f"{typed.strip()} is no time of day: " if typed.strip() else ""
        raise BoardError(f"{found}{_CLOCK[house.display.clock_hours]}")
    return at_time(day, at, house.zone)


def promises_table(lines: tuple[Promise, ...], typing: Typing | None = None) -> Table:
    """What is promised at each serving time, what the plan makes, the raw meat; what is typed, in place."""
    columns = (
        Column(note="service-time"),
        Column(),
        Column(grow=True),
        Column("promised", right=True),
        Column("planned", right=True),
        Column("raw", drop=1),
    )
    rows = tuple(_row(line, typing if typing and typing.key == line.key else None) for line in lines)
    return Table("Promised", columns, rows, "", "No service is held.")


def take_order_row() -> Row:
    """The line under the promises by which an order is taken."""
    says = Cell("take an order", Tone.QUIET)
    return Row("+", (Cell("+", Tone.CARE), Cell(""), says, Cell(""), Cell(""), Cell("")))


def _row(line: Promise, typing: Typing | None) -> Row:
    enough = line.planned >= line.portions
    clock, number = Cell(line.clock, Tone.QUIET), Cell(str(line.portions), Tone.STRONG)
    if typing is not None and typing.field == "time":
        clock = Cell(f"{typing.text or line.clock}_", Tone.CARE)
    elif typing is not None:
        number = Cell(f"{typing.text or line.portions}_", Tone.CARE)
    cells = (
        clock,
        Cell(f"{line.service_name}, order" if line.is_order else line.service_name, Tone.QUIET),
        Cell(line.item_name),
        number,
        Cell(str(line.planned) if enough else f"{line.planned} ▲", Tone.PLAIN if enough else Tone.LATE),
        Cell(line.raw, Tone.CARE if "→" in line.raw else Tone.QUIET),
    )
    return Row(line.key, cells)
