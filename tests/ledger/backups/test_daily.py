"""The day's backup and its copy, made by themselves: by a command that writes, and beside an open board."""

import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner

from board.app.app import BoardApp
from board.app.clock import BoardClock
from board.app.settings import Settings
from board.app.settings_file import read_settings
from board.app.settled import settle
from board.cli import root
from board.house.folder import folder_meant
from board.ledger.backups.catalogue import back_up, backups_in, folder_of
from board.ledger.backups.daily import Stands, keep_backed_up
from board.ledger.backups.named import Kind
from board.ledger.backups.restore import restore
from board.ledger.open import Ledger
from board.ledger.typed import Said
from board.ledger.uptime import Uptime
from board.views.alarm import Alarm, AlarmKind
from board.views.alarms_of_backups import ALONE_FOR, backup_alarms
from board.views.facts import Facts
from tests.app.boards import NOW as MORNING
from tests.app.boards import board, night_ledger
from tests.app.house_fixture import house
from tests.app.pictures import screen_text, settled
from tests.ledger.by_hand import LOADED

from .test_copy import NOW, take


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    """A folder off the machine."""
    place = tmp_path / "stick"
    place.mkdir()
    return place


def test_the_first_command_of_a_day_that_writes_makes_the_backup(
    path: Path, planned: Ledger, monkeypatch: pytest.MonkeyPatch, stick: Path
) -> None:
    """One that only reads makes none, the second of the day none, and it is copied where one says so."""
    monkeypatch.setenv("BOARD_WHO", "Ada")
    monkeypatch.setenv("BOARD_BACKUP_TO", str(stick))
    runner = CliRunner()
    for arguments, made in (("list", 0), ("reading north 225F", 1), ("reading north 226F", 1)):
        runner.invoke(root, [*arguments.split(), "--ledger", str(path)])
        assert [one.kind for one in backups_in(folder_of(path))] == [Kind.DAILY] * made
    assert [one.seq for one in backups_in(stick / "cinder-rye.backups")] == [2]


