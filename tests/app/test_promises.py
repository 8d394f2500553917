"""Promises changed in their own line by keys: numbers, times, orders taken and struck; all undone."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from board.house.calendar import local
from board.house.files import read_house
from board.house.model import House
from board.house.seeds import seed_house
from board.ledger import read, write
from board.ledger.open import Ledger, create_ledger
from board.planning.plan import Plan
from board.planning.planner import plan_day
from board.views.promises import orderable
from tests.app.pictures import settled
from tests.app.test_moving import SAID, SIZES, board, pressed
from tests.planning.by_hand import written
from tests.planning.checker import faults
from tests.planning.conftest import DAY


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> House:
    """The house written by hand."""
    return written(tmp_path_factory.mktemp("promises"))


@pytest.fixture(scope="module")
def plan(house: House) -> Plan:
    """Its first plan of an ordinary Wednesday."""
    return plan_day(house, DAY, seconds=0)


@pytest.fixture
def ledger(tmp_path: Path, house: House, plan: Plan) -> Iterator[Ledger]:
    """A ledger with that plan committed."""
    with create_ledger(tmp_path / "board.db", house.name, house.zone, tmp_path) as ledger:
        write.commit_plan(ledger, plan, "as promised", **SAID)
        yield ledger


def words(shown: str) -> str:
    """The screen in one line."""
    return " ".join(shown.split())


@pytest.mark.parametrize("size", SIZES)
async def test_a_number_is_typed_in_its_line(ledger: Ledger, house: House, size: tuple[int, int]) -> None:
    """Enter opens it, digits show in the line, Enter records it and tells the meat; the next plan has it."""
    app = board(ledger, house)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        assert "Enter view load" in await pressed(app, pilot, "2")
        assert "Enter change " in await pressed(app, pilot, "p")
        assert "123_" in await pressed(app, pilot, "enter", "1", "2", "3")
        assert read.promises(ledger, DAY) == {}
        shown = words(await pressed(app, pilot, "enter"))
        assert "is now promised 123" in shown
        assert "g plans again with it" in shown
        ((service, item),) = read.promises(ledger, DAY)
        await pressed(app, pilot, "g")
        draft = app.session.drafts[DAY]
        assert next(o for o in draft.occasions if o.id == service).promises[item] == 123
        await pressed(app, pilot, "u")
    assert read.promises(ledger, DAY) == {}


async def test_arrows_go_on_typing_in_the_next_line(ledger: Ledger, house: House) -> None:
    """↓ takes what was typed and opens the next line; Esc leaves that one as it was; letters type nothing."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "p", "enter", "4", "g", "1", "down", "7")
        assert list(read.promises(ledger, DAY).values()) == [41]
        await pressed(app, pilot, "escape")
        assert DAY not in app.session.drafts
    assert list(read.promises(ledger, DAY).values()) == [41]


@pytest.mark.parametrize("size", SIZES)
async def test_a_service_is_put_at_another_time(ledger: Ledger, house: House, size: tuple[int, int]) -> None:
    """Tab opens the time; 25:00 is refused with what is allowed, the field staying; a true one is planned."""
    app = board(ledger, house)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        shown = words(await pressed(app, pilot, "2", "p", "tab", *"2500", "enter"))
        assert "no time of day: type a time such as 11:30" in shown
        shown = words(await pressed(app, pilot, *["backspace"] * 4, *"1215", "enter"))
        assert "due at 12:15" in shown
        await pressed(app, pilot, "g")
        (changed,) = read.occasions(ledger, DAY)
        occasion = next(o for o in app.session.drafts[DAY].occasions if o.id == changed.service)
        assert f"{local(occasion.at, house):%H:%M}" == "12:15"


async def test_an_order_is_taken_planned_and_struck(ledger: Ledger, house: House) -> None:
    """+ asks who, what, how many and when; the order is planned; Del strikes it, u brings it back."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "p", "plus", *"Ann", "left_square_bracket", "b", "enter")
        await pressed(app, pilot, "enter", *"12", "enter", *"2000", "enter")
        (order,) = read.occasions(ledger, DAY)
        assert order.name == "Ann[b"
        shown = await pressed(app, pilot, "g")
        assert "Ann[b, order" in shown
        draft = app.session.drafts[DAY]
        assert [o.name for o in draft.occasions if o.is_order] == ["Ann[b"]
        assert faults(draft, app.facts.house) == []
        await pressed(app, pilot, "end", "up", "delete")
        assert [one.struck for one in read.occasions(ledger, DAY)] == [True]
        assert "Ann[b, order" not in await pressed(app, pilot)
        await pressed(app, pilot, "u")
    assert [one.struck for one in read.occasions(ledger, DAY)] == [False]


async def test_a_service_is_not_struck(ledger: Ledger, house: House) -> None:
    """Del on a service says what takes an item off it, and writes nothing."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settled(app, pilot)
        shown = words(await pressed(app, pilot, "2", "p", "delete"))
        assert "0 takes an item off" in shown
    assert read.occasions(ledger, DAY) == []


async def test_keys_reach_the_list_again_after_a_load_was_tried(ledger: Ledger, house: House) -> None:
    """With the promises open, a try that was left gives them the keys back: a 0 is typed, not obeyed."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "p", "m", "escape")
        shown = await pressed(app, pilot, "enter", "0")
        assert " 0_" in shown
        assert app.view.NAME == "tomorrow"


async def test_what_was_promised_since_is_told_where_a_plan_is_short_of_nothing(
    ledger: Ledger, house: House
) -> None:
    """The line above the keys and r both say that the plan does not have it yet."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "p", "enter", *"999", "enter")
        app.told = None
        app.view.tell()
        assert "promises changed since this was planned: g plans with them" in words(
            await pressed(app, pilot)
        )
        assert "promised since this was planned" in words(await pressed(app, pilot, "r"))


def test_what_the_house_sells_whole_is_offered_once() -> None:
    """An item of the house that is a whole piece is not offered a second time by its cut."""
    offered = [name for _, name, _ in orderable(read_house(seed_house("tallow_row")))]
    assert "whole turkey" in offered
    assert "whole brisket" in offered
    assert len(set(offered)) == len(offered)
