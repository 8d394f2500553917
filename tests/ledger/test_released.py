"""Ledgers made by every version that brought new tables, with its own code, open in this and lose nothing."""

import errno
import gzip
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from board.errors import LedgerError
from board.ledger import write
from board.ledger.backups import copy as copying
from board.ledger.backups.catalogue import backups_in, folder_of
from board.ledger.backups.named import Kind
from board.ledger.backups.restore import restore
from board.ledger.backups.sound import check_sound
from board.ledger.doctor.examine import examine
from board.ledger.lean import Database
from board.ledger.open import Ledger, open_ledger
from board.ledger.schema import migrations
from board.ledger.typed import Said

from .by_hand import LOADED
from .test_rebuild import assert_rebuilt

KEPT = sorted((Path(__file__).parent / "released").glob("*.db.gz"))
OLDEST = KEPT[0]
EMPTY = Database(memory=True, execute_plugins=False)
APPLIED = "SELECT name FROM _sqlite_migrations ORDER BY id"
ALL = ("SELECT * FROM sqlite_schema", "SELECT * FROM entries", "SELECT * FROM _sqlite_migrations")


def unpacked(kept: Path, path: Path) -> Path:
    """A kept ledger as its version left it."""
    path.write_bytes(gzip.decompress(kept.read_bytes()))
    path.chmod(0o600)
    return path


def rows(path: Path, *sql: str) -> list[list[tuple[object, ...]]]:
    """What lies in a file, whatever this program makes of it."""
    with closing(sqlite3.connect(path)) as connection:
        return [connection.execute(one).fetchall() for one in sql]


def record_of(path: Path) -> list[list[tuple[object, ...]]]:
    """The record: entries and plans, as they lie there."""
    return rows(path, "SELECT * FROM entries ORDER BY seq", "SELECT * FROM plans ORDER BY seq")


def test_every_version_is_kept(tmp_path: Path) -> None:
    """There is a ledger of each set of migrations before this one's, also of one that lacked an earlier."""
    sets = [[name for (name,) in rows(unpacked(kept, tmp_path / kept.stem), APPLIED)[0]] for kept in KEPT]
    known = [step.name for step in migrations.pending(EMPTY)]
    assert {name for one in sets for name in one} >= set(known[:-1]), "python -m tests.ledger.released.make"
    assert any([name[:4] for name in one][-2:] == ["0008", "0010"] for one in sets), (
        "that version had no 0009"
    )


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.name.partition(".")[0])
def test_a_released_ledger_opens_and_loses_nothing(kept: Path, path: Path, ledger: Ledger) -> None:
    """Its record byte for byte, its state as replayed, our tables, a backup made before, and going on."""
    old = unpacked(kept, path.with_name("old.db"))
    before = record_of(old)
    applied = rows(old, APPLIED)
    with open_ledger(old) as opened:
        assert_rebuilt(opened)
        assert opened.rows("PRAGMA foreign_key_check") == []
        assert schema_of(opened) == schema_of(ledger)
        note = write.note(opened, "going on", who="Ada", at=LOADED, noted_at=LOADED)
        assert note.seq == len(before[0]) + 1
    after = record_of(old)
    assert [after[0][:-1], after[1]] == before
    assert check_sound(old).seq == note.seq
    assert [fault for look in examine(old).looks for fault in look.faults] == []
    made = backups_in(folder_of(old))
    if migrations.pending(EMPTY)[-1].name in {name for (name,) in applied[0]}:
        return
    assert [one.kind for one in made] == [Kind.MIGRATION]
    assert record_of(made[0].path) == before
    assert rows(made[0].path, APPLIED) == applied


def schema_of(ledger: Ledger) -> dict[str, str]:
    """The tables, indexes and triggers of a ledger, each with its SQL less its spacing."""
    found = ledger.rows("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL")
    return {f"{row['type']} {row['name']}": " ".join(row["sql"].split()) for row in found}


def test_a_migrated_ledger_goes_back_to_its_backup(path: Path) -> None:
    """The backup made before a migration is restored, and brought up again."""
    old = unpacked(OLDEST, path)
    before = record_of(old)
    with open_ledger(old) as opened:
        write.note(opened, "too soon", who="Ada", at=LOADED, noted_at=LOADED)
    (made,) = backups_in(folder_of(old))
    restore(old, made.path, Said("Ada", LOADED, LOADED))
    after = record_of(old)
    assert [after[0][:-1], after[1]] == before
    with open_ledger(old) as opened:
        assert_rebuilt(opened)


