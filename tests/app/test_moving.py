"""Tomorrow's plan changed by hand: a load tried elsewhere, pinned, planned around, compared, committed."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.planner import plan as planned
from board.app.session import Better, Session, Wanted
from board.house.calendar import zone
from board.house.model import House
from board.ledger import read, write
from board.ledger.facts import PinFacts
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.state import LoadStage
from board.planning.plan import Plan
from board.planning.planner import plan_day
from board.views.facts import Facts
from board.views.progress import Revised
from tests.app.pictures import screen_text, settled
from tests.planning.by_hand import written
from tests.planning.conftest import DAY

SIZES = ((80, 24), (120, 36))
NOW = datetime(2026, 6, 9, 14, 0, tzinfo=UTC)  # 09:00 the morning before
SAID = {"who": "abe", "at": NOW, "noted_at": NOW}


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> House:
    """The house written by hand."""
    return written(tmp_path_factory.mktemp("moving"))


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


def board(ledger: Ledger, house: House) -> BoardApp:
    """The board the morning before, with the true planner and no time to search."""

    def quick(wanted: Wanted, better: Better) -> Plan:
        return planned(wanted, better, seconds=0)

    def nothing_revised(_: Facts) -> Revised:
        return {}

    return BoardApp(Session(ledger, house, StoppedClock(NOW), quick, nothing_revised, "abe"))


async def pressed(app: BoardApp, pilot: Pilot[None], *keys: str) -> str:
    """The screen after some keys, once what they began in the background is there."""
    await pilot.press(*keys)
    await settled(app, pilot)
    while app.planning.word(DAY) or "Laying the plan open" in screen_text(app):
        await pilot.pause(0.02)
    await settled(app, pilot)
    return screen_text(app)


def first(plan: Plan) -> str:
    """The load loaded first, which the cursor is on."""
    return min(plan.loads, key=lambda load: (load.load_at, load.id)).id


@pytest.mark.parametrize("size", SIZES)
async def test_a_load_is_tried_elsewhere_and_pinned(
    ledger: Ledger, house: House, plan: Plan, size: tuple[int, int]
) -> None:
    """m lays the plan open; ← tries five minutes earlier with its chance and cost; Enter pins it there."""
    app = board(ledger, house)
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        shown = await pressed(app, pilot, "2", "m")
        for word in ("where to?", "spare", "in time", "all of lunch", "cost", "Breaks no rule."):
            assert word in shown
        still = screen_text(app)
        shown = await pressed(app, pilot, "left", "left")
        earlier = load.load_at - timedelta(minutes=10)
        assert f"→ {earlier.astimezone(zone(house)):%H:%M}" in shown
        shown = " ".join((await pressed(app, pilot, "enter")).split())
        assert "pinned to" in shown
        assert "; g plans again around it" in shown
        assert still != shown
    (pin,) = read.pins(ledger, DAY)
    assert (pin.load, pin.pit, pin.load_at) == (load.id, load.pit, earlier)


async def test_keys_pressed_before_the_plan_is_laid_open_are_not_lost(
    ledger: Ledger, house: House, plan: Plan
) -> None:
    """A quick hand need not wait: what it pressed is done as soon as the plan is open."""
    app, may_open = board(ledger, house), Event()
    opened = app.session.opener

    def slow(*asked: Any) -> Any:
        may_open.wait(10)
        return opened(*asked)

    app.session.opener = slow
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    async with app.run_test(size=SIZES[0]) as pilot:
        await settled(app, pilot)
        await pilot.press("2", "m", "left", "left", "enter")
        assert not read.pins(ledger, DAY)
        may_open.set()
        assert "pinned to" in await pressed(app, pilot)
    assert [pin.load_at for pin in read.pins(ledger, DAY)] == [load.load_at - timedelta(minutes=10)]


@pytest.mark.parametrize("size", SIZES)
async def test_planned_around_a_pin_compared_and_committed(
    ledger: Ledger, house: House, plan: Plan, size: tuple[int, int]
) -> None:
    """With a pin, g plans around it, d lists what changes, c commits; u lets a pin go again."""
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    there = load.load_at - timedelta(minutes=10)
    write.pin_load(ledger, PinFacts(DAY, load.id, load.pit, None, load.setpoint_c, there), **SAID)
    app = board(ledger, house)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "g")
        draft = app.session.drafts[DAY]
        assert next(ld for ld in draft.loads if ld.id == load.id).load_at == there
        shown = await pressed(app, pilot, "d")
        assert "Changed" in shown
        assert "go on" in shown
        await pressed(app, pilot, "d", "c", *"a pin", "enter")
        await pressed(app, pilot, "k")
        assert read.pins(ledger, DAY) == []
        await pressed(app, pilot, "u")
    committed = read.current_plan(ledger, DAY)
    assert committed is not None
    assert next(ld for ld in committed.loads if ld.id == load.id).load_at == there
    assert [pin.load for pin in read.pins(ledger, DAY)] == [load.id]


@pytest.mark.parametrize("size", SIZES)
async def test_the_bar_moves_as_it_is_tried_and_comes_back(
    ledger: Ledger, house: House, plan: Plan, size: tuple[int, int]
) -> None:
    """The timeline stays in sight and draws the load where it is tried; Esc draws it back."""
    app = board(ledger, house)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        before = bars(await pressed(app, pilot, "2"))
        assert bars(await pressed(app, pilot, "m"))[: len(before)] == before[: size[1] - 12]
        moved = bars(await pressed(app, pilot, "less_than_sign", "less_than_sign"))
        assert moved != before[: len(moved)]
        assert bars(await pressed(app, pilot, "escape")) == before
    assert read.pins(ledger, DAY) == []


async def test_a_load_tried_on_another_pit_is_drawn_there(ledger: Ledger, house: House, plan: Plan) -> None:
    """↓ puts the bar on the next pit's lines, and a draft that moved a load draws it on its new pit."""
    app = board(ledger, house)
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "m", "down")
        there = {
            row.name for row in app.view.drawn(app.view._view).pits for bar in row.bars if load.id in bar.key
        }
        assert there == {pit.name for pit in house.pits.values() if pit.id != load.pit}


