"""House files edited while the board is open: noticed, checked, taken in whole or not at all."""

import asyncio
import os
import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.pilot import Pilot

from board.app import acting
from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.house_files import HouseFiles
from board.app.planner import plan
from board.app.session import Session
from board.house.files import read_house
from board.house.folder import changed_files, look_of
from board.house.starter import write_starter
from board.ledger import write
from board.ledger.making import Weight, weigh
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import Entry
from board.planning.plan import Plan
from tests.app.boards import board, night_ledger
from tests.app.pictures import screen_text, settled

FRIDAY = datetime(2026, 12, 4, 14, tzinfo=UTC)  # a lunch of the starter house is on the day after too
EVERY = 0.05


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The starter house's folder."""
    write_starter(tmp_path / "house")
    return tmp_path / "house"


def opened(ledger: Ledger, folder: Path) -> BoardApp:
    """The board on the house in the folder, looking at its files twenty times a second."""
    app = BoardApp(
        Session(ledger, read_house(folder), StoppedClock(FRIDAY), lambda w, b: plan(w, b, seconds=0))
    )
    app.house_files = HouseFiles(app, EVERY)
    return app


def started(folder: Path) -> Ledger:
    """A ledger of the house, beside its folder."""
    return create_ledger(folder.parent / "board.db", "Our house", "America/Chicago", folder)


def edit(path: Path, old: str, new: str) -> None:
    """Change a file in place, as a plain editor saves it."""
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


async def until(pilot: Pilot, is_so: Callable[[], bool]) -> None:
    """Wait until something is so, a few seconds at most."""
    for _ in range(200):
        await pilot.pause(0.05)
        if is_so():
            return
    raise AssertionError(screen_text(pilot.app))


def words(app: BoardApp) -> str:
    """All words on the screen."""
    return " ".join(screen_text(app).split())


@pytest.mark.parametrize("size", [(80, 24), (120, 36)])
async def test_a_change_is_taken_in_and_told(size, folder):
    """What changed is said in words, and the session's house is the new one."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=size) as pilot:
            await settled(app, pilot)
            edit(folder / "pits.toml", 'area = "20 sq ft"', 'area = "24 sq ft"')
            await until(pilot, lambda: "taken in: area of Box" in words(app))
            assert app.session.house == read_house(folder)
            assert "pits.toml changed" in words(app)


async def test_a_fault_stands_until_it_is_mended(folder):
    """The board goes on with what it had and says so for as long as it is so, whatever else is said."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        before = app.session.house
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            edit(folder / "pits.toml", 'kind = "cabinet"', 'kind = "cupboard"')
            await until(pilot, lambda: "goes on with what it had" in words(app))
            assert "pits.toml, line 15, box.kind: found 'cupboard'" in words(app)
            assert app.session.house == before
            app.told = None
            app.view.tell()
            assert "goes on with what it had" in words(app)
            await pilot.press("3")
            assert "goes on with what it had" in words(app)
            edit(folder / "pits.toml", 'kind = "cupboard"', 'kind = "cabinet"')
            await until(pilot, lambda: "is right again" in words(app))
            assert app.house_files.word is None


async def test_two_files_saved_in_a_row_are_taken_in_together(folder):
    """A new cut that a service promises before its item is there is no fault while files still change."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            edit(folder / "services.toml", "half-chicken = 24", "half-chicken = 24\nsausage = 40")
            with (folder / "items.toml").open("a", encoding="utf-8") as items:
                items.write('\n[sausage]\ncut = "sausage"\nportions_a_piece = 1\n')
            await until(pilot, lambda: "items.toml and services.toml changed" in words(app))
            assert app.session.house.services["lunch"].promises["sausage"] == 40


async def test_a_rename_save_is_noticed(folder):
    """An editor that writes another file and renames it over the old one, its time and length kept."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            path = folder / "house.toml"
            told = path.stat()
            other = folder / ".house.toml.swp"
            other.write_text(path.read_text().replace("Our house", "Her house"))
            os.utime(other, ns=(told.st_atime_ns, told.st_mtime_ns))
            other.replace(path)
            await until(pilot, lambda: app.session.house.name == "Her house")
            assert "Her house" in words(app)


async def test_a_file_or_a_folder_that_goes_is_a_fault_until_it_is_back(folder):
    """A needed file that is deleted, then the whole folder, as when a share drops out."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        before = app.session.house
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            kept = (folder / "items.toml").read_text()
            (folder / "items.toml").unlink()
            await until(pilot, lambda: "items.toml: found no such file" in words(app))
            (folder / "items.toml").write_text(kept)
            await until(pilot, lambda: app.house_files.word is None)
            shutil.move(folder, folder.parent / "away")
            await until(pilot, lambda: "found no folder" in words(app))
            assert app.session.house == before
            shutil.move(folder.parent / "away", folder)
            await until(pilot, lambda: app.house_files.word is None)
            assert app.session.house == before


async def test_a_plan_made_before_says_so_until_it_is_planned_again(folder):
    """Planned, then a pit grows: Tomorrow says that the house has changed, and g makes it good."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("2", "g")
            await until(
                pilot,
                lambda: bool(app.session.drafts) and not any(map(app.planning.word, app.session.drafts)),
            )
            edit(folder / "pits.toml", 'area = "20 sq ft"', 'area = "24 sq ft"')
            await until(pilot, lambda: "taken in: area of Box" in words(app))
            app.told = None
            app.view.tell()
            assert "The house has changed since this plan" in words(app)
            await pilot.press("g")
            await until(pilot, lambda: "The house has changed since this plan" not in words(app))
            await until(pilot, lambda: not any(map(app.planning.word, app.session.drafts)))


