"""Going on from list to list, a long word above the keys, and the line of digits for a finger."""

from pathlib import Path

from board.app.settings import Settings
from board.app.theme import LIGHT
from board.app.widgets.edges import Said
from board.app.widgets.hint import Keypad
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


async def test_the_digits_for_a_finger_stand_on_one_ground(tmp_path: Path) -> None:
    """In the light theme no cell of the line of digits is left without the ground of the dialog."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger, settings=Settings(theme=LIGHT))
        async with app.run_test(size=(80, 24)) as pilot:
            await pressed(app, pilot, ["t"])
            line = app.screen.query_one(Keypad).render_line(0)
            assert all(piece.style and piece.style.bgcolor for piece in line)
