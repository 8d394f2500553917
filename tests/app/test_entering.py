"""Readings one and many, the true time of what was entered, and what undo says of it."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from board.app import acting
from board.app.marking import mark_many
from board.ledger import read
from board.ledger.open import Ledger
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import DAY, at
from tests.app.pictures import screen_text, settled
from tests.app.test_three_people import press

SIZES = ((60, 20), (80, 24), (120, 36))


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The ledger after the night."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


def words(app: object) -> str:
    """The screen as one run of words, wherever its lines break."""
    return " ".join(screen_text(app).split())  # type: ignore[arg-type]


@pytest.mark.parametrize("size", SIZES)
async def test_many_temperatures_are_one_act(ledger: Ledger, size: tuple[int, int]) -> None:
    """T, digits and Enter down the list, one line skipped; F2 records all, one u takes all back."""
    app = board(ledger)
    before = len(read.readings(ledger))
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(pilot, "T", "9", "2", "enter", "enter", "3", "1", "f2")
        taken = read.readings(ledger)[before:]
        assert [(one.place, one.temperature_c) for one in taken] == [("sat-brisket", 92), ("sat-ham", 31)]
        assert "2 temperatures" in words(app)
        await settled(app, pilot)
        await press(pilot, "u")
        assert len(read.readings(ledger)) == before
        assert "taken back: the briskets read 92° and 1 temperature entered with it" in words(app)


async def test_enter_on_the_last_line_records(ledger: Ledger) -> None:
    """Enter all the way down is enough, and what was left empty is skipped."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "T", "end", "4")
        lines = len(app.screen.query_one("#places").table.rows)  # type: ignore[attr-defined]
        await press(pilot, *["enter"] * lines)
        assert app.view.NAME == "opening"
        assert read.readings(ledger)[-1].temperature_c == 4


async def test_a_figure_out_of_reason_is_told_and_still_recorded(ledger: Ledger) -> None:
    """A core far below its last has a word beside it; what is not understood keeps the list open."""
    app = board(ledger)
    async with app.run_test(size=(100, 30)) as pilot:
        await settled(app, pilot)
        await press(pilot, "T", "4", "0")
        assert "51° below the last ?" in words(app)
        await press(pilot, "down", *"hot", "f2")
        assert "not understood" in words(app)
        await press(pilot, *["backspace"] * 3, "f2")
        assert read.last_reading(ledger, load="sat-brisket").temperature_c == 40  # type: ignore[union-attr]


async def test_each_of_many_temperatures_may_have_its_time(ledger: Ledger) -> None:
    """One read ten minutes ago and one now are recorded at their times, and go with one u."""
    app = board(ledger)
    before = len(read.readings(ledger))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "T", *"92", "space", "@", "1", "0", "enter", *"71", "f2")
        earlier, now = read.readings(ledger)[before:]
        assert (now.at - earlier.at).total_seconds() == pytest.approx(600, abs=5)
        await settled(app, pilot)
        await press(pilot, "u")
        assert len(read.readings(ledger)) == before


async def test_leaving_the_list_records_nothing(ledger: Ledger) -> None:
    """Esc leaves everything as it was, F2 on an empty list too."""
    before = read.data_version(ledger)
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "T", "9", "2", "escape", "T", "f2")
    assert read.data_version(ledger) == before


@pytest.mark.parametrize(
    ("typed", "taken"), [("93 @10", "05:32"), ("93@1h10", "04:32"), ("93 @05:12", "05:12")]
)
async def test_a_temperature_may_have_its_time(ledger: Ledger, typed: str, taken: str) -> None:
    """After an @ stands how long ago, or when, it was read."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "t", *typed, "enter")
        found = [r for r in read.readings(ledger, load="sat-shoulder") if r.temperature_c == 93]
        assert [(r.at, r.seq) for r in found] == [(at(taken), read.entries(ledger, since_seq=0)[-1].seq)]
        assert f"read 93° at {taken}" in words(app)


async def test_a_time_to_come_is_refused_where_it_is_typed(ledger: Ledger) -> None:
    """A time of day that is not past is yesterday's; what is no time is refused in the dialog."""
    app = board(ledger)
    before = read.data_version(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "t", *"93 @soon", "enter")
        assert "not how long ago" in words(app)
        await press(pilot, "escape")
    assert read.data_version(ledger) == before


async def test_the_time_of_the_last_entry_is_put_right(ledger: Ledger) -> None:
    """y and how long ago: the mark counts then, the Record shows both, u brings the first time back."""
    app = board(ledger)

    def pulled() -> object:
        return next(one.pulled_at for one in read.load_states(ledger, DAY) if one.id == "sat-shoulder")

    async with app.run_test(size=(100, 30)) as pilot:
        await settled(app, pilot)
        await press(pilot, "enter", "y", "1", "0", "enter")
        assert pulled() == NOW - timedelta(minutes=10)
        assert "put right: 6 shoulders came off South at 05:32, not 05:42" in words(app)
        await press(pilot, "5")
        assert "6 shoulders came off South; corrected: at 05:32" in words(app)
        await press(pilot, "u")
        assert pulled() == NOW
        assert "it counts at 05:42 again" in words(app)


