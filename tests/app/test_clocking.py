"""A clock set under an open board: one alarm, one key to say which is right, and what was wrong put right."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from time import tzset
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.ledger import read, write
from board.ledger.doubtful import doubtful
from board.ledger.open import Ledger
from board.ledger.state import RightClock, WatchKind
from board.ledger.watching import Watched
from board.views.alarm import Alarm, AlarmKind
from tests.app.boards import NOW, board, night_ledger, second
from tests.app.house_fixture import ZONE
from tests.app.laptop import Laptop
from tests.app.pictures import screen_text, settled
from tests.app.test_alarms import rung

SIZE = (120, 36)
HOUR = timedelta(hours=1)
NIGHTS = {
    "the clock goes forward": (date(2027, 3, 14), "01:58", ["01:58", "01:59", "03:00", "03:01"]),
    "the clock goes back": (date(2027, 11, 7), "01:58", ["01:58", "01:59", "01:00", "01:01"]),
    "New Year": (date(2026, 12, 31), "23:58", ["23:58", "23:59", "00:00", "00:01"]),
    "a leap day": (date(2028, 2, 28), "23:58", ["23:58", "23:59", "00:00", "00:01"]),
}


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The night's ledger."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


def on(laptop: Laptop, ledger: Ledger) -> BoardApp:
    """The board on a laptop, which counts for its ledger."""
    app = board(ledger, now=laptop.clock)
    app.session.clock = laptop.board()
    ledger.uptime = laptop.uptime  # type: ignore[method-assign]
    return app


async def looked(app: BoardApp, pilot: Pilot[None]) -> str:
    """The screen once the board has looked at its clock and its ledger."""
    app.keep_up()
    await settled(app, pilot)
    return screen_text(app)


def of_the_clock(app: BoardApp) -> list[Alarm]:
    """The alarms about the clock, answered or not."""
    return [one for one in app.alarming.found if one.kind is AlarmKind.CLOCK]


def note(ledger: Ledger, moment: datetime, text: str = "looked at") -> None:
    """A note by another hand."""
    write.note(ledger, text, who="ines", at=moment, noted_at=moment)


@pytest.mark.parametrize("by", [2 * HOUR, -2 * HOUR], ids=["on", "back"])
async def test_a_clock_set_under_the_board_rings_once_and_moves_nothing(
    by: timedelta, ledger: Ledger
) -> None:
    """The board goes on at 05:43 with no other alarm than before, and one about the clock; b is the board."""
    laptop = Laptop(clock=NOW)
    app = on(laptop, ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        before = {one.key for one in app.alarming.found}
        bells = rung(app)
        laptop.passes(timedelta(minutes=1))
        laptop.clock += by
        for _ in range(3):
            text = await looked(app, pilot)
        assert "Sat 19 Dec  05:43" in text
        (alarm,) = of_the_clock(app)
        assert {one.key for one in app.alarming.found} == before | {alarm.key}
        assert f"was set, to {'07:43' if by > timedelta(0) else '03:43'}; the board goes on at 05:43" in text
        assert len(bells) == 1
        laptop.clock -= by
        assert "was set, to" not in await looked(app, pilot)
        assert len(bells) == 1


async def test_one_key_says_that_the_board_is_right(ledger: Ledger) -> None:
    """The answer is in the record, the alarm is quiet, and the board keeps its time."""
    laptop = Laptop(clock=NOW)
    app = on(laptop, ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        laptop.clock -= 2 * HOUR
        await looked(app, pilot)
        await pilot.press("a", "enter")
        assert "Which time is right?" in screen_text(app)
        await pilot.press("1")
        text = await looked(app, pilot)
        assert "the board keeps its time; set this machine's clock right, it is 2 h behind" in text
        assert [one for one in of_the_clock(app) if one in app.alarming.loud] == []
        laptop.passes(timedelta(minutes=1))
        assert "05:43" in await looked(app, pilot)
    (said, answered) = read.entries(ledger, since_seq=0)[-2:]
    assert said.data["right"] == RightClock.BOARD
    assert (said.noted_at, answered.kind) == (NOW, "answered")


async def test_one_key_says_that_the_machine_is_right_and_what_was_written_is_put_right(
    ledger: Ledger,
) -> None:
    """The board goes over to 06:42; the note that it wrote an hour behind moves on with it."""
    laptop = Laptop(clock=NOW)
    app = on(laptop, ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        note(ledger, app.session.clock.now())
        laptop.clock += HOUR
        await looked(app, pilot)
        await pilot.press("a", "enter", "2")
        text = await looked(app, pilot)
        assert "1 entry at 05:42, written by a clock 1 h behind." in text
        assert "Its time goes 1 h on" in text
        await pilot.press("enter")
        text = await looked(app, pilot)
        assert "1 time put 1 h on (Tomas); u takes it back" in text
        assert of_the_clock(app) == []
        assert app.facts.now == NOW + HOUR
    written = next(e for e in reversed(read.entries(ledger)) if e.data.get("text") == "looked at")
    assert written.at == NOW
    right = read.entries(ledger, since_seq=0)[-1]
    assert (right.kind, datetime.fromisoformat(right.data["at"])) == ("correction", NOW + HOUR)
    assert right.data["why"] == "its clock was 1 h behind"
    assert not doubtful(ledger, [written])


async def test_a_word_on_one_board_goes_for_the_other_and_is_taken_back_for_both(
    tmp_path: Path, ledger: Ledger
) -> None:
    """The other board goes over to this machine's clock too; after u both are back, with the alarm."""
    laptop = Laptop(clock=NOW)
    with second(tmp_path / "board.db") as theirs:
        one, other = on(laptop, ledger), on(laptop, theirs)
        async with one.run_test(size=SIZE) as pilot, other.run_test(size=SIZE) as beside:
            note(ledger, NOW)
            laptop.passes(timedelta(minutes=5))
            note(ledger, NOW + timedelta(minutes=5))
            laptop.clock += HOUR
            await looked(one, pilot)
            await looked(other, beside)
            await pilot.press("a", "enter", "2", "escape")
            await looked(one, pilot)
            await looked(other, beside)
            assert (other.facts.now, of_the_clock(other)) == (NOW + timedelta(minutes=65), [])
            await pilot.press("u")
            for app, hand in ((one, pilot), (other, beside)):
                await looked(app, hand)
                assert app.facts.now == NOW + timedelta(minutes=5)
                assert ["was set, to 06:47" in one.says for one in of_the_clock(app)] == [True]


