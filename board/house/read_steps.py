"""Reading work and steps, which pits, cuts, items and recipes share."""

from collections.abc import Mapping

from board.house.model import StepRule, Work
from board.house.tables import Table


def read_work(table: Table, key: str, default: Work) -> Work:
    """Hands-on time: a table of `fixed` and `each` (a piece), or the fixed part alone as a text."""
    if not table.has(key):
        return default
    if not table.is_table(key):
        return Work(table.minutes(key))
    row = table.needed_table(key)
    found = Work(row.minutes("fixed", 0.0), row.minutes("each", 0.0))
    row.done()
    return found


def read_step(row: Table, recipes: Mapping[str, object], raw: bool) -> StepRule:
    """One step of a chain; `raw` meat waits chilled unless the step tempers it or the row says otherwise."""
    recipe = row.text("recipe") if row.has("recipe") else None
    if recipe is not None and recipe not in recipes:
        raise row.refuse("recipe", f"a recipe of: {', '.join(recipes) or 'recipes.toml, which has none'}")
    what = row.text("what")
    step = StepRule(
        what=what,
        work=read_work(row, "work", Work()),
        gap_minutes=row.minutes_pair("gap", (0.0, 0.0)),
        recipe=recipe,
        chilled=row.flag("chilled", raw and what != "temper"),
    )
    row.done()
    return step
