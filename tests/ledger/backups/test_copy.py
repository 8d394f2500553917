"""A backup is a whole ledger of one moment, private, proved by opening it, or it is not there."""

import shutil
import sqlite3
import stat
import subprocess
import sys
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.backups import copy as copying
from board.ledger.backups.away import copy_away, last_copied
from board.ledger.backups.catalogue import back_up, backups_in, folder_of, is_due
from board.ledger.backups.copy import copy_into
from board.ledger.backups.named import Backup, Kind, name_of, named
from board.ledger.backups.sound import Reached, check_sound
from board.ledger.open import Ledger, open_ledger
from tests.ledger.by_hand import LOADED

NOW = datetime(2026, 12, 9, 11, 30, tzinfo=UTC)


def take(ledger: Ledger, count: int) -> None:
    """Write some readings."""
    for number in range(count):
        at = LOADED + timedelta(seconds=number)
        write.take_reading(ledger, number / 10, place="north", who="Ada", at=at, noted_at=at)


def dump(path: Path) -> list[str]:
    """All that a ledger holds, as SQL."""
    with sqlite3.connect(path) as connection:
        return list(connection.iterdump())


def test_a_backup_holds_what_the_ledger_holds(path: Path, planned: Ledger) -> None:
    """Every row of every table, also what is in the log only; the file needs no other beside it."""
    take(planned, 20)
    made = back_up(path, Kind.ASKED, NOW, UTC)
    assert (made.at, made.seq, made.kind) == (NOW, 21, Kind.ASKED)
    assert [file.name for file in folder_of(path).iterdir()] == [made.path.name]
    assert dump(made.path) == dump(path)


def test_only_the_owner_may_read_a_backup(path: Path, ledger: Ledger) -> None:
    """A backup and its folder are as private as the ledger."""
    made = back_up(path, Kind.ASKED, NOW, UTC)
    assert stat.S_IMODE(made.path.stat().st_mode) == 0o600
    assert stat.S_IMODE(made.path.parent.stat().st_mode) == 0o700


def test_a_backup_while_others_write_is_of_one_moment(path: Path, ledger: Ledger) -> None:
    """Backups made while a writer goes on hold all entries up to one number, and what follows from them."""
    writer = threading.Thread(target=lambda: take(open_ledger(path), 300))
    writer.start()
    made = [copy_into(folder_of(path), path, Kind.ASKED, NOW + timedelta(seconds=n)) for n in range(6)]
    writer.join()
    for one in made:
        with sqlite3.connect(one.path) as copy:
            assert copy.execute("SELECT count(*), max(seq) FROM readings").fetchone() in (
                (one.seq, one.seq),
                (0, None),
            )
            assert copy.execute("SELECT count(*) FROM entries").fetchone() == (one.seq,)
    assert [one.seq for one in made] == sorted(one.seq for one in made)


def test_a_backup_tells_its_chains_head(path: Path, planned: Ledger) -> None:
    """The head of a copy is that of the ledger at that entry."""
    made = back_up(path, Kind.ASKED, NOW, UTC)
    head = planned.rows("SELECT seq, sha256 FROM links ORDER BY seq DESC LIMIT 1")[0]
    take(planned, 3)
    assert check_sound(made.path) == Reached(head["seq"], head["sha256"])


def test_a_changed_entry_is_found_in_a_backup(path: Path, planned: Ledger) -> None:
    """A backup whose record was rewritten by hand is not taken for whole."""
    made = back_up(path, Kind.ASKED, NOW, UTC)
    with sqlite3.connect(made.path) as copy:
        copy.execute("DROP TRIGGER entries_no_update")
        copy.execute("UPDATE entries SET who = 'Max' WHERE seq = 1")
    with pytest.raises(LedgerError, match="entry 1 was changed"):
        check_sound(made.path)


