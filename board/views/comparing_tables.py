"""A draft beside the committed plan as tables: side by side where that has room, else was and now."""

from board.views.comparing import Comparison, Figure, Pair, Side, summary
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone

_NONE = Side("", "—", "", "", "")
_NOTHING = "The draft changes nothing of the committed plan."


def pairs_table(view: Comparison, *, wide: bool) -> Table:
    """Each load that differs, as committed and as in the draft, and what moved by how much."""
    columns = _WIDE if wide else _NARROW
    rows = tuple(_wide_row(pair) if wide else _narrow_row(pair) for pair in view.pairs)
    return Table("Changed", columns, rows, "" if wide else summary(view), _NOTHING)


_WIDE = (
    Column(grow=True, note="pieces"),
    Column("committed"),
    Column("load"),
    Column("draft"),
    Column("load"),
    Column("ready", drop=1),
    Column("sure", right=True),
    Column("moved", grow=True),
)
_NARROW = (
    Column(grow=True, note="pieces"),
    Column("committed"),
    Column("draft"),
    Column("sure", right=True, drop=1),
)


def _wide_row(pair: Pair) -> Row:
    before, after = pair.before or _NONE, pair.after or _NONE
    cells = (
        Cell(_meat(pair), Tone.STRONG),
        Cell(before.spot, Tone.QUIET),
        Cell(before.load, Tone.QUIET),
        Cell(after.spot, Tone.QUIET if before.spot == after.spot else Tone.STRONG),
        Cell(after.load, Tone.QUIET if before.load == after.load else Tone.STRONG),
        Cell(_both(before.ready, after.ready), Tone.QUIET),
        Cell(_both(before.sure, after.sure), Tone.QUIET if before.sure == after.sure else Tone.PLAIN),
        Cell(pair.moved, Tone.CARE),
    )
    return Row(pair.key, cells)


def _narrow_row(pair: Pair) -> Row:
    before, after = pair.before or _NONE, pair.after or _NONE
    cells = (
        Cell(_meat(pair), Tone.STRONG),
        Cell(f"{before.spot} {before.load}".strip(), Tone.QUIET),
        Cell(f"{after.spot} {after.load}".strip()),
        Cell(_both(before.sure, after.sure), Tone.QUIET),
    )
    says = pair.says or ((pair.moved,) if pair.moved else ())
    return Row(pair.key, cells, tuple(Cell(one, Tone.CARE) for one in says))


def _both(before: str, after: str) -> str:
    """One text where both plans say the same or one says nothing, else `99→83 %`."""
    if before == after or not before or not after:
        return after or before
    return f"{before.removesuffix(' %')}→{after}"


def _meat(pair: Pair) -> str:
    """What it is; both numbers where these differ."""
    if pair.before is None or pair.after is None or pair.before.meat == pair.after.meat:
        return (pair.after or pair.before or _NONE).meat
    return f"{pair.before.meat.split()[0]}→{pair.after.meat}"


def figures_table(view: Comparison) -> Table:
    """The whole day in both plans: chances, what is short, what it costs."""
    columns = (
        Column(grow=True),
        Column("committed", right=True, note="worth"),
        Column("draft", right=True, note="worth"),
    )
    return Table("The whole day", columns, tuple(_figure_row(figure) for figure in view.figures))


def _figure_row(figure: Figure) -> Row:
    tone = Tone.LATE if figure.worse else Tone.QUIET if figure.same else Tone.STRONG
    glyph = " ▼" if figure.worse else ""
    cells = (Cell(figure.what), Cell(figure.before, Tone.QUIET), Cell(f"{figure.after}{glyph}", tone))
    return Row("", cells)


def also_table(view: Comparison, *, wide: bool) -> Table:
    """What changes in sentences: all of it, or where the loads have theirs under them, the rest."""
    says = view.says if wide else view.also
    title = "" if not says else "In words" if wide else "Also"
    return Table(title, (Column(grow=True, note="change"),), tuple(Row("", (Cell(one),)) for one in says))
