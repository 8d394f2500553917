"""Alarms on the screen: a line in every view, rung once, answered by two keys, alike on two boards."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.dialogs.alarms import AlarmsDialog
from board.app.screens.load import LoadScreen
from board.app.settings import Settings
from board.ledger import read, write
from board.ledger.open import Ledger
from board.views.happened import sentence
from tests.app.boards import NOW, board, later, night_ledger, second
from tests.app.house_fixture import at
from tests.app.pictures import screen_text, settled
from tests.app.test_pictures import compare

SIZE = (80, 24)
HAMS = "4 hams, Little, may be late for 11:00"


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The night's ledger."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


async def press(app: BoardApp, pilot: Pilot[None], *keys: str) -> str:
    """The screen once it has settled after these keys."""
    await pilot.press(*keys)
    await settled(app, pilot)
    return screen_text(app)


def rung(app: BoardApp) -> list[None]:
    """Each time the board rings from here on."""
    bells: list[None] = []
    app.bell = lambda: bells.append(None)  # type: ignore[method-assign]
    return bells


@pytest.mark.parametrize("size", [SIZE, (120, 36), (200, 60)], ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("view", "12345")
async def test_every_view_tells_the_worst_alarm_in_a_line(
    view: str, size: tuple[int, int], ledger: Ledger
) -> None:
    """Near the top of each view stands what is wrong, and the key that answers."""
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        top = "\n".join((await press(app, pilot, view)).splitlines()[1:4])
    assert f"△ {HAMS}" in top
    assert "a answers" in top


async def test_a_lists_them_and_enter_leads_to_the_load(ledger: Ledger) -> None:
    """a lists each with what to do; Enter leads to its load's page, Esc back to the view one came from."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        listed = await press(app, pilot, "3", "a")
        assert "raise Little to 121°" in " ".join(listed.split())
        await press(app, pilot, "enter")
        assert isinstance(app.screen, LoadScreen)
        assert "Service" in (await press(app, pilot, "escape")).splitlines()[0]


async def test_an_answer_with_one_key_quiets_it_on_both_boards(ledger: Ledger, tmp_path: Path) -> None:
    """a r 1 answers with the first usual reason; another board is quiet too, and undo brings it back."""
    other = second(tmp_path / "board.db")
    one, two = board(ledger, who="ines"), board(other)
    async with one.run_test(size=SIZE) as first, two.run_test(size=SIZE) as beside:
        await settled(two, beside)
        shown = await press(one, first, "a", "r", "1")
        assert "answered" in shown
        assert HAMS not in shown.splitlines()[1]
        two.keep_up()
        await settled(two, beside)
        assert two.alarming.line() == []
        assert "answered by Ines" in await press(two, beside, "a")
        await press(one, first, "u")
        assert HAMS in one.alarming.line()[0].text
    other.close()


async def test_words_of_ones_own_stand_in_the_record(ledger: Ledger) -> None:
    """What is typed instead of a usual reason is the reason, told in Record with the alarm."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "a", "r", *"[b]wood", "enter")
        assert "“[b]wood”" in " ".join((await press(app, pilot, "5")).split())
    entry = read.entries(ledger, kinds=["answered"])[-1]
    assert sentence(app.facts, entry).startswith(f"answered: {HAMS}")


async def test_put_off_comes_back_when_its_time_is_over_and_rings(ledger: Ledger) -> None:
    """p 1 keeps it quiet for a quarter of an hour; then it stands there again, and rings once."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        bells = rung(app)
        assert "put off until 05:57" in await press(app, pilot, "a", "p", "1")
        assert app.alarming.line() == []
        app.session.clock = StoppedClock(later(16))
        app.renew()
        await settled(app, pilot)
        assert HAMS in app.alarming.line()[0].text
        app.renew()
        await settled(app, pilot)
    assert len(bells) == 1


async def test_what_stood_at_the_start_is_silent_and_what_is_new_rings_once(ledger: Ledger) -> None:
    """A board that starts does not ring for what is known; a pit that strays after that rings once."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        bells = rung(app)
        await settled(app, pilot)
        app.renew()
        await settled(app, pilot)
        assert bells == []
        said = {"who": "ines", "at": NOW, "noted_at": NOW}
        write.take_reading(ledger, 80.0, place="north", **said)  # type: ignore[arg-type]
        for minutes in (16, 17, 18):
            app.session.clock = StoppedClock(later(minutes))
            app.renew()
            await settled(app, pilot)
        assert any("North read 80°" in one.says for one in app.alarming.loud)
    assert len(bells) == 1


async def test_no_bell_where_it_is_set_off(ledger: Ledger) -> None:
    """The same pit makes no sound on a board whose bell is off."""
    app = board(ledger, settings=Settings(bell=False))
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        bells = rung(app)
        write.take_reading(ledger, 80.0, place="north", who="ines", at=NOW, noted_at=NOW)
        app.session.clock = StoppedClock(later(16))
        app.renew()
        await settled(app, pilot)
        assert [one for one in app.alarming.loud if "North read 80°" in one.says]
    assert bells == []


async def test_food_outside_its_rule_is_answered_by_what_was_done(ledger: Ledger) -> None:
    """Enter on a walk-in that is too warm asks what was done; the answer is an action of the record."""
    write.take_reading(ledger, 9.0, place="walk-in", who="ines", at=at("05:36"), noted_at=at("05:36"))
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "a", "enter", "2")
        assert not [one for one in app.alarming.found if one.about]
    (action,) = read.entries(ledger, kinds=["action"])
    assert action.data["text"] == "chilled at once, then read again"


async def test_many_of_a_kind_are_answered_at_once(ledger: Ledger) -> None:
    """Four loads that are late are one line; one answer does for all of them, and one undo takes it back."""
    app = board(ledger, now=NOW + timedelta(hours=9))
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        folded = [one for one in app.alarming.loud if one.key.startswith("late/")]
        assert len(folded) > 3
        await press(app, pilot, "a", "r", "2")
        assert not [one for one in app.alarming.loud if one.kind is folded[0].kind]
        await press(app, pilot, "u")
        assert len([one for one in app.alarming.loud if one.key.startswith("late/")]) == len(folded)
        await press(app, pilot, "a")
        assert isinstance(app.screen, AlarmsDialog)


async def test_the_list_looks_as_kept(ledger: Ledger) -> None:
    """The alarms over the smallest usual screen, one of them put off."""
    write.take_reading(ledger, 9.0, place="walk-in", who="ines", at=at("05:36"), noted_at=at("05:36"))
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        compare("dialog-alarms-80x24.txt", await press(app, pilot, "a", "down", "p", "2", "a"), SIZE)


async def test_news_that_comes_while_the_list_is_only_being_made_is_shown(ledger: Ledger) -> None:
    """A slow machine still makes the list when another board's entry comes: it shows what stands by then."""
    app = board(ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        app.alarming.open()
        assert isinstance(app.screen, AlarmsDialog)
        assert not app.screen.is_mounted
        app.alarming.keep_up()
        await settled(app, pilot)
        assert HAMS in screen_text(app).split("Enter see to it")[0]