async def test_a_laptop_asleep_for_six_hours_wakes_to_the_right_time(ledger: Ledger) -> None:
    """The time is right at once, what fell due is told, and nobody doubts the clock."""
    laptop = Laptop(clock=NOW)
    app = on(laptop, ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        laptop.passes(6 * HOUR, asleep=True)
        text = await looked(app, pilot)
        assert "Sat 19 Dec  11:42" in text
        assert of_the_clock(app) == []
        assert [one for one in app.alarming.loud if one.kind is AlarmKind.LATE]


async def test_a_clock_behind_the_last_entry_is_told_and_may_be_said_to_be_right(ledger: Ledger) -> None:
    """After another start the board cannot know better; a refusal says that the clock looks wrong."""
    ledger.uptime = Laptop("boot-0").uptime  # type: ignore[method-assign]
    note(ledger, NOW)
    laptop = Laptop(clock=NOW - 3 * HOUR)
    app = on(laptop, ledger)
    async with app.run_test(size=SIZE) as pilot:
        text = await looked(app, pilot)
        assert "this machine's clock shows 02:42, before the last entry at 05:42" in text
        app.record(lambda: app.write(lambda: _pulled(app)))
        assert "this machine's clock looks wrong, a tells" in (await looked(app, pilot)).replace("\n", " ")
        await pilot.press("a", "enter", "1")
        await looked(app, pilot)
        assert of_the_clock(app) == []
    assert read.entries(ledger, since_seq=0)[-1].data["right"] == RightClock.MACHINE


def _pulled(app: BoardApp) -> None:
    """Mark the hams pulled by what the board takes for now: before they went on."""
    now = app.session.clock.now()
    write.mark_load(app.session.ledger, "sat-ham", "pulled", who="tomas", at=now, noted_at=now)


async def test_doubtful_times_have_a_sign_in_record_and_on_the_loads_page(ledger: Ledger) -> None:
    """Beside the time a sign, beside the line why; c puts all of that clock right as one."""
    laptop = Laptop(clock=NOW)
    app = on(laptop, ledger)
    note(ledger, NOW, "right before")
    wrong = NOW - HOUR
    write.take_reading(ledger, 92.0, load="sat-brisket", who="ines", at=wrong, noted_at=wrong)
    laptop.passes(3 * HOUR)
    note(ledger, laptop.clock, "right after")
    laptop.passes(3 * HOUR)
    async with app.run_test(size=SIZE) as pilot:
        note(ledger, laptop.clock, "right later")
        await looked(app, pilot)
        await pilot.press("5")
        text = await looked(app, pilot)
        (line,) = [line for line in text.splitlines() if "04:42 ≈" in line]
        assert "by a clock 1 h behind" in line
        app.open_load("2026-12-19/sat-brisket")
        await settled(app, pilot)
        assert "1 of its times was written by a clock 1 h behind" in " ".join(screen_text(app).split())
        await pilot.press("tab", "tab")
        assert "≈ by a clock 1 h behind" in screen_text(app)
        await pilot.press("escape")
        seq = next(e.seq for e in read.entries(ledger, kinds=["reading"]) if e.noted_at == wrong)
        app.view.panel("lines").choose(str(seq))
        await pilot.press("c", "enter", "enter")
        text = await looked(app, pilot)
        assert "1 time put 1 h on" in text
        assert "≈" not in text
    assert read.readings(ledger, load="sat-brisket")[-1].at == NOW


@pytest.mark.parametrize("starts_again", [False, True])
async def test_a_cooling_over_a_clock_set_back_is_judged_by_what_passed_or_not_shown(
    starts_again: bool, ledger: Ledger
) -> None:
    """The Record says why, and what settles it after a new start; put right by c, it has failed."""
    laptop = Laptop(clock=NOW)
    ledger.uptime = laptop.uptime  # type: ignore[method-assign]
    tub = write.start_watch(ledger, Watched(WatchKind.COOLING, "beans"), **_by_wren(laptop.clock)).subject
    write.take_reading(ledger, 57.0, place=tub, **_by_wren(laptop.clock))
    laptop.passes(timedelta(minutes=150))
    if starts_again:
        laptop.boot, laptop.up_ms = "boot-2", 0
    wrong = laptop.clock - HOUR
    seq = write.take_reading(ledger, 20.0, place=tub, **_by_wren(wrong)).seq
    for hours in (1, 3):
        laptop.passes(hours * HOUR)
        note(ledger, laptop.clock)
    app = on(laptop, ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        await pilot.press("5", *"kkkk")
        text = " ".join((await looked(app, pilot)).split())
        assert "1 of its 2 readings was written by a clock 1 h behind" in text
        if starts_again:
            assert "beans, cooling: not shown." in text
            assert f"to settle it: its times put right (board clock --put-right {seq})" in text
        else:
            assert "beans, cooling: fail. It took 2 h 25 min to 21 °C; 2 h is allowed." in text
            assert "the time that passed is by the machine's own count" in text
        await pilot.press("enter")
        assert "≈" in await looked(app, pilot)
        await pilot.press("escape", *"kkkkk")
        await looked(app, pilot)
        app.view.panel("lines").choose(str(seq))
        await pilot.press("c", "enter", "enter")
        assert "1 time put 1 h on" in await looked(app, pilot)
        await pilot.press(*"kkkk")
        text = " ".join((await looked(app, pilot)).split())
        assert "beans, cooling: fail. It took 2 h 25 min to 21 °C; 2 h is allowed." in text
        assert "clock" not in text


def _by_wren(moment: datetime) -> dict[str, Any]:
    """Who and when."""
    return {"who": "wren", "at": moment, "noted_at": moment}


@pytest.fixture
def in_tokyo(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The machine's own zone is changed to one far from the house's."""
    with monkeypatch.context() as moved:
        moved.setenv("TZ", "Asia/Tokyo")
        tzset()
        yield
    tzset()


@pytest.mark.usefixtures("in_tokyo")
@pytest.mark.parametrize("night", NIGHTS.values(), ids=NIGHTS)
async def test_the_board_stays_open_through_a_night_on_which_the_clock_or_the_year_turns(
    night: tuple[date, str, list[str]], ledger: Ledger
) -> None:
    """Minute by minute the house's time is shown, nothing is doubted, and notes keep their order."""
    day, start, shown = night
    begins = datetime.combine(day, time.fromisoformat(start), ZoneInfo(ZONE))
    laptop = Laptop(clock=begins.astimezone(UTC))
    app = on(laptop, ledger)
    async with app.run_test(size=SIZE) as pilot:
        await settled(app, pilot)
        seen = []
        for number in range(4):
            text = await looked(app, pilot)
            seen.append(text.splitlines()[0].split("  ")[3])
            note(ledger, app.session.clock.now(), f"note {number}")
            laptop.passes(timedelta(minutes=1))
        assert of_the_clock(app) == []
        assert seen == shown
    notes = [e for e in read.entries(ledger, kinds=["note"]) if e.data["text"].startswith("note ")]
    assert [e.data["text"] for e in notes] == [f"note {n}" for n in range(4)]
    assert not doubtful(ledger, notes)
