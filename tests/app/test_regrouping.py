"""Loads of tomorrow split and joined by keys: told before it is taken, planned so, taken back."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from board.house.model import House
from board.ledger import read, write
from board.ledger.open import Ledger, create_ledger
from board.planning.plan import Plan
from board.planning.planner import plan_day
from tests.app.pictures import settled
from tests.app.test_moving import SAID, SIZES, board, first, pressed
from tests.planning.by_hand import written
from tests.planning.checker import faults
from tests.planning.conftest import DAY


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> House:
    """The house written by hand."""
    return written(tmp_path_factory.mktemp("regrouping"))


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


@pytest.mark.parametrize("size", SIZES)
async def test_a_load_is_split_planned_and_joined_again(
    ledger: Ledger, house: House, plan: Plan, size: tuple[int, int]
) -> None:
    """x 1 Enter g has two loads, j Enter g one again; each says what it does before it is taken."""
    app = board(ledger, house)
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        shown = await pressed(app, pilot, "2", "x", "1")
        for word in (f"{load.pieces - 1} stay, 1 go", "steps", "in time", "all of lunch", "cost"):
            assert word in shown
        assert read.regroups(ledger, DAY) == []
        assert "g plans again around it" in " ".join((await pressed(app, pilot, "enter")).split())
        await pressed(app, pilot, "g")
        two = [ld for ld in app.session.drafts[DAY].loads if ld.cut == load.cut]
        assert sorted(ld.pieces for ld in two) == sorted([1, load.pieces - 1])
        assert faults(app.session.drafts[DAY], house) == []
        assert ", joined by 1 from " in await pressed(app, pilot, "j")
        await pressed(app, pilot, "enter", "g")
        one = [ld for ld in app.session.drafts[DAY].loads if ld.cut == load.cut]
        assert [ld.pieces for ld in one] == [load.pieces]


async def test_a_split_waits_is_told_and_is_taken_back(ledger: Ledger, house: House, plan: Plan) -> None:
    """Until it is planned the load says that a split waits; u takes it back, Esc never records one."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "x", "escape")
        assert read.regroups(ledger, DAY) == []
        shown = await pressed(app, pilot, "x", "enter")
        assert "◇" in shown
        assert "go in a load of their own: the next" in " ".join(shown.split())
        shown = await pressed(app, pilot, "u")
        assert "◇" not in shown
    assert read.regroups(ledger, DAY) == []


async def test_what_cannot_be_joined_says_why(ledger: Ledger, house: House) -> None:
    """j on a load that is alone of its cut says so in a line and opens nothing."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settled(app, pilot)
        shown = " ".join((await pressed(app, pilot, "2", "j")).split())
        assert "no other load of" in shown
        assert app.screen is app.view