def bars(shown: str) -> list[str]:
    """The lines of the timeline that draw loads."""
    return [line for line in shown.splitlines() if "░" in line]


async def test_a_pin_that_breaks_a_rule_is_not_recorded(ledger: Ledger, house: House, plan: Plan) -> None:
    """Hours too late, the dialog names the rule it breaks, and Enter records nothing."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        shown = await pressed(app, pilot, "2", "m", *["greater_than_sign"] * 9)
        assert "▲" in shown
        assert "It cannot be pinned there" in await pressed(app, pilot, "enter")
        await pressed(app, pilot, "escape")
    assert read.pins(ledger, DAY) == []


async def test_planned_again_with_nothing_changed_nothing_differs(
    ledger: Ledger, house: House, plan: Plan
) -> None:
    """g on a committed day keeps it as it is, and d says so."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "g")
        shown = await pressed(app, pilot, "d")
        assert "The draft changes nothing of the committed plan." in shown
    was = [(ld.id, ld.pit, ld.load_at) for ld in plan.loads]
    assert [(ld.id, ld.pit, ld.load_at) for ld in app.session.drafts[DAY].loads] == was


async def test_a_load_that_has_begun_is_neither_moved_nor_pinned(
    ledger: Ledger, house: House, plan: Plan
) -> None:
    """m and k on meat that is on say why not, and write nothing."""
    write.mark_load(ledger, first(plan), LoadStage.PREPPED, **SAID)
    app = board(ledger, house)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settled(app, pilot)
        assert "only one that has not begun is moved" in await pressed(app, pilot, "2", "m")
        await pressed(app, pilot, "k")
    assert read.pins(ledger, DAY) == []


@pytest.mark.parametrize("size", SIZES)
async def test_the_whole_walk_by_keys(
    ledger: Ledger, house: House, plan: Plan, size: tuple[int, int]
) -> None:
    """Moved, pinned, planned, compared, committed: the ledger holds what was shown; u lets the pin go."""
    app = board(ledger, house)
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    earlier = load.load_at - timedelta(minutes=10)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        shown = await pressed(app, pilot, "2", "m", "left", "left", "enter")
        assert "pinned to" in shown
        assert "◇" in shown
        shown = await pressed(app, pilot, "g")
        assert "◆" in shown
        assert "draft, not committed" in shown
        draft = app.session.drafts[DAY]
        assert "go on" in await pressed(app, pilot, "d")
        shown = await pressed(app, pilot, "d", "c", "enter")
        assert "committed: as planned" in shown
        assert "u takes it back" not in shown  # the next plan takes its place, no undo does
        assert "◆" in shown
        committed = read.current_plan(ledger, DAY)
        assert committed is not None
        assert [(ld.id, ld.pit, ld.load_at) for ld in committed.loads] == [
            (ld.id, ld.pit, ld.load_at) for ld in draft.loads
        ]
        assert next(ld for ld in committed.loads if ld.id == load.id).load_at == earlier
        assert DAY not in app.session.drafts
        shown = " ".join((await pressed(app, pilot, "u")).split())
        assert "a committed plan, which is not taken back" in shown
        assert "◆" in shown
        shown = await pressed(app, pilot, "u")
        assert "taken back: " in shown
        assert "◆" not in shown
    assert read.pins(ledger, DAY) == []
    assert read.version_in_force(ledger, DAY) == 2


