"""From the end of one list to the next by the same key, and a long word above the keys that keeps its end."""

from pathlib import Path

from board.app.widgets.edges import Said
from board.app.widgets.panel import Panel
from board.views.text import Cell, width_of
from tests.app.boards import board, night_ledger
from tests.app.pictures import pressed, settled


async def test_down_goes_on_to_the_next_list_and_up_comes_back(tmp_path: Path) -> None:
    """Past the last thing to do stand the loads, the first chosen; up from there is the last thing to do."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            doing, pits = (app.screen.query_one(f"#{id}", Panel) for id in ("next", "pits"))
            assert doing.has_focus
            await pressed(app, pilot, ["end"])
            assert (doing.has_focus, doing.cursor) == (True, len(doing.table.rows) - 1)
            await pressed(app, pilot, ["down"])
            assert (pits.has_focus, pits.cursor) == (True, 0)
            await pressed(app, pilot, ["up"])
            assert (doing.has_focus, doing.cursor) == (True, len(doing.table.rows) - 1)


def test_what_is_too_long_to_say_keeps_how_it_is_taken_back() -> None:
    """The middle of a long sentence is cut, never its last clause."""
    said = Said(id="said")
    said.show(
        Cell(
            "3 marked: "
            + "; ".join(["6 chicken halves brined with lot 1219-chicken"] * 3)
            + "; u takes it back"
        )
    )
    first, second = said.lines(80)
    assert second.endswith("…; u takes it back")
    assert max(width_of(first), width_of(second)) <= 78
