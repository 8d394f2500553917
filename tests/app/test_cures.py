"""What tomorrow's plan is short of, listed with its cures, and a cure tried by one key from the list."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from board.house.model import House
from board.ledger import read, write
from board.ledger.open import Ledger, create_ledger
from board.planning.plan_json import from_json, to_json
from board.planning.planner import plan_day
from tests.app.pictures import settled
from tests.app.test_moving import SAID, SIZES, board, pressed
from tests.planning.by_hand import written
from tests.planning.conftest import DAY

TOO_MANY = 60


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> House:
    """The house written by hand."""
    return written(tmp_path_factory.mktemp("cures"))


@pytest.fixture
def ledger(tmp_path: Path, house: House) -> Iterator[Ledger]:
    """A ledger in which lunch promises more birds than its pits can cook."""
    with create_ledger(tmp_path / "board.db", house.name, house.zone, tmp_path) as ledger:
        write.set_promise(ledger, DAY, "lunch", "bird", TOO_MANY, **SAID)
        yield ledger


@pytest.mark.parametrize("size", SIZES)
async def test_a_cure_is_tried_by_one_key_and_planned(
    ledger: Ledger, house: House, size: tuple[int, int]
) -> None:
    """r lists what is short; Enter records what a cure changes and plans: less is short; u takes it back."""
    app = board(ledger, house)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "g")
        shown = await pressed(app, pilot, "r")
        short = {one.item: one.portions for one in app.session.drafts[DAY].short}
        assert f"short {short['bird']}" in shown
        assert "+  move 7 chicken halves to supper" in shown
        said = " ".join((await pressed(app, pilot, "enter")).split())
        assert app.screen is app.view
        assert "c commits it" in said
        assert read.promises(ledger, DAY) != {("lunch", "bird"): TOO_MANY}
        after = {one.item: one.portions for one in app.session.drafts[DAY].short}
        assert sum(after.values()) < sum(short.values())
        await pressed(app, pilot, "u", "u")
    assert read.promises(ledger, DAY) == {("lunch", "bird"): TOO_MANY}


async def test_a_change_of_the_house_says_where_it_is_made(ledger: Ledger, house: House) -> None:
    """Enter on what only the house can change explains that, records nothing and keeps the list open."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "g")
        await pressed(app, pilot, "r", "home")
        while "·" not in app.screen.query_one("#cures").chosen.cells[0].text:
            await pressed(app, pilot, "down")
        shown = " ".join((await pressed(app, pilot, "enter")).split())
        assert "is a change of the house" in shown
        assert app.screen is not app.view
    assert read.promises(ledger, DAY) == {("lunch", "bird"): TOO_MANY}


async def test_nothing_short_says_so(ledger: Ledger, house: House) -> None:
    """Where all is covered r opens nothing and says that nothing is short."""
    write.undo(ledger, **SAID)
    app = board(ledger, house)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "g")
        assert "nothing is short in this plan" in await pressed(app, pilot, "r")


def test_offers_survive_being_stored_and_hold(house: House) -> None:
    """Read back from a stored plan each cure is as it was; tried, it covers as much as it says."""
    promises = {("lunch", "bird"): TOO_MANY}
    plan = plan_day(house, DAY, seconds=0, promises=promises)
    stored = from_json(to_json(plan))
    assert [short.offers for short in stored.short] == [short.offers for short in plan.short]
    assert [short.cure for short in stored.short] == [short.cure for short in plan.short]
    offers = [offer for short in plan.short for offer in short.offers if offer.promises]
    for offer in offers:
        changed = promises | {(service, item): n for service, item, n in offer.promises}
        again = plan_day(house, DAY, seconds=0, promises=changed, committed=plan)
        missing = sum(short.portions for short in plan.short) - sum(short.portions for short in again.short)
        assert missing >= offer.portions > 0
