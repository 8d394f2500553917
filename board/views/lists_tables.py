"""The shopping and pulling lists as tables."""

from board.house.units import format_mass
from board.house.wording import short_day
from board.views import names
from board.views.days import when
from board.views.facts import Facts
from board.views.happened import on_a_scale
from board.views.lists import Lists
from board.views.table import Column, Row, Table
from board.views.text import Cell, Tone, inert


def title(view: Lists) -> str:
    """The span in words: `Sat 19 Dec to Mon 21 Dec`."""
    days = [short_day(view.first)] + ([short_day(view.last)] if view.last != view.first else [])
    return " to ".join(days)


def shopping_table(facts: Facts, view: Lists) -> Table:
    """What to have in the house: meat, what goes into the batches, and fuel."""
    return Table(
        "To have",
        (Column(), Column(right=True), Column(grow=True, drop=1)),
        tuple(Row(f"have/{n}", cells) for n, cells in enumerate(_shopping(facts, view))),
        title(view),
        "Nothing is needed: no batch is made, no meat begun and no fire lit then.",
    )


def _shopping(facts: Facts, view: Lists) -> list[tuple[Cell, ...]]:
    display = facts.house.display
    meat = [
        (
            names.of_cut(facts.house, one.cut, one.pieces),
            format_mass(one.mass_kg, display),
            names.listed([short_day(day) for day in one.days]),
        )
        for one in view.meat
    ]
    dry = [(inert(one.name), _amount(one.grams), names.listed(list(one.recipes))) for one in view.ingredients]
    fuel = [(inert(one.fuel), f"about {format_mass(one.mass_kg, display)}", "fires") for one in view.fuel]
    rows: list[tuple[Cell, ...]] = [
        (Cell(name, Tone.STRONG), Cell(amount), Cell(f"for {what}", Tone.QUIET))
        for name, amount, what in (*meat, *dry, *fuel)
    ]
    return rows + [(Cell(inert(why), Tone.CARE), Cell(""), Cell("")) for why in view.unknown]


def _amount(grams: float) -> str:
    """A mass to buy: to a gram under a kilogram, to ten grams above; never nought."""
    return on_a_scale(
        round(grams, -1) if grams >= 1_000 else round(grams) if grams >= 10 else max(grams, 0.1)
    )


def pulling_table(facts: Facts, view: Lists) -> Table:
    """What to take out of the freezer and the walk-in, by time."""
    columns = (Column(), Column(), Column(right=True, drop=1), Column(grow=True))
    rows = tuple(
        Row(
            f"pull/{n}",
            (
                Cell(when(facts, one.at), Tone.STRONG),
                Cell(names.of_cut(facts.house, one.cut, one.pieces)),
                Cell(format_mass(one.mass_kg, facts.house.display), Tone.QUIET),
                Cell(f"out of the {one.place} to {inert(one.what)}"),
            ),
        )
        for n, one in enumerate(view.pulls)
    )
    return Table("To pull out", columns, rows, "", "Nothing is pulled out then.")
