"""The shopping and pulling lists as text, as comma-separated values and as a document for other programs."""

import csv
from io import StringIO
from typing import Any

from board.house.calendar import zone
from board.sheets.cells import cell
from board.sheets.page import block, heading, page
from board.views import lists_tables as tables
from board.views.facts import Facts
from board.views.lists import Lists
from board.views.text import inert

COLUMNS = ("list", "what", "pieces", "mass_kg", "at", "step", "from", "for")


def lists_text(facts: Facts, view: Lists, width: int) -> str:
    """Both lists for a printer."""
    return page(
        heading(inert(facts.house.name), tables.title(view), width),
        block(tables.shopping_table(facts, view), width),
        block(tables.pulling_table(facts, view), width),
    )


def lists_document(facts: Facts, view: Lists) -> dict[str, Any]:
    """Both lists as other programs may read them; times with the house's offset."""
    local = zone(facts.house)
    return {
        "house": facts.house.id,
        "from": view.first.isoformat(),
        "to": view.last.isoformat(),
        "ingredients": [
            {"name": one.name, "grams": round(one.grams, 1), "for": list(one.recipes)}
            for one in view.ingredients
        ],
        "meat": [
            {
                "cut": one.cut,
                "pieces": one.pieces,
                "mass_kg": round(one.mass_kg, 3),
                "for": [day.isoformat() for day in one.days],
            }
            for one in view.meat
        ],
        "fuel": [{"fuel": one.fuel, "mass_kg": round(one.mass_kg, 1)} for one in view.fuel],
        "pulling": [
            {
                "at": one.at.astimezone(local).isoformat(timespec="minutes"),
                "step": one.what,
                "from": one.place,
                "cut": one.cut,
                "pieces": one.pieces,
                "mass_kg": round(one.mass_kg, 3),
                "load": one.load.partition("/")[2],
                "day": one.load.partition("/")[0],
            }
            for one in view.pulls
        ],
        "not_told": list(view.unknown),
    }


def lists_csv(facts: Facts, view: Lists) -> str:
    """Both lists as rows of a spreadsheet; a text that a spreadsheet would reckon with is marked as text."""
    told = lists_document(facts, view)
    out = StringIO()
    rows = csv.DictWriter(out, COLUMNS, lineterminator="\r\n", restval="")
    rows.writeheader()
    for one in told["meat"]:
        rows.writerow(_row("meat", one["cut"], one["mass_kg"], pieces=one["pieces"], of=one["for"]))
    for one in told["ingredients"]:
        rows.writerow(_row("ingredient", one["name"], round(one["grams"] / 1_000, 4), of=one["for"]))
    for one in told["fuel"]:
        rows.writerow(_row("fuel", one["fuel"], one["mass_kg"]))
    for one in told["pulling"]:
        more = {"at": one["at"], "step": one["step"], "from": one["from"], "pieces": one["pieces"]}
        rows.writerow(_row("pull", one["cut"], one["mass_kg"], of=[one["day"]], **more))
    return out.getvalue()


def _row(kind: str, what: str, mass_kg: float, *, of: list[str] | None = None, **more: Any) -> dict[str, Any]:
    said = {"list": kind, "what": what, "mass_kg": mass_kg, "for": "; ".join(of or ()), **more}
    return {name: cell(value) for name, value in said.items()}
