"""The Service view as tables: a row an item, and a row an order."""

from collections.abc import Iterator

from board.views.hold_age import Age, Old
from board.views.leftovers import Leftover
from board.views.orders import OrderLine
from board.views.progress import Risk
from board.views.service import ItemLine, Service, Wave
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

ROOMY = 110  # columns from which on what is to come stands in a column of its own
_GLYPH = {Risk.IN_TIME: "", Risk.MAYBE_LATE: " ?", Risk.LATE: " ▲"}
_RISK_TONE = {Risk.IN_TIME: Tone.PLAIN, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}
_OLD_WORD = {Old.FINE: "", Old.NEAR: " near", Old.OVER: ""}
_OLD_SIGN = {Tone.QUIET: "", Tone.CARE: " △", Tone.LATE: " ▲"}


def items_table(view: Service, width: int = 80) -> Table:
    """Every item of the service: ready and how old, resting, coming, sold, left, and until when it lasts."""
    roomy = width >= ROOMY
    columns = (
        Column(),
        Column("ready", right=True, note="portions-ready"),
        Column("oldest"),
        *((Column("resting", right=True, drop=3), Column("coming", grow=True)) if roomy else ()),
        Column("sold", right=True, drop=2),
        Column("left", right=True, drop=1),
        Column("lasts"),
    )
    title = f"{view.name} {view.day}".strip()
    title = title[:1].upper() + title[1:]
    rows = tuple(_row(line, roomy=roomy) for line in view.lines)
    return Table(title, columns, rows, "", "Nothing is promised.")


def _row(line: ItemLine, *, roomy: bool) -> Row:
    tone = Tone.QUIET if line.sold_out else Tone.STRONG
    cells = (
        Cell(line.name, tone),
        Cell(_number(line.holding)),
        age_cell(line.age),
        *((Cell(_number(line.resting), Tone.QUIET), _coming(line, "")) if roomy else ()),
        Cell(str(line.sold)),
        Cell(f"{line.left} ▲", Tone.LATE) if line.short and not line.sold_out else Cell(str(line.left)),
        _lasts(line),
    )
    return Row(line.item, cells, tuple(_below(line, roomy=roomy)))


def _lasts(line: ItemLine) -> Cell:
    if line.sold_out:
        return Cell(line.lasts, Tone.QUIET)
    return Cell(f"{line.lasts} ▲", Tone.LATE) if line.runs_short else Cell(line.lasts, Tone.GOOD)


def age_cell(age: Age | None) -> Cell:
    """How old of how old it may get; past a rule is red, past the house's own longest hold yellow."""
    if age is None:
        return Cell("", Tone.QUIET)
    tone = {Old.FINE: Tone.QUIET, Old.NEAR: Tone.CARE, Old.OVER: Tone.CARE}[age.old]
    if age.by_rule:
        tone = Tone.LATE
    return Cell(f"{age.says}{_OLD_WORD[age.old]}{_OLD_SIGN[tone]}", tone)


def _coming(line: ItemLine, word: str) -> Cell:
    risk = max((wave.risk for wave in line.coming), default=Risk.IN_TIME)
    said = ", ".join(_wave(wave) for wave in line.coming)
    return Cell(f"{word}{said}" if said else "", _RISK_TONE[risk])


def _below(line: ItemLine, *, roomy: bool) -> Iterator[Cell]:
    """What stands under an item: what comes, what must be known or done, and the next step."""
    if line.sold_out:
        return
    if not roomy and line.next is not None and _is_calm(line):
        yield Cell(f"{_coming(line, 'to come ').text}; next {line.next.says}", Tone.QUIET)
        return
    if not roomy:
        yield from _to_come(line)
    for wave in line.coming:
        if wave.guess:
            yield Cell(f"{wave.ready} is a guess: {wave.guess}", Tone.CARE)
    if line.caution:
        yield Cell(line.caution, Tone.CARE)
    if line.remedy:
        yield Cell(line.remedy, Tone.GOOD)
    yield from _next(line, told=not roomy)


def _is_calm(line: ItemLine) -> bool:
    """Whether all of an item only comes, in time and by steps that are not overdue: one sentence tells it."""
    certain = all(wave.risk is Risk.IN_TIME and not wave.guess for wave in line.coming)
    waits = line.resting or line.unfinished or line.caution or line.remedy
    overdue = line.next is not None and line.next.overdue
    return bool(line.coming) and certain and not waits and not overdue


def _to_come(line: ItemLine) -> Iterator[Cell]:
    """What rests and what comes; what waits for work besides, where no step says so."""
    waits = [f"{line.resting} resting"] if line.resting else []
    waits += [line.unfinished] if line.unfinished and line.next is None else []
    coming = [*waits, "to come "] if line.coming else waits
    if line.coming:
        yield _coming(line, ", ".join(coming))
    elif waits:
        yield Cell(", ".join(waits), Tone.QUIET)


def _next(line: ItemLine, *, told: bool) -> Iterator[Cell]:
    """The next step, after what waits for it; `told` where that stands above already when there is none."""
    waits = f"{line.unfinished}; " if line.unfinished else ""
    if line.next is None:
        if waits and not told:
            yield Cell(line.unfinished, Tone.QUIET)
    elif line.next.overdue:
        yield Cell(f"{waits}overdue ▲ {line.next.says}", Tone.LATE)
    else:
        yield Cell(f"{waits}next {line.next.says}", Tone.QUIET)


def _wave(wave: Wave) -> str:
    return f"{wave.portions} at {wave.ready}{_GLYPH[wave.risk]}"


def _number(portions: int) -> str:
    return str(portions) if portions else "–"


def orders_table(view: Service) -> Table:
    """The day's orders, each with what it is and whether its loads are ready, or that it is gone."""
    columns = (
        Column(note="order-at"),
        Column(),
        Column(grow=True, note="order-says"),
        Column(note="order-state"),
    )
    waiting = sum(not order.gone for order in view.orders)
    aside = f"{waiting} to hand over" if waiting else "all handed over"
    rows = tuple(_order_row(order) for order in view.orders)
    return Table("Orders", columns, rows, aside if rows else "", "No order today.")


def _order_row(order: OrderLine) -> Row:
    tone = {Risk.IN_TIME: Tone.GOOD, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}[order.risk]
    if order.overdue:
        state = Cell(f"{order.state} △", Tone.CARE)
    else:
        state = Cell(order.state + _GLYPH[order.risk], Tone.QUIET if order.gone else tone)
    said = Tone.QUIET if order.gone else Tone.PLAIN
    return Row(
        order.key, (Cell(order.clock, Tone.QUIET), Cell(order.name, said), Cell(order.says, said), state)
    )


def left_table(view: Service, aside: str = "") -> Table:
    """What is left of what is over: how old it is, what it was last read, and under it what to do."""
    columns = (Column(), Column(note="portions-oldest"), Column(grow=True))
    rows = tuple(_left_row(one) for one in view.left)
    return Table("Left of what is over", columns, rows, aside if rows else "")


def _left_row(one: Leftover) -> Row:
    read = Cell(one.read, Tone.QUIET if one.is_read else Tone.CARE)
    return Row(one.key, (Cell(one.name, Tone.STRONG), age_cell(one.age), read), (Cell(one.todo, Tone.CARE),))
