"""Finding things by a few letters, these days' at once and the whole record's a moment later."""

from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.dialogs.guide import Guide
from board.app.screens.load import LoadScreen
from board.app.screens.record import RecordScreen
from board.ledger import search, write
from board.ledger.answering import Rung
from board.ledger.open import Ledger
from board.views.search import far, near
from tests.app.boards import NOW, board, night_ledger
from tests.app.pictures import screen_text, settled
from tests.views.facts_fixture import facts

LONG_AGO = NOW - timedelta(days=700)


def note(ledger: Ledger, text: str, *, days: int = 700) -> int:
    """A note of long ago; its number."""
    at = NOW - timedelta(days=days)
    return write.note(ledger, text, who="wren", at=at, noted_at=at).seq


async def looked(app: BoardApp, pilot: Pilot[None]) -> None:
    """Wait until nothing more is looked for."""
    await pilot.pause()
    while isinstance(app.screen, Guide) and app.screen.busy:
        await pilot.pause(0.02)
    await pilot.pause()


async def test_a_word_of_years_ago_is_found_and_gone_to(tmp_path: Path) -> None:
    """What somebody wrote two years ago is found by the beginning of a word; Enter goes to its day."""
    with night_ledger(tmp_path / "board.db") as ledger:
        note(ledger, "The chimney cap rattled all night")
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("slash", *"chimn")
            await looked(app, pilot)
            assert "chimney cap rattled" in screen_text(app)
            await pilot.press("enter")
            await settled(app, pilot)
            assert isinstance(app.screen, RecordScreen)
            assert "chimney cap rattled" in screen_text(app)


async def test_a_load_that_was_found_opens_its_page(tmp_path: Path) -> None:
    """A load of these days is a few letters and Enter away from its page."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("slash", *"rib")
            await looked(app, pilot)
            await pilot.press("enter")
            await settled(app, pilot)
            assert isinstance(app.screen, LoadScreen)
            assert "35 rib racks" in screen_text(app)


async def test_typing_goes_on_while_it_looks(tmp_path: Path) -> None:
    """No letter is lost while the record is looked through."""
    with night_ledger(tmp_path / "board.db") as ledger:
        for n in range(300):
            note(ledger, f"ash bin {n} emptied", days=n + 40)
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            await pilot.press("slash", *"ash bin 17 emptied")
            await looked(app, pilot)
            assert "“ash bin 17 emptied”" in screen_text(app)
            assert "“ash bin 18 emptied”" not in screen_text(app)


def test_words_are_found_by_their_beginnings_without_marks_or_case(tmp_path: Path) -> None:
    """`sauer` finds Säuerlich and not Versäuert; the newest comes first."""
    with night_ledger(tmp_path / "board.db") as ledger:
        first = note(ledger, "Säuerlich, said the guest")
        second = note(ledger, "sauerkraut came late", days=300)
        note(ledger, "versäuert")
        assert [entry.seq for entry in search.entries_with(ledger, "Sauer", limit=10)] == [second, first]
        assert [entry.seq for entry in search.entries_with(ledger, "sauer", limit=1)] == [second]


def test_the_reason_an_alarm_was_answered_with_is_found(tmp_path: Path) -> None:
    """Somebody typed it, as they typed a note."""
    with night_ledger(tmp_path / "board.db") as ledger:
        said = {"who": "wren", "at": NOW, "noted_at": NOW}
        entry = write.answer_alarm(ledger, Rung("late/x", 1, "hams: late"), "Gasket torn, mended", **said)
        assert [one.seq for one in search.entries_with(ledger, "gasket", limit=9)] == [entry.seq]


@pytest.mark.parametrize("typed", ["%", "_", "\x1b[31m", "'; DROP TABLE entries; --", "[bold]", "text", "\\"])
def test_what_is_typed_is_only_looked_for(typed: str, tmp_path: Path) -> None:
    """Signs mean nothing but themselves, and names of the record's own parts are no words people wrote."""
    with night_ledger(tmp_path / "board.db") as ledger:
        assert far(ledger, facts(), typed) == []


def test_nothing_typed_shows_these_days(tmp_path: Path) -> None:
    """Before a letter is typed, loads, batches and people stand there already."""
    with night_ledger(tmp_path / "board.db") as ledger:
        kinds = {one.kind for one in near(ledger, facts(), "")}
        assert {"load", "batch", "person", "service"} <= kinds


def test_a_load_is_told_by_where_how_far_and_for_when_it_is_planned(tmp_path: Path) -> None:
    """No load is on at a time that is only planned."""
    with night_ledger(tmp_path / "board.db") as ledger:
        found = {one.name: one.about for one in near(ledger, facts(), "brisket") if one.kind == "load"}
    assert found
    assert all("planned for" in about and "on at" not in about for about in found.values())


@pytest.mark.parametrize("typed", ["the chimney " * 2000, "the " + "m" * 90_000, "the cap % _ ' \\ \x00"])
def test_a_page_pasted_into_the_search_is_looked_for_too(tmp_path: Path, typed: str) -> None:
    """More words, and longer ones, than SQLite takes (https://www.sqlite.org/limits.html) end in no fault."""
    with night_ledger(tmp_path / "board.db") as ledger:
        seq = note(ledger, "The chimney cap rattled all night")
        found = [entry.seq for entry in search.entries_with(ledger, typed, limit=9)]
        assert found == ([seq] if "m" * 90 not in typed else [])