def test_a_backup_that_cannot_be_made_is_told_and_stops_nothing(
    path: Path, planned: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The reading is recorded, and one line says what is wrong."""
    monkeypatch.setenv("BOARD_WHO", "Ada")
    folder_of(path).write_text("in the way", encoding="utf-8")
    done = CliRunner().invoke(root, ["reading", "north", "225F", "--ledger", str(path)])
    assert done.exit_code == 0
    assert "(entry 2)" in done.output
    assert "could not be backed up" in done.output


@pytest.mark.parametrize("named", ["~nobody-of-that-name/stick", "x" * 300])
def test_a_folder_that_cannot_be_is_told_and_stops_nothing(
    named: str, path: Path, planned: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The reading is recorded and the backup made; that there is no copy is said in a line."""
    monkeypatch.setenv("BOARD_WHO", "Ada")
    monkeypatch.setenv("BOARD_BACKUP_TO", named)
    done = CliRunner().invoke(root, ["reading", "north", "225F", "--ledger", str(path)])
    assert done.exit_code == 0
    assert f"board: there is no folder {named} for the copy" in done.output
    assert len(backups_in(folder_of(path))) == 1
    assert "there is no folder" in keep_backed_up(path, folder_meant(named), NOW).copy_problem


def test_what_is_due_is_done_and_what_cannot_be_is_told(path: Path, planned: Ledger, stick: Path) -> None:
    """A day's backup and copy; a stick that is out is told, and since when entries are here alone."""
    first = keep_backed_up(path, stick, NOW)
    assert (first.problem, first.copy_problem, first.lacking_since) == ("", "", None)
    assert first.copied is not None
    take(planned, 2)
    shutil.rmtree(stick)
    later = keep_backed_up(path, stick, NOW + timedelta(days=1))
    assert len(backups_in(folder_of(path))) == 2
    assert "there is no folder" in later.copy_problem
    assert later.copied == first.copied
    assert later.lacking_since == LOADED, "when the first that is not on the stick was noted"
    stick.mkdir()
    again = keep_backed_up(path, stick, NOW + timedelta(days=1, hours=1))
    assert (again.copy_problem, again.lacking_since) == ("", None)


def test_without_a_folder_no_copy_is_missed(path: Path, planned: Ledger) -> None:
    """Who keeps no copies elsewhere is not told of them."""
    assert keep_backed_up(path, None, NOW) == Stands()


def alarms(stands: Stands, now: datetime, failing: datetime | None = None) -> list[Alarm]:
    """The alarms at a moment."""
    return list(backup_alarms(Facts(house(), now), stands, failing))


def test_the_board_tells_of_what_is_on_one_machine_alone_for_too_long() -> None:
    """After a day and a half, worse after a week, under one key; with what to do."""
    stands = Stands(copy_problem="there is no folder /media/stick for the copy", lacking_since=NOW)
    assert alarms(stands, NOW + ALONE_FOR - timedelta(minutes=1)) == []
    (soon,), (late,) = alarms(stands, NOW + ALONE_FOR), alarms(stands, NOW + timedelta(days=8))
    assert (soon.kind, soon.level, late.level) == (AlarmKind.BACKUP, 1, 2)
    assert soon.key == late.key
    assert "on this machine alone, no copy was made yet" in soon.whole
    assert "/media/stick" in soon.whole


def test_the_board_tells_at_once_where_no_backup_can_be_made() -> None:
    """The line is the one a command would say."""
    (alarm,) = alarms(Stands(problem="there is no room left on its disk; free some space"), NOW, NOW)
    assert "free some space" in alarm.whole


class Laptop:
    """A machine's clock and count that go on together."""

    def __init__(self) -> None:
        self.at = MORNING

    def shows(self) -> datetime:
        """What its clock shows."""
        return self.at

    def count(self) -> Uptime:
        """How long it has been up."""
        return Uptime("boot", round((self.at - MORNING).total_seconds() * 1_000))


async def test_an_open_board_backs_up_by_itself_and_again_past_midnight(tmp_path: Path) -> None:
    """A real board makes the day's backup beside its keys, tells of a stick that is out, and goes on."""
    laptop = Laptop()
    with night_ledger(tmp_path / "board.db") as ledger:
        session = board(ledger).session
        session.clock = BoardClock(shows=laptop.shows, count=laptop.count)
        app = BoardApp(session, Settings(motion=False, backup_to=str(tmp_path / "stick")))
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            for days in (0, 1, 3):
                laptop.at = MORNING + timedelta(days=days)
                if days:
                    take(ledger, 1)
                app.keep_up()
                while app.backing.is_busy:
                    await pilot.pause(0.02)
                await settled(app, pilot)
                assert len(backups_in(folder_of(ledger.path))) == (1, 2, 3)[(0, 1, 3).index(days)]
            assert any(one.kind is AlarmKind.BACKUP for one in app.alarming.found)


async def test_a_board_with_a_clock_set_for_show_keeps_no_backups(tmp_path: Path) -> None:
    """The demo leaves nothing behind."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            app.keep_up()
            assert not app.backing.is_busy
    assert not folder_of(ledger.path).exists()


def test_a_copy_of_the_newest_is_made_once(path: Path, planned: Ledger, stick: Path) -> None:
    """A backup that is on the stick already is not copied again, and an older one never goes over it."""
    back_up(path, Kind.ASKED, NOW, UTC)
    for _ in range(3):
        keep_backed_up(path, stick, NOW)
    assert len(backups_in(stick / "cinder-rye.backups")) == 1


def test_a_backup_dated_ahead_holds_up_no_later_copy(path: Path, planned: Ledger, stick: Path) -> None:
    """A clock that was once a century ahead leaves a backup that stays the newest by its name alone."""
    keep_backed_up(path, stick, NOW + timedelta(days=36_500))
    take(planned, 1)
    assert keep_backed_up(path, stick, NOW).lacking_since is None
    take(planned, 1)
    later = keep_backed_up(path, stick, NOW + timedelta(days=1))
    assert later.lacking_since is None
    assert later.copied is not None
    assert later.copied.seq == 3


async def test_a_board_says_that_a_backup_was_restored_under_it(tmp_path: Path) -> None:
    """Who stands at another board learns at once that entries were set aside, and is told once."""
    with night_ledger(tmp_path / "board.db") as ledger:
        made = back_up(ledger.path, Kind.ASKED, NOW, UTC)
        take(ledger, 2)
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            restore(ledger.path, made.path, Said("Ines", NOW, NOW))
            app.keep_up()
            await settled(app, pilot)
            assert app.told is not None
            assert "a backup was restored" in app.told.text
            assert "2 entries set aside" in app.told.text
            app.told = None
            app.renew()
            assert app.told is None


async def test_the_folder_for_copies_is_named_at_the_board(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """F4, copies: a folder that is not there is refused in a line; one that is there is kept and shown.

    Named from where the board was started, it is the same folder wherever a command is run later.
    """
    monkeypatch.chdir(tmp_path)
    stick = tmp_path / "stick"
    stick.mkdir()
    file = tmp_path / "settings.toml"
    with night_ledger(tmp_path / "board.db") as ledger:
        app = BoardApp(board(ledger).session, settled=settle({}, {"BOARD_SETTINGS": str(file)}))
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("f4", *["down"] * 5, "enter")
            await settled(app, pilot)
            await pilot.press(*"stickx", "enter")
            await settled(app, pilot)
            assert "there is no folder" in screen_text(app)
            await pilot.press(*"stick", "enter")
            await settled(app, pilot)
            assert read_settings(file).values["backup_to"] == str(stick)
            assert "none: backups are on this machine alone" not in screen_text(app)