async def test_some_pieces_are_pinned_by_keys(ledger: Ledger, house: House, plan: Plan) -> None:
    """- takes a piece off, Enter pins the others there; one more than it has is refused with what to do."""
    app = board(ledger, house)
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "m", "plus", "enter")
        assert "More pieces are cooked when more is promised" in screen_text(app)
        shown = await pressed(app, pilot, "minus", "minus")
        assert "; the other 1 " in shown
        await pressed(app, pilot, "enter", "g")
        held = next(ld for ld in app.session.drafts[DAY].loads if ld.id == load.id)
        assert held.pieces == load.pieces - 1
    assert [pin.pieces for pin in read.pins(ledger, DAY)] == [load.pieces - 1]


async def test_of_two_boards_that_commit_one_is_told(
    ledger: Ledger, house: House, plan: Plan, tmp_path: Path
) -> None:
    """Both plan the same day: the second learns who committed and when, keeps its draft, and may insist."""
    with open_ledger(tmp_path / "board.db") as other:
        one, two = board(ledger, house), board(other, house)
        two.session.who = "bea"
        async with one.run_test(size=SIZES[1]) as first, two.run_test(size=SIZES[1]) as second:
            await pressed(one, first, "2", "g")
            await pressed(two, second, "2", "g")
            await pressed(one, first, "c", "enter")
            shown = " ".join((await pressed(two, second, "c", "enter")).split())
            assert "committed another plan for Wednesday 10 June at 09:00: d compares yours with it" in shown
            assert DAY in two.session.drafts
            assert read.version_in_force(ledger, DAY) == 2
            await pressed(two, second, "c", *" anyway", "enter")
            assert DAY not in two.session.drafts
    assert [version.who for version in read.plan_versions(ledger, DAY)] == ["abe", "abe", "bea"]


@pytest.mark.parametrize("size", SIZES)
async def test_a_pin_whose_load_is_gone_is_told_and_let_go(
    ledger: Ledger, house: House, plan: Plan, size: tuple[int, int]
) -> None:
    """A pin of a load that the plan does not have is told above the keys; k asks which, and lets it go."""
    there = plan.loads[0]
    gone = PinFacts(DAY, "0610-gone-7", there.pit, None, there.setpoint_c, there.load_at)
    write.pin_load(ledger, gone, **SAID)
    app = board(ledger, house)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        shown = " ".join((await pressed(app, pilot, "2")).split())
        assert "the pin of 0610-gone-7" in shown
        await pressed(app, pilot, "k", "enter")
        assert read.pins(ledger, DAY) == []
        await pressed(app, pilot, "u")
        await pressed(app, pilot, "k", "down", "enter")
    assert {pin.load for pin in read.pins(ledger, DAY)} == {"0610-gone-7", first(plan)}


async def test_the_commit_dialog_tells_what_changes_and_what_it_costs(
    ledger: Ledger, house: House, plan: Plan
) -> None:
    """Before the reason is asked, two lines say what the draft changes and what it costs or gains."""
    load = next(ld for ld in plan.loads if ld.id == first(plan))
    there = load.load_at - timedelta(minutes=30)
    write.pin_load(ledger, PinFacts(DAY, load.id, load.pit, None, load.setpoint_c, there), **SAID)
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "g")
        shown = " ".join((await pressed(app, pilot, "c")).split())
        assert "Changes: " in shown
        assert "It costs 9.00 more" in shown
        assert "→" in shown
        await pressed(app, pilot, "escape")
    assert read.version_in_force(ledger, DAY) == 1


async def test_a_draft_without_a_split_that_waits_is_not_committed(
    ledger: Ledger, house: House, plan: Plan
) -> None:
    """A load split after the day was planned: c says so and commits nothing; planned with it, it commits."""
    app = board(ledger, house)
    async with app.run_test(size=SIZES[1]) as pilot:
        await settled(app, pilot)
        await pressed(app, pilot, "2", "g")
        write.split_load(ledger, DAY, first(plan), 1, "0610-brisket-9", **SAID)
        shown = " ".join((await pressed(app, pilot, "c", "enter")).split())
        assert "a load was split or joined since this was planned" in shown
        assert read.version_in_force(ledger, DAY) == 1
        await pressed(app, pilot, "g")
        await pressed(app, pilot, "c", "enter")
    assert read.version_in_force(ledger, DAY) == 2
    committed = read.current_plan(ledger, DAY)
    assert committed is not None
    assert "0610-brisket-9" in {load.id for load in committed.loads}