@pytest.mark.parametrize("fault", ["torn", "short", "empty", "text"])
def test_a_damaged_backup_is_told_from_a_whole_one(fault: str, path: Path, planned: Ledger) -> None:
    """A page of noughts, a cut end, an empty file and a text are no backups."""
    take(planned, 50)
    made = back_up(path, Kind.ASKED, NOW, UTC).path
    whole = made.read_bytes()
    content = {
        "torn": whole[:8192] + bytes(4096) + whole[12288:],
        "short": whole[: len(whole) // 2],
        "empty": b"",
        "text": b"a page of text " * 999,
    }[fault]
    made.write_bytes(content)
    with pytest.raises(LedgerError, match=r"damaged|cannot be read|not a ledger"):
        check_sound(made)


def test_a_backup_of_a_damaged_ledger_is_refused(path: Path, planned: Ledger) -> None:
    """What is damaged is no backup: nothing is left in the folder, and the line says what to do."""
    take(planned, 50)
    planned.close()
    content = bytearray(path.read_bytes())
    content[8192 : 8192 + 4096] = bytes(4096)
    path.write_bytes(content)
    with pytest.raises(LedgerError, match="the ledger is damaged; board doctor --mend mends what can be"):
        back_up(path, Kind.ASKED, NOW, UTC)
    assert list(folder_of(path).iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(path: Path, ledger: Ledger) -> None:
    """A file where the folder would be ends in a line; the ledger is untouched."""
    folder_of(path).write_text("in the way", encoding="utf-8")
    with pytest.raises(LedgerError, match=r"could not be backed up into .*: "):
        back_up(path, Kind.ASKED, NOW, UTC)


def test_what_a_killed_backup_left_is_gone_a_day_later(path: Path, ledger: Ledger) -> None:
    """A half-made copy is no backup, and is swept away."""
    folder_of(path).mkdir()
    left = folder_of(path) / ".abc.new"
    left.write_bytes(b"half")
    made = datetime.fromtimestamp(left.stat().st_mtime, UTC)
    back_up(path, Kind.ASKED, made, UTC)
    assert left.exists()
    back_up(path, Kind.ASKED, made + timedelta(days=2), UTC)
    assert not left.exists()


MAKES_ONE = """
import sys
from pathlib import Path
from board.ledger.backups.copy import unfinished
with unfinished(Path(sys.argv[1])) as file:
    print(file.name, flush=True)
    sys.stdin.read()
"""


def test_what_another_program_makes_stays_whatever_the_clock_says(path: Path, ledger: Ledger) -> None:
    """With a clock days ahead no half-made copy is swept away before its program has ended, killed or not."""
    ahead = NOW + timedelta(days=36_500)
    command = [sys.executable, "-c", MAKES_ONE, str(folder_of(path))]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        made = folder_of(path) / other.stdout.readline().strip()
        back_up(path, Kind.ASKED, ahead, UTC)
        assert made.is_file()
        other.kill()
    assert made.is_file(), "a killed program takes nothing away"
    back_up(path, Kind.ASKED, ahead, UTC)
    assert not made.exists()


def test_names_and_what_is_none() -> None:
    """A name tells moment, entry and reason; any other file is no backup."""
    name = name_of(NOW, 1234, Kind.DAILY)
    assert name == "2026-12-09T113000.000Z-1234-daily.db"
    assert named(Path(name)) == Backup(Path(name), NOW, 1234, Kind.DAILY)
    for other in ("board.db", f"{name}-wal", name.replace("daily", "weekly"), name.replace("-12-", "-13-")):
        assert named(Path(other)) is None


def test_the_days_backup_is_due_once_and_only_after_something_was_written() -> None:
    """None on a day that has one, none where nothing was written since the last."""
    last = Backup(Path("a"), NOW, 7, Kind.DAILY)
    tomorrow = NOW + timedelta(days=1)
    assert is_due([], 1, NOW, UTC)
    assert not is_due([], 0, NOW, UTC), "nothing to lose yet"
    assert not is_due([last], 9, NOW + timedelta(hours=12), UTC)
    assert is_due([last], 9, tomorrow, UTC)
    assert not is_due([last], 7, tomorrow, UTC)
    ahead = Backup(Path("b"), NOW + timedelta(days=400), 7, Kind.DAILY)
    assert is_due([ahead, last], 9, tomorrow, UTC), "one that a wrong clock dated does not stand for today's"


def test_a_copy_away_is_the_same_and_noted(path: Path, planned: Ledger, tmp_path: Path) -> None:
    """The stick has the backup under the house's name, and the machine remembers it."""
    stick = tmp_path / "stick"
    stick.mkdir()
    made = back_up(path, Kind.ASKED, NOW, UTC)
    place = copy_away(made, path, stick, "Cinder & Rye", now=NOW, zone=UTC)
    assert place == stick / "cinder-rye.backups" / made.path.name
    assert place.read_bytes() == made.path.read_bytes()
    shutil.rmtree(stick)
    noted = last_copied(path)
    assert noted is not None
    assert (noted.to, noted.at, noted.seq) == (str(stick), NOW, 1)


def test_no_copy_is_made_where_the_stick_is_not_in(path: Path, planned: Ledger, tmp_path: Path) -> None:
    """A folder that is not there is told, and not made on the disk it would be on."""
    made = back_up(path, Kind.ASKED, NOW, UTC)
    with pytest.raises(LedgerError, match=r"there is no folder .*stick for the copy"):
        copy_away(made, path, tmp_path / "stick", "", now=NOW, zone=UTC)
    assert not (tmp_path / "stick").exists()
    assert last_copied(path) is None


def test_a_copy_that_differs_is_refused(
    path: Path, planned: Ledger, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stick that gives back something else than it was given gets no copy under its name."""
    made = back_up(path, Kind.ASKED, NOW, UTC)
    take(planned, 2)
    other = back_up(path, Kind.ASKED, NOW + timedelta(minutes=1), UTC)
    copy = shutil.copyfile
    monkeypatch.setattr(shutil, "copyfile", lambda _, to: copy(other.path, to))
    with pytest.raises(LedgerError, match="not what was copied"):
        copy_away(made, path, tmp_path, "", now=NOW, zone=UTC)
    assert backups_in(tmp_path / "board.backups") == []


def test_killed_at_the_name_a_backup_is_whole_or_not_there(path: Path, planned: Ledger) -> None:
    """A process that ends just before the copy gets its name leaves none that looks like a backup."""
    code = (
        "import os, sys; from pathlib import Path; from board.ledger.backups import copy\n"
        "from board.ledger.backups.named import Kind\n"
        "copy.put = lambda *_: os.kill(os.getpid(), 9)\n"
        "copy.copy_into(Path(sys.argv[1]), Path(sys.argv[2]), Kind.ASKED)"
    )
    subprocess.run([sys.executable, "-c", code, str(folder_of(path)), str(path)], check=False, timeout=60)
    assert [file.suffix for file in folder_of(path).iterdir()] == [copying.UNFINISHED]
    assert backups_in(folder_of(path)) == []
    assert read.entries(planned)
