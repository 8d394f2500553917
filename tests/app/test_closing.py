"""Closing a service by keys: what is left is cooled, thrown away with its weight, or held on."""

from datetime import datetime
from pathlib import Path

import pytest

from board.app.app import BoardApp
from board.app.dialogs.pick import Pick
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.state import LoadStage, WatchKind
from tests.app.boards import board, night_ledger
from tests.app.house_fixture import DAY, at
from tests.app.pictures import SIZES, screen_text

SMALL, OVER = SIZES[0], at("14:10")


def closing(path: Path) -> Ledger:
    """The fixture's ledger after lunch: shoulders and hams are off, ten portions of pork were sold."""
    ledger = night_ledger(path)

    def by(moment: datetime) -> dict[str, object]:
        return {"who": "odile", "at": moment, "noted_at": moment}

    with ledger.writing():
        write.mark_load(ledger, "sat-shoulder", LoadStage.PULLED, **by(at("06:00")))  # type: ignore[arg-type]
        write.mark_load(ledger, "sat-ham", LoadStage.PULLED, **by(at("10:20")))  # type: ignore[arg-type]
        write.sell(ledger, DAY, "lunch", "pork-plate", 10, **by(at("12:00")))  # type: ignore[arg-type]
    return ledger


def stage(app: BoardApp, load: str) -> LoadStage:
    """Where a load stands."""
    return next(one.stage for one in read.load_states(app.session.ledger, DAY) if one.id == load)


@pytest.mark.parametrize("size", SIZES)
async def test_what_is_left_is_thrown_away_with_its_weight(size: tuple[int, int], tmp_path: Path) -> None:
    """x lists what nothing waits for; thrown away asks its weight; the next is asked then."""
    app = board(closing(tmp_path / "board.db"), now=OVER, who="odile")
    async with app.run_test(size=size) as pilot:
        await pilot.press("3", "x")
        await pilot.pause()
        assert "60 pork" in screen_text(app)
        assert "24 ham" in screen_text(app)
        await pilot.press("enter", "down", "enter", *"9.5", "enter")
        await pilot.pause()
        (entry,) = [e for e in read.entries(app.session.ledger, kinds=["load"]) if "thrown_kg" in e.data]
        assert (entry.subject, entry.data["thrown_kg"]) == ("sat-shoulder", 9.5)
        assert stage(app, "sat-shoulder") is LoadStage.SERVED, "ten of it were sold"
        assert isinstance(app.screen, Pick)
        assert "60 pork" not in screen_text(app)


async def test_enter_on_what_is_left_of_several_lists_them(tmp_path: Path) -> None:
    """They are one thing due in Opening; whose turn it is says of which first."""
    app = board(closing(tmp_path / "board.db"), now=OVER, who="odile")
    async with app.run_test(size=SIZES[-1]) as pilot:
        app.view.panel("next").choose("check:left:")
        await pilot.pause()
        assert "left of what is over: 2 loads" in " ".join(screen_text(app).split())
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, Pick)
        assert "60 pork" in screen_text(app)
        assert "24 ham" in screen_text(app)


async def test_what_was_never_sold_is_lost(tmp_path: Path) -> None:
    """A whole load thrown away is lost, and the record says how much."""
    app = board(closing(tmp_path / "board.db"), now=OVER, who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3", "x", "down", "enter", "down", "enter", *"3", "enter", "escape")
        await pilot.pause()
        assert stage(app, "sat-ham") is LoadStage.LOST
        assert app.told is not None
        assert "3 kg thrown away" in app.told.text


async def test_what_is_left_is_cooled_or_held(tmp_path: Path) -> None:
    """Cooling begins its watch and the load is off the list; holding on marks it held."""
    app = board(closing(tmp_path / "board.db"), now=OVER, who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3", "x", "enter", "enter")
        await pilot.pause()
        assert [w.kind for w in read.watches(app.session.ledger)] == [WatchKind.COOLING]
        assert "60 pork" not in screen_text(app)
        await pilot.press("enter", "down", "down", "enter")
        await pilot.pause()
        assert stage(app, "sat-ham") is LoadStage.HOLDING


async def test_between_services_the_screen_says_what_is_left_and_by_which_key(tmp_path: Path) -> None:
    """After the last service the line above the keys names what is left; while one runs it does not."""
    app = board(closing(tmp_path / "board.db"), now=at("21:30"), who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3")
        await pilot.pause()
        assert "left of what is over: 60 pork" in screen_text(app)
        assert "x asks what becomes of each" in " ".join(screen_text(app).split())
    app = board(closing(tmp_path / "running.db"), now=at("13:00"), who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3")
        await pilot.pause()
        assert "left of what is over" not in screen_text(app)


async def test_nothing_is_left_while_service_runs(tmp_path: Path) -> None:
    """While lunch runs nothing is over, and x says so and asks nothing."""
    app = board(closing(tmp_path / "board.db"), now=at("13:00"), who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3", "x")
        await pilot.pause()
        assert not isinstance(app.screen, Pick)
        assert app.told is not None
        assert app.told.text.startswith("nothing is left of what is over")


async def test_what_was_served_is_said_from_the_list_of_what_is_left(tmp_path: Path) -> None:
    """Enter on a line above the items asks what became of it; served, nothing of it is asked again."""
    app = board(closing(tmp_path / "board.db"), now=at("20:20"), who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3")
        await pilot.pause()
        assert "60 pork  13 h 20, past 4 h △  not read" in screen_text(app)
        await pilot.press("shift+tab", "enter")
        await pilot.pause()
        assert "60 pork, not read; read it" in screen_text(app)
        await pilot.press(*"served", "enter", "escape")
        await pilot.pause()
        assert stage(app, "sat-shoulder") is LoadStage.SERVED
        assert "60 pork" not in screen_text(app).partition("Dinner")[0]
        assert "24 ham" in screen_text(app)