async def committed(app: BoardApp, pilot: Pilot) -> Plan:
    """The next day planned and committed."""
    await pilot.press("2", "g")
    await until(
        pilot, lambda: bool(app.session.drafts) and not any(map(app.planning.word, app.session.drafts))
    )
    day, draft = next(iter(app.session.drafts.items()))
    app.record(lambda: acting.commit(app.session, draft, "as promised", app.keymap.key))
    return app.facts.plans[day]


async def test_what_a_plan_ahead_still_has_is_told(folder):
    """A pit that a committed load is planned on goes, and the plan that has it is named."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            pit = (await committed(app, pilot)).loads[0].pit
            edit(folder / "pits.toml", f"[{pit}]", "[other]")
            await until(pilot, lambda: "the plan for tomorrow still has" in words(app))
            assert pit not in app.session.house.pits


async def test_a_pit_with_meat_on_it_stays_until_the_meat_is_off(folder):
    """What is under way goes on as it was; then the change is taken in by itself."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            load = (await committed(app, pilot)).loads[0]
            app.record(lambda: acting.tell(app.session, mark(ledger, load.id, "on")))
            edit(folder / "pits.toml", f"[{load.pit}]", "[other]")
            await until(pilot, lambda: "are on the pit" in words(app))
            assert load.pit in app.session.house.pits
            app.record(lambda: acting.tell(app.session, mark(ledger, load.id, "pulled")))
            await until(pilot, lambda: load.pit not in app.session.house.pits)
            assert app.house_files.word is None


async def test_a_recipe_on_the_scale_stays_until_the_batch_is_made(folder):
    """Nobody weighs the first half by one recipe and the second by another."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            batch = next(b for b in (await committed(app, pilot)).batches if b.recipe == "beef-rub")
            said = acting.said(app.session)
            weigh(ledger, batch.id, Weight(1, "black pepper", 100.0, 100.0), **said)
            app.renew()
            edit(folder / "recipes.toml", 'amount = "600 g"', 'amount = "700 g"')
            await until(pilot, lambda: "is on the scale" in words(app))
            assert app.session.house.recipes["beef-rub"].ingredients[1].amount == pytest.approx(0.6)
            app.record(
                lambda: acting.tell(app.session, write.make_batch(ledger, batch.id, "1204-rub", **said))
            )
            await until(pilot, lambda: app.session.house.recipes["beef-rub"].ingredients[1].amount > 0.65)


def mark(ledger: Ledger, load: str, what: str) -> Entry:
    """A step of a load, marked now."""
    return write.mark_load(ledger, load, what, who="alex", at=FRIDAY, noted_at=FRIDAY)


async def test_other_clock_and_other_people_show_at_once(folder):
    """Whoever is at the keys and no longer of the crew gives way to whoever's shift it is."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        app.session.who = "alex"
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            text = (folder / "crew.toml").read_text().replace("alex", "joan").replace("Alex", "Joan")
            (folder / "crew.toml").write_text(text)
            await until(pilot, lambda: "as Joan" in words(app))
            edit(folder / "house.toml", "clock_hours = 24", "clock_hours = 12")
            await until(pilot, lambda: "am" in words(app))


async def test_another_zone_is_the_ledgers_too(folder):
    """Once the house tells the time by another zone, so does all that is read and said of its ledger."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            assert ledger.clock(FRIDAY) == "08:00"
            edit(folder / "house.toml", '"America/Chicago"', '"America/Denver"')
            await until(pilot, lambda: ledger.clock(FRIDAY) == "07:00")
            assert "07:00" in words(app)


async def test_what_the_check_newly_asks_is_told(folder):
    """A hold turned down below what hot food is kept at is taken in, and asked about."""
    with started(folder) as ledger:
        app = opened(ledger, folder)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            edit(folder / "holds.toml", '"145 F"', '"120 F"')
            await until(pilot, lambda: "mind: holds.toml, hot-box" in words(app))


@pytest.mark.parametrize("kind", ["pits", "items", "holds", "recipes", "people", "services"])
async def test_every_view_draws_a_plan_of_which_something_is_gone(kind, tmp_path):
    """Plans and records outlive the house they were made with: each view shows them all the same."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            app.take_house(replace(app.session.house, **{kind: {}}))
            for view in "12345":
                await pilot.press(view)
                await settled(app, pilot)
                assert "Cinder Lane" in screen_text(app)


async def test_a_board_without_its_folder_is_quiet(tmp_path):
    """A ledger whose folder is not there opens no fault by itself."""
    write_starter(tmp_path / "house")
    house = read_house(tmp_path / "house")
    with create_ledger(tmp_path / "board.db", house.name, house.zone, tmp_path / "gone") as ledger:
        app = BoardApp(Session(ledger, house, StoppedClock(FRIDAY), plan))
        app.house_files = HouseFiles(app, EVERY)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await asyncio.sleep(5 * EVERY)
            assert app.house_files.word is None


def test_a_look_sees_what_a_person_changes(folder):
    """Written, come, gone: each by its name; what is no house file does not count."""
    before = look_of(folder)
    (folder / "cuts.toml").unlink()
    (folder / "notes.txt").write_text("x")
    (folder / ".pits.toml.swp").write_text("x")
    (folder / "cooks.csv").write_text("day\n")
    edit(folder / "pits.toml", "26 sq ft", "27 sq ft")
    assert changed_files(before, look_of(folder)) == ["cooks.csv", "cuts.toml", "pits.toml"]
    assert look_of(folder / "nowhere") == {}
