"""Service by keys: sales one by one and in bulk, orders handed over, many steps marked, items sold out."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from textual.widgets import Input

from board.app.app import BoardApp
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.state import LoadStage
from board.planning.plan import Occasion
from tests.app.boards import board, night_ledger, second
from tests.app.house_fixture import DAY, at, plan
from tests.app.pictures import SIZES, screen_text, settled

SMALL = SIZES[0]
LUNCH = at("12:10")


def by(who: str, moment: datetime) -> dict[str, object]:
    """Who did it when, written down at once."""
    return {"who": who, "at": moment, "noted_at": moment}


def lunch(path: Path) -> Ledger:
    """The fixture's ledger at lunch: briskets off and rested, all else still on, and an order."""
    ledger = night_ledger(path)
    order = Occasion("c9", "Ada Birch", at("12:30"), at("12:30"), {"brisket-plate": 10, "ham-plate": 4}, True)
    loads = tuple(
        replace(ld, services=(*ld.services, "c9")) if ld.id == "sat-brisket" else ld for ld in plan().loads
    )
    with ledger.writing():
        changed = replace(plan(), occasions=(*plan().occasions, order), loads=loads)
        write.commit_plan(ledger, changed, "an order", **by("odile", at("06:00")))  # type: ignore[arg-type]
        write.mark_load(ledger, "sat-brisket", LoadStage.PULLED, **by("wren", at("07:00")))  # type: ignore[arg-type]
    return ledger


def sold(app: BoardApp) -> dict[tuple[str, str], int]:
    """What was sold so far, by service and item."""
    return {key: one.sold for key, one in read.sold(app.session.ledger, DAY).items()}


@pytest.mark.parametrize("size", SIZES)
async def test_a_sale_is_three_keys_and_one_portion_one(size: tuple[int, int], tmp_path: Path) -> None:
    """s, a digit and Enter record a sale of the chosen item; Space sells one."""
    app = board(lunch(tmp_path / "board.db"), now=LUNCH, who="odile")
    async with app.run_test(size=size) as pilot:
        await pilot.press("3", "s", "7", "enter", "space")
        await pilot.pause()
        assert sold(app) == {("lunch", "brisket-plate"): 8}


