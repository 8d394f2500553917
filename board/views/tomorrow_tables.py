"""The Tomorrow view's lists as tables: loads, the chosen load's chain and account, shortfalls, promises."""

from board.views.progress import Risk
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone
from board.views.tomorrow import Account, Lack, Link, LoadLine, Tomorrow

_RISK_TONE = {Risk.IN_TIME: Tone.GOOD, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}


def loads_table(view: Tomorrow) -> Table:
    """Every load of the day in a line."""
    columns = (
        Column(grow=True, note="pieces"),
        Column(),
        Column(),
        Column("at", right=True, drop=4),
        Column("load"),
        Column("ready", drop=1),
        Column("needed", drop=2),
        Column("spare"),
        Column("sure", right=True, drop=3),
    )
    return Table(
        "Loads",
        columns,
        tuple(_load_row(line) for line in view.loads),
        "",
        "No load is planned.",
    )


def _load_row(line: LoadLine) -> Row:
    glyph = {Risk.IN_TIME: "", Risk.MAYBE_LATE: " ?", Risk.LATE: " ▲"}[line.risk]
    cells = (
        Cell(line.meat, Tone.STRONG),
        Cell(line.pinned, Tone.CARE),
        Cell(line.pit, Tone.QUIET),
        Cell(line.setpoint, Tone.QUIET),
        Cell(line.load),
        Cell(line.ready),
        Cell(line.needed, Tone.QUIET),
        Cell(line.spare + glyph, _RISK_TONE[line.risk]),
        Cell(line.chance, Tone.QUIET),
    )
    return Row(line.key, cells)


def chain_table(account: Account) -> Table:
    """The chosen load's steps, from the first to the plate."""
    columns = (
        Column(),
        Column(right=True, alike=True, note="chain-time"),
        Column(grow=True, note="chain-says"),
        Column(right=True, drop=1, note="step-minutes"),
        Column(drop=2),
    )
    return Table(account.title, columns, tuple(_link_row(link) for link in account.chain), account.aside)


def _link_row(link: Link) -> Row:
    cells = (
        Cell(link.what, Tone.HEAD),
        Cell(link.clock, Tone.STRONG, short=link.clock_short),
        Cell(link.says),
        Cell(link.minutes, Tone.QUIET),
        Cell(link.who, Tone.QUIET),
    )
    return Row("", cells)


def why_table(account: Account) -> Table:
    """The account of the chosen load: a line for each part of the sum, what must be minded before them."""
    first = [Cell(account.pinned, Tone.CARE)] if account.pinned else []
    cells = [*first, *(Cell(line) for line in account.why)]
    if account.cooked is not None:
        cells.insert(len(cells) if account.cooked.tone is Tone.QUIET else len(first), account.cooked)
    rows = tuple(Row("", (cell,)) for cell in cells)
    return Table(account.why_title, (Column(grow=True, note="account"),), rows)


def lacks_table(view: Tomorrow) -> Table:
    """What will be short, why and what would cure it, what to see to, and which services are unsure."""
    rows = tuple(_lack_row(lack) for lack in view.lacks)
    rows += tuple(Row("", (Cell(says, Tone.CARE),)) for says in (*view.cautions, *view.unsure))
    title = "Short" if view.lacks else "See to" if view.cautions else "Less sure than wanted" if rows else ""
    nothing = " ".join(filter(None, ("Nothing is short.", view.safe)))
    return Table(title, (Column(grow=True, note="short"),), rows, "", nothing)


def worth_table(view: Tomorrow) -> Table:
    """How sure each service is, and what the plan costs."""
    rows = [Row("", (Cell(says),)) for says in view.chances]
    rows += [Row("", (Cell(says, Tone.QUIET),)) for says in view.costs]
    return Table(
        "How sure, and what it costs" if rows else "", (Column(grow=True, note="worth"),), tuple(rows)
    )


def _lack_row(lack: Lack) -> Row:
    cures = tuple(Cell(f"cure: {cure}", Tone.GOOD) for cure in lack.cures)
    return Row("", (Cell(lack.says, Tone.LATE),), (Cell(lack.why, Tone.QUIET), *cures))