async def test_a_time_that_cannot_be_is_refused_in_a_line(ledger: Ledger) -> None:
    """The shoulders did not come off before they went on."""
    app = board(ledger)
    async with app.run_test(size=(100, 30)) as pilot:
        await settled(app, pilot)
        await press(pilot, "enter", "y", *"12 h", "enter")
        assert "cannot be pulled at" in words(app)
    assert not read.entries(ledger, kinds=["correction"])


def test_steps_of_one_load_marked_at_once_have_their_time_put_right_later_and_earlier(ledger: Ledger) -> None:
    """On and off at one moment, the chicken goes on and comes off together at any other."""
    session = board(ledger).session
    mark_many(session, [f"{DAY}/s-load-chicken", f"{DAY}/s-pull-chicken"], NOW - timedelta(minutes=60))
    for minutes in (20, 90):
        right = NOW - timedelta(minutes=minutes)
        acting.put_time_right(session, read.last_timed(ledger, session.who), right)
        chicken = next(one for one in read.load_states(ledger, DAY) if one.id == "sat-chicken")
        assert (chicken.on_at, chicken.pulled_at) == (right, right)


async def test_nothing_entered_has_no_time_to_put_right(ledger: Ledger) -> None:
    """Who has entered nothing is told so."""
    app = board(ledger, who="bram")
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(pilot, "y")
        assert "nothing of yours" in words(app)


async def test_undo_says_what_stands_now(ledger: Ledger) -> None:
    """A mark taken back says where the load is, a reading what was read before it."""
    app = board(ledger)
    async with app.run_test(size=(100, 30)) as pilot:
        await settled(app, pilot)
        await press(pilot, "enter", "u")
        assert "taken back: 6 shoulders came off South; they are on South again" in words(app)
        await press(pilot, "t", "9", "6", "enter")
        await settled(app, pilot)
        await press(pilot, "u")
        assert "the shoulders read 96°; the last is 94° at 05:20" in words(app)


async def test_the_cursor_stays_on_the_first_thing_to_do(ledger: Ledger) -> None:
    """Until somebody moves it, the cursor of Do next is on its first line, whatever comes to be first."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        panel = app.view.panel("next")
        assert panel.cursor == 0
        first, table = panel.table.rows[0], panel.table
        from dataclasses import replace  # noqa: PLC0415

        panel.show(replace(table, rows=(replace(first, key="earlier"), *table.rows)))
        assert panel.chosen is not None
        assert panel.chosen.key == "earlier"
        await press(pilot, "down")
        panel.show(replace(table, rows=(replace(first, key="still earlier"), *table.rows)))
        assert panel.chosen.key == first.key


async def test_f_shows_ones_own_work_alone(ledger: Ledger) -> None:
    """f leaves out what others do, and says so in the title; f again shows everyone's."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        every = len(app.view.panel("next").table.rows)
        await press(pilot, "f")
        assert "Do next Tomas's, nobody's, overdue" in words(app)
        assert 0 < len(app.view.panel("next").table.rows) < every
        await press(pilot, "f")
        assert len(app.view.panel("next").table.rows) == every


@pytest.mark.parametrize("size", SIZES)
async def test_the_handover_shows_what_the_next_shift_reads(ledger: Ledger, size: tuple[int, int]) -> None:
    """h tells how things stand; Enter signs it with or without a word, and the record keeps what was told."""
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(pilot, "h")
        assert "Handover: what the next shift will read" in words(app)
        await press(pilot, "enter")
        signed = read.last_handover(ledger)
        assert signed is not None
        assert signed.data["text"] == "All is as it stands."
        assert any("4 hams on Little: may be late" in says for says in signed.data["told"])
        assert "handover signed by Tomas" in words(app)


async def test_who_steps_up_reads_since_they_were_there(ledger: Ledger) -> None:
    """The title of what happened follows who is at the keys."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        assert "Since you left, yesterday 13:30" in words(app)
        await press(pilot, "w", *"ines", "enter")
        assert "Since you came, yesterday 21:00" in words(app)


async def test_a_fire_is_put_out_by_enter(ledger: Ledger) -> None:
    """Enter on the line that says so records that the fire is out, under the name at the keys."""
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        panel = app.view.panel("next")
        row = next(row for row in panel.table.rows if row.key.startswith("check:out:"))
        panel.choose(row.key)
        await press(pilot, "enter")
        assert read.entries(ledger)[-1].kind == "out"
        assert "was put out (Tomas); u takes it back" in words(app)
        assert row.key not in [one.key for one in panel.table.rows]