async def test_bulk_sales_are_typed_down_the_lines_and_recorded_at_the_end(tmp_path: Path) -> None:
    """b, a number and Enter for each item, Enter at the end; told in one sentence, undone by one u."""
    app = board(lunch(tmp_path / "board.db"), now=LUNCH, who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3", "b", "1", "2", "enter", "enter", "5", "enter", "enter")
        await pilot.pause()
        assert sold(app) == {}
        await pilot.press("enter")
        await pilot.pause()
        first, _, third, _ = app.view._view.lines  # type: ignore[attr-defined]
        assert sold(app) == {("lunch", first.item): 12, ("lunch", third.item): 5}
        assert app.told is not None
        assert app.told.text == f"12 {first.name} and 5 {third.name} sold (Odile); u takes it back"
        await pilot.press("u")
        await pilot.pause()
        assert sold(app) == {}
        assert app.told is not None
        assert app.told.text.endswith("and 1 more entered with it")


async def test_bulk_numbers_can_be_the_total_sold_so_far(tmp_path: Path) -> None:
    """After Tab a number is the total; what was sold before is taken off, and a smaller total is refused."""
    ledger = lunch(tmp_path / "board.db")
    write.sell(ledger, DAY, "lunch", "brisket-plate", 10, **by("odile", at("11:30")))  # type: ignore[arg-type]
    app = board(ledger, now=LUNCH, who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3", "b", "tab", "9", "enter")
        assert "10 brisket were sold already" in str(app.screen.query_one(".wrong").render())
        await pilot.press("backspace", "2", "4", "enter", "down", "down", "down", "enter")
        await pilot.pause()
        assert sold(app)["lunch", "brisket-plate"] == 24


async def test_leaving_bulk_sales_records_nothing(tmp_path: Path) -> None:
    """Esc leaves everything as it was, whatever is typed."""
    app = board(lunch(tmp_path / "board.db"), now=LUNCH, who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3", "b", "5", "enter", "6", "escape")
        await pilot.pause()
        assert sold(app) == {}


@pytest.mark.parametrize("size", SIZES)
async def test_an_order_is_handed_over_with_one_key_and_taken_back(
    size: tuple[int, int], tmp_path: Path
) -> None:
    """Enter on an order records all of it as gone to it; one u takes all of it back."""
    app = board(lunch(tmp_path / "board.db"), now=LUNCH, who="odile")
    async with app.run_test(size=size) as pilot:
        await pilot.press("3", "tab", "enter")
        await pilot.pause()
        assert sold(app) == {("c9", "brisket-plate"): 10, ("c9", "ham-plate"): 4}
        assert app.told is not None
        assert app.told.text.startswith("10 brisket and 4 ham handed over to Ada Birch")
        await pilot.press("u")
        await pilot.pause()
        assert sold(app) == {}


async def test_the_next_order_is_chosen_once_one_is_handed_over(tmp_path: Path) -> None:
    """Two orders go with two presses of Enter, though what is gone stands last."""
    ledger = lunch(tmp_path / "board.db")
    current = read.current_plan(ledger, DAY)
    assert current is not None
    more = replace(next(o for o in current.occasions if o.is_order), id="c8", promises={"half-bird": 2})
    with ledger.writing():
        changed = replace(current, occasions=(*current.occasions, more))
        write.commit_plan(ledger, changed, "another", **by("odile", at("06:01")))  # type: ignore[arg-type]
    app = board(ledger, now=LUNCH, who="odile")
    async with app.run_test(size=SIZES[1]) as pilot:
        await pilot.press("3", "tab", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert {order for order, _ in sold(app)} == {"c8", "c9"}


async def test_sold_out_is_taken_back_by_the_same_key(tmp_path: Path) -> None:
    """o marks the chosen item sold out, and once more says that there is more."""
    app = board(lunch(tmp_path / "board.db"), now=LUNCH, who="odile")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("3", "o")
        await pilot.pause()
        assert app.facts.sold_out == {(DAY, "lunch", "brisket-plate")}
        await pilot.press("o")
        await pilot.pause()
        assert app.facts.sold_out == frozenset()
        assert app.told is not None
        assert app.told.text == "brisket is on again"


@pytest.mark.parametrize("view", ["1", "3"])
async def test_many_steps_are_marked_at_once_and_undone_at_once(view: str, tmp_path: Path) -> None:
    """m, a ticks all of the chosen kind, Enter marks them in one transaction; one u takes all of it back."""
    app = board(night_ledger(tmp_path / "board.db"), who="tomas")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press(view, "m", "home", "space", "space", "enter")
        await pilot.pause()
        done = [
            e for e in read.entries(app.session.ledger, kinds=["step", "load", "light"]) if e.who == "tomas"
        ]
        assert len(done) == 2
        assert app.told is not None
        assert app.told.text.startswith("2 marked: ")
        assert app.told.text.endswith("; u takes it back")
        await pilot.press("u")
        await pilot.pause()
        assert all(
            e.undone for e in read.entries(app.session.ledger) if e.who == "tomas" and e.kind != "undo"
        )


async def test_many_steps_take_a_time_before(tmp_path: Path) -> None:
    """A time typed in the list is when all of them happened; a tick is no letter of it."""
    app = board(night_ledger(tmp_path / "board.db"), who="tomas")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("1", "m", "space", "1", "0", "enter")
        await pilot.pause()
        mine = [e for e in read.entries(app.session.ledger) if e.who == "tomas"]
        assert [e.at for e in mine] == [at("05:32")]
        assert app.told is not None
        assert "at 05:32" in app.told.text


async def test_a_time_that_is_none_is_told_and_marks_nothing(tmp_path: Path) -> None:
    """What is not a time stays on the line with a word, and nothing is marked."""
    app = board(night_ledger(tmp_path / "board.db"), who="tomas")
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("1", "m", "x", "x", "enter")
        assert app.screen.query_one(Input).value == "xx"
        assert "is not how long ago" in str(app.screen.query_one(".wrong").render())
        await pilot.press("escape")
        assert not [e for e in read.entries(second(tmp_path / "board.db")) if e.who == "tomas"]


@pytest.mark.parametrize("size", SIZES)
async def test_every_list_keeps_a_place_at_every_size(size: tuple[int, int], tmp_path: Path) -> None:
    """Items with their ages, the chosen one's sentence and at least one order are in sight at each size."""
    app = board(lunch(tmp_path / "board.db"), now=LUNCH, who="odile")
    async with app.run_test(size=size) as pilot:
        await pilot.press("3")
        await pilot.pause()
        seen = screen_text(app)
        assert "4 h 10, past 4 h △" in seen
        assert "Brisket" in seen
        assert "Ada Birch" in seen


async def test_no_line_of_the_items_is_left_empty_on_the_smallest_screen(tmp_path: Path) -> None:
    """Of an item whose whole tale has no room, its first line still stands."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(60, 20)) as pilot:
            await pilot.press("3")
            await settled(app, pilot)
            lines = screen_text(app).splitlines()
    more = next(n for n, line in enumerate(lines) if line.lstrip().startswith("… "))
    assert lines[more - 1].strip()
