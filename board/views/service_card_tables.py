"""An item's card as tables: its sentences, its loads one by one, and a small picture of the hours ahead."""

from board.views.progress import Risk
from board.views.service_card import ItemCard, Quarter
from board.views.service_tables import age_cell
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, block

_RISK_TONE = {Risk.IN_TIME: Tone.PLAIN, Risk.MAYBE_LATE: Tone.CARE, Risk.LATE: Tone.LATE}
_GLYPH = {Risk.IN_TIME: "", Risk.MAYBE_LATE: " ?", Risk.LATE: " ▲"}
_EMPTY = Table("", (), ())


def card_table(card: ItemCard | None) -> Table:
    """What an item's row means, in sentences."""
    if card is None:
        return _EMPTY
    rows = tuple(
        Row(str(n), (Cell(says[:1].upper() + says[1:], tone),)) for n, (says, tone) in enumerate(card.says)
    )
    title = card.name[:1].upper() + card.name[1:]
    return Table(title, (Column(grow=True, note="item-card"),), rows, "", "Nothing to say of it yet.")


def card_line(card: ItemCard | None) -> Table:
    """The same in one sentence, for a small screen."""
    if card is None or not card.says:
        return _EMPTY
    tone = next((tone for _, tone in card.says if tone is not Tone.PLAIN), Tone.PLAIN)
    says = f"{card.name} {'; '.join(says for says, _ in card.says)}"
    return Table(
        "", (Column(grow=True, note="item-card"),), (Row("says", (Cell(says[:1].upper() + says[1:], tone),)),)
    )


def loads_table(card: ItemCard | None) -> Table:
    """An item's loads, one a line."""
    if card is None:
        return _EMPTY
    columns = (
        Column(grow=True, note="pieces"),
        Column("left", right=True, note="load-left"),
        Column("where", drop=1),
        Column("how far"),
        Column("held", note="oldest"),
        Column("for", drop=2),
    )
    rows = tuple(
        Row(
            load.key,
            (
                Cell(load.meat),
                Cell(str(load.portions)),
                Cell(load.place, Tone.QUIET),
                Cell(f"{load.state}{_GLYPH[load.risk]}", _RISK_TONE[load.risk]),
                age_cell(load.age),
                Cell(load.serves, Tone.QUIET),
            ),
        )
        for load in card.loads
    )
    return Table("Its loads", columns, rows, "", "None of it is left.")


def ahead_table(card: ItemCard | None) -> Table:
    """Portions there over the hours ahead, a column a quarter of an hour, full at the most there will be."""
    if card is None or not card.ahead:
        return _EMPTY
    most = max(1, *(quarter.there for quarter in card.ahead))
    bars = "".join(block(quarter.there / most) if quarter.there else "·" for quarter in card.ahead)
    first, last = card.ahead[0], card.ahead[-1]
    says = f"{first.there} at {first.clock}, {last.there} at {last.clock} if sales go on so; · is none"
    rows = (
        Row("bars", (Cell(bars, Tone.HEAT),)),
        Row("hours", (Cell(_hours(card.ahead), Tone.QUIET),)),
        Row("says", (Cell(says, Tone.QUIET),)),
    )
    return Table("Portions ahead", (Column(grow=True, note="ahead"),), rows)


def _hours(ahead: tuple[Quarter, ...]) -> str:
    """The clock under the full hours, where there is room for it."""
    line = ""
    for at, quarter in enumerate(ahead):
        if quarter.on_the_hour and len(line) <= at and at + len(quarter.clock) <= len(ahead) + 4:
            line = line.ljust(at) + quarter.clock + " "
    return line.rstrip()
