"""Watches, corrections, actions and probe checks by keys alone, at the sizes people have."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

from board.app.app import BoardApp
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.state import LoadStage, WatchKind
from board.ledger.watching import Watched
from board.views.checks import checks
from board.views.gather import gather
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import at, house
from tests.app.pictures import screen_text, settled

SIZES = ((80, 24), (120, 36))


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The fixture's night."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


async def press(app: BoardApp, pilot: Pilot[None], *keys: str) -> None:
    """Press keys, each after the last has done its work."""
    for key in keys:
        await pilot.press(key)
        await settled(app, pilot)


async def typed(app: BoardApp, pilot: Pilot[None], text: str) -> None:
    """Type a line and Enter."""
    await pilot.press(*("space" if c == " " else "full_stop" if c == "." else c for c in text))
    await press(app, pilot, "enter")


def said(clock: str) -> dict[str, object]:
    """Who and when."""
    return {"who": "wren", "at": at(clock), "noted_at": at(clock)}


@pytest.mark.parametrize("size", SIZES)
async def test_a_tub_is_watched_from_its_start_to_its_mark(ledger: Ledger, size: tuple[int, int]) -> None:
    """b begins it, Enter on the check reads it, and ending it marks a lot with its last day."""
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "b", "enter", "enter")
        await typed(app, pilot, "beans")
        assert "beans set to cool" in screen_text(app)
        (watch,) = read.watches(ledger)
        assert (watch.kind, watch.what, watch.place) == (WatchKind.COOLING, "beans", "walk-in")
        await press(app, pilot, "1")
        assert "read beans" in screen_text(app)
        app.view.panel("next").choose(f"check:read:place:{watch.id}")
        await press(app, pilot, "enter")
        await typed(app, pilot, "60")
        assert [r.temperature_c for r in read.readings(ledger, place=watch.id)] == [60.0]
        await press(app, pilot, "5", "e", "enter", "enter")
        (lot,) = read.watches(ledger)
        assert (lot.kind, lot.from_watch) == (WatchKind.DATE_MARKED, watch.id)
        await press(app, pilot, "u", "u")
        assert [w.id for w in read.watches(ledger)] == [watch.id]


@pytest.mark.parametrize("size", SIZES)
async def test_leftovers_are_cooled_with_one_key(ledger: Ledger, size: tuple[int, int]) -> None:
    """c in Service begins to cool what is left of the chosen item's load; on the pit it says why not."""
    write.mark_step(ledger, "s-pull-shoulder", **said("05:40"))
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "3")
        app.view.panel("items").choose("pork-plate")
        await press(app, pilot, "c")
        (watch,) = read.watches(ledger)
        assert (watch.kind, watch.load, watch.made_on) == (
            WatchKind.COOLING,
            "sat-shoulder",
            at("05:40").date(),
        )
        app.view.panel("items").choose("brisket-plate")
        await press(app, pilot, "c")
        assert "nothing is left to cool" in screen_text(app)
        assert len(read.watches(ledger)) == 1


@pytest.mark.parametrize("size", SIZES)
async def test_a_reading_is_put_right_beside_the_old(ledger: Ledger, size: tuple[int, int]) -> None:
    """Enter shows the line, c asks what is right; both values stand in the record."""
    slip = write.take_reading(ledger, 167.0, load="sat-brisket", who="tomas", at=NOW, noted_at=NOW)
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "k")
        app.view.panel("lines").choose(str(slip.seq))
        await press(app, pilot, "enter")
        assert "put right" in screen_text(app)
        await press(app, pilot, "c")
        await typed(app, pilot, "nonsense")
        assert len(read.entries(ledger, kinds=("correction",))) == 0
        await press(app, pilot, "escape", "c")
        await typed(app, pilot, "93")
        assert "read 167°; corrected: 93°" in " ".join(screen_text(app).split())
    (reading,) = read.readings(ledger, load="sat-brisket", since=NOW)
    assert (reading.temperature_c, reading.as_read_c) == (93.0, 167.0)


