"""The Service view as a table, a row an item."""

from board.views.progress import Risk
from board.views.service import ItemLine, OrderLine, Service, Wave
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

_GLYPH = {Risk.IN_TIME: "", Risk.MAYBE_LATE: " ?", Risk.LATE: " ▲"}


def items_table(view: Service) -> Table:
    """Every item of the service: ready, resting, coming, sold, left, and until when it lasts."""
    columns = (
        Column(),
        Column("ready", right=True, note="portions-ready"),
        Column("oldest", right=True, drop=2),
        Column("resting", right=True, drop=3),
        Column("coming", grow=True),
        Column("sold", right=True),
        Column("left", right=True),
        Column("lasts"),
    )
    title = f"{view.name} {view.day}".strip()
    title = title[:1].upper() + title[1:]
    return Table(title, columns, tuple(_row(line) for line in view.lines), "", "Nothing is promised.")


def _row(line: ItemLine) -> Row:
    tone = Tone.QUIET if line.sold_out else Tone.STRONG
    lasts = Tone.LATE if line.sold_out or line.runs_short else Tone.GOOD
    risk = max((wave.risk for wave in line.coming), default=Risk.IN_TIME)
    wave_tone = {Risk.IN_TIME: Tone.PLAIN, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}[risk]
    cells = (
        Cell(line.name, tone),
        Cell(_number(line.holding)),
        Cell(
            line.oldest + (" ▲" if line.held_too_long else ""),
            Tone.LATE if line.held_too_long else Tone.QUIET,
        ),
        Cell(_number(line.resting), Tone.QUIET),
        Cell(", ".join(_wave(wave) for wave in line.coming), wave_tone),
        Cell(str(line.sold)),
        Cell(str(line.left)),
        Cell(line.lasts, lasts),
    )
    below = [Cell(f"{w.ready} is a guess: {w.guess}", Tone.CARE) for w in line.coming if w.guess]
    below += [Cell(line.caution, Tone.CARE)] if line.caution else []
    below += [Cell(line.remedy, Tone.GOOD)] if line.remedy else []
    below += [Cell(f"next {line.next_step}", Tone.QUIET)] if line.next_step else []
    return Row(line.item, cells, tuple(below))


def _wave(wave: Wave) -> str:
    return f"{wave.portions} at {wave.ready}{_GLYPH[wave.risk]}"


def _number(portions: int) -> str:
    return str(portions) if portions else "–"


def orders_table(view: Service) -> Table:
    """The day's orders, each with what it is and whether its loads are ready."""
    columns = (
        Column(note="order-at"),
        Column(),
        Column(grow=True, note="order-says"),
        Column(note="order-state"),
    )
    return Table("Orders", columns, tuple(_order_row(order) for order in view.orders), "", "No order today.")


def _order_row(order: OrderLine) -> Row:
    tone = {Risk.IN_TIME: Tone.GOOD, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}[order.risk]
    state = Cell(order.state + _GLYPH[order.risk], Tone.QUIET if order.past else tone)
    said = Tone.QUIET if order.past else Tone.PLAIN
    return Row(
        order.key, (Cell(order.clock, Tone.QUIET), Cell(order.name, said), Cell(order.says, said), state)
    )