OPEN = """
import sys
from pathlib import Path
from board.ledger.open import open_ledger
sys.stdin.readline()
with open_ledger(Path(sys.argv[1])) as ledger:
    print(ledger.rows("SELECT count(*) AS n FROM entries")[0]["n"])
"""
CUT = """
import os, sys
from pathlib import Path
from board.ledger import schema
from board.ledger.open import open_ledger
left, done = int(sys.argv[2]), schema.migrations._record_applied
def cut(db, name):
    global left
    left -= 1
    if left == 0:
        os.kill(os.getpid(), 9)
    done(db, name)
schema.migrations._record_applied = cut
open_ledger(Path(sys.argv[1]))
"""


def test_two_that_open_an_old_ledger_at_once_agree(path: Path) -> None:
    """One brings it up, the other waits and goes on; one backup, and the record as it was."""
    old = unpacked(OLDEST, path)
    before = record_of(old)
    openers = [
        subprocess.Popen(
            [sys.executable, "-c", OPEN, str(old)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        for _ in range(3)
    ]
    said = [opener.communicate("go\n", timeout=60)[0].strip() for opener in openers]
    assert said == [str(len(before[0]))] * 3
    assert record_of(old) == before
    assert len(backups_in(folder_of(old))) == 1


@pytest.mark.parametrize("after", [1, 6, 11])
def test_killed_in_the_middle_of_migrating_it_is_as_it_was(after: int, path: Path) -> None:
    """After any number of steps: nothing is changed, the backup is there, and the next opener does it all."""
    old = unpacked(OLDEST, path)
    before = rows(old, *ALL)
    done = subprocess.run([sys.executable, "-c", CUT, str(old), str(after)], check=False, timeout=60)
    assert done.returncode == -9
    assert before == rows(old, *ALL)
    assert len(backups_in(folder_of(old))) == 1
    with open_ledger(old) as opened:
        assert not migrations.pending(opened.db)
        assert_rebuilt(opened)


def test_where_no_backup_can_be_made_nothing_is_migrated(path: Path) -> None:
    """An old ledger whose backup cannot be written stays as it is, and the line says what to do."""
    old = unpacked(OLDEST, path)
    content = old.read_bytes()
    folder_of(old).write_text("in the way", encoding="utf-8")
    with pytest.raises(LedgerError, match="could not be backed up"):
        open_ledger(old)
    assert old.read_bytes() == content


def test_where_the_name_of_the_backups_folder_is_not_on_disk_nothing_is_migrated(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A power cut after the migration could take the folder away, and the only backup with it."""
    old = unpacked(OLDEST, path)
    content = old.read_bytes()
    real = copying.sync_names

    def refused(folder: Path) -> None:
        if folder == old.parent:
            raise OSError(errno.EIO, "the disk fails")
        real(folder)

    monkeypatch.setattr(copying, "sync_names", refused)
    with pytest.raises(LedgerError, match="could not be backed up"):
        open_ledger(old)
    assert old.read_bytes() == content


def test_what_no_migration_can_take_in_is_told_in_a_line(path: Path) -> None:
    """A table of the same name, made by hand: the ledger stays as it was; the line names step and backup."""
    old = unpacked(OLDEST, path)
    with closing(sqlite3.connect(old)) as connection:
        connection.execute("CREATE TABLE pins (mine TEXT)")
        connection.commit()
    before = record_of(old)
    with pytest.raises(LedgerError, match=r"“0004 .*already exists; nothing was changed, its backup is in"):
        open_ledger(old)
    assert record_of(old) == before


def test_a_newer_ledger_is_left_as_it_is(path: Path, ledger: Ledger) -> None:
    """One that a newer program wrote is refused before anything is written, also no backup."""
    ledger.db.execute("INSERT INTO _sqlite_migrations VALUES (999, 'board.ledger', '0999 x', '')")
    ledger.close()
    content = path.read_bytes()
    with pytest.raises(LedgerError, match=r"newer program.*pip install --upgrade board"):
        open_ledger(path)
    assert path.read_bytes() == content
    assert not folder_of(path).exists()