async def test_what_cannot_be_put_right_says_so(ledger: Ledger) -> None:
    """A mark is undone instead."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        marked = next(e for e in read.entries(ledger) if e.kind == "load")
        await press(app, pilot, "5")
        app.view.panel("lines").choose(str(marked.seq))
        await press(app, pilot, "c")
        assert "anything else is undone" in screen_text(app)


@pytest.mark.parametrize("size", SIZES)
async def test_what_was_done_about_a_failure_stands_under_it(ledger: Ledger, size: tuple[int, int]) -> None:
    """A walk-in at 9° warns on Opening; d records the answer, and the warning goes."""
    write.take_reading(ledger, 9.0, place="walk-in", who="tomas", at=NOW, noted_at=NOW)
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        assert "the walk-in read 9°" in screen_text(app)
        await press(app, pilot, "5", *"k" * 6)
        assert "nothing is written of what was done" in " ".join(screen_text(app).split())
        await press(app, pilot, "d")
        await typed(app, pilot, "shut the door")
        assert "done about it: shut the door" in screen_text(app)
        await press(app, pilot, "1")
        assert "the walk-in read 9°" not in screen_text(app)


@pytest.mark.parametrize("size", SIZES)
async def test_a_probe_is_checked_by_keys(ledger: Ledger, size: tuple[int, int]) -> None:
    """p asks which probe, in what, and its reading, and says whether it may be relied on."""
    app = board(ledger)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "p")
        await typed(app, pilot, "red")
        await press(app, pilot, "enter")
        await typed(app, pilot, "3")
        assert "too far off" in screen_text(app)
    (entry,) = read.entries(ledger, kinds=("probe",))
    assert (entry.subject, entry.data["way"], entry.data["temperature_c"]) == ("red", "ice", 3.0)


async def test_days_of_the_record_are_walked_through(ledger: Ledger) -> None:
    """[ goes to today alone, then to yesterday; ] comes back to all."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "left_square_bracket")
        assert "everything, today, newest first" in screen_text(app)
        await press(app, pilot, "left_square_bracket")
        assert "everything, yesterday, newest first" in screen_text(app)
        await press(app, pilot, "right_square_bracket", "right_square_bracket")
        assert "everything, newest first" in screen_text(app)


async def test_a_lot_goes_into_the_freezer_and_out(ledger: Ledger) -> None:
    """e offers the freezer to a date-marked lot, and the way out once it is in."""
    moment = {"who": "wren", "at": NOW - timedelta(hours=1), "noted_at": NOW}
    lot = write.start_watch(ledger, Watched(WatchKind.DATE_MARKED, "beans"), **moment).subject  # type: ignore[arg-type]
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "e", "enter")
        assert "into the freezer" in screen_text(app)
        await typed(app, pilot, "freezer")
        assert read.watch(ledger, lot).frozen == "2026-12-19/"  # type: ignore[union-attr]
        await press(app, pilot, "e", "enter")
        await typed(app, pilot, "out of")
        assert read.watch(ledger, lot).frozen == "2026-12-19/2026-12-19"  # type: ignore[union-attr]


async def test_nothing_to_end_or_to_look_at_says_so(ledger: Ledger) -> None:
    """Each key that has nothing to do tells it."""
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "e")
        assert "nothing is watched now" in screen_text(app)
        await press(app, pilot, *"k" * 2, "enter", "d", "c")
        assert isinstance(app, BoardApp)


async def test_an_ended_load_is_no_longer_on_the_list_of_checks(ledger: Ledger) -> None:
    """A hold that is served asks for no reading."""
    write.mark_step(ledger, "s-pull-shoulder", **said("05:40"))
    write.mark_load(ledger, "sat-shoulder", LoadStage.HOLDING, **said("05:41"))
    app = board(ledger)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        assert any("read the shoulders" in row.cells[1].text for row in app.view.panel("next").table.rows)
        write.mark_load(ledger, "sat-shoulder", LoadStage.SERVED, who="wren", at=NOW, noted_at=NOW)
        app.keep_up()
        await settled(app, pilot)
        assert not any("read the shoulders" in row.cells[1].text for row in app.view.panel("next").table.rows)


async def test_the_day_is_signed_and_printed_from_the_record(ledger: Ledger) -> None:
    """s signs the day shown, x writes its print-out; without a printer it says which command prints."""
    app = board(ledger)
    app.session.record_printer = lambda view: view.sha256.encode()
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        await press(app, pilot, "5", "left_square_bracket", "s", "enter")
        assert "record of Sat 19 Dec signed" in screen_text(app)
        await press(app, pilot, "x")
        (signed,) = read.entries(ledger, kinds=("signature",))
        written = ledger.path.with_name("record-2026-12-19.pdf")
        assert written.read_bytes().decode() == signed.data["sha256"]
        app.session.record_printer = None
        await press(app, pilot, "x")
        assert "board record --pdf FILE" in screen_text(app)


def test_leftovers_wait_for_the_last_service_of_their_item(ledger: Ledger) -> None:
    """Brisket left of lunch is for dinner: it is leftovers only after that."""
    write.mark_step(ledger, "s-pull-brisket", **said("06:30"))

    def cooled(clock: str) -> bool:
        facts = gather(ledger, house(), at(clock))
        return any(check.key == "check:left:2026-12-19/sat-brisket" for check in checks(facts, at("23:59")))

    assert not cooled("14:05")
    assert cooled("21:05")


async def test_what_people_call_their_food_is_shown_as_typed(ledger: Ledger) -> None:
    """Markup and escape codes are words on every screen that tells of a watch."""
    hostile = "[bold]beans[/bold] \x1b[2J{what}"
    write.start_watch(ledger, Watched(WatchKind.COOLING, hostile), who="wren", at=NOW, noted_at=NOW)
    app = board(ledger)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        assert "read [bold]beans[/bold] [2J{what}" in screen_text(app)
        await press(app, pilot, "5")
        assert "[bold]beans[/bold] [2J{what} set to cool" in screen_text(app)
        await press(app, pilot, "e")
        assert "[bold]beans[/bold] [2J{what}" in screen_text(app)
