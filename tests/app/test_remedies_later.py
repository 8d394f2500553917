"""The list of what would help, after the facts it was worked out from have changed."""

from pathlib import Path

from board.ledger import read, write
from board.ledger.state import LoadStage
from tests.app.boards import NOW, board, night_ledger
from tests.app.pictures import screen_text, settled
from tests.app.test_remedies import SMALL, open_list


async def test_a_remedy_that_no_longer_fits_is_not_recorded(tmp_path: Path) -> None:
    """The hams come off at another board while the list is open: their pit is not raised for them."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab")
            write.mark_load(ledger, "sat-ham", LoadStage.PULLED, who="ines", at=NOW, noted_at=NOW)
            await pilot.press("enter")
            await settled(app, pilot)
            assert read.pit_states(ledger)["little"].setpoint_c == 107.0
            assert "no longer fits" in screen_text(app)


async def test_what_was_asked_of_a_load_in_time_is_asked_anew_later(tmp_path: Path) -> None:
    """Advice on a load in no trouble is forgotten once a fire has changed, and worked out again."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=SMALL) as pilot:
            await open_list(app, pilot, "tab", "down")
            assert "sat-brisket" in app.advising.known
            await pilot.press("escape")
            write.set_pit(ledger, "north", 110.0, who="ines", at=NOW, noted_at=NOW)
            app.renew()
            await settled(app, pilot)
            assert "sat-brisket" not in app.advising.known
