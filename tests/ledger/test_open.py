"""Opening a ledger, and every way in which it cannot be."""

import errno
import os
import resource
import sqlite3
from pathlib import Path

import pytest
from sqlite_utils import Database

from board.errors import LedgerError
from board.house.starter import write_starter
from board.ledger import open as opening
from board.ledger import read, write
from board.ledger.backups.sound import check_sound
from board.ledger.doctor.examine import examine
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.schema import migrations
from board.ledger.where import ledger_path

from .by_hand import LOADED, ZONE


def test_create_then_open(path: Path) -> None:
    """A created ledger remembers whose it is."""
    create_ledger(path, "Cinder & Rye", ZONE, Path("house")).close()
    with open_ledger(path) as ledger:
        assert ledger.house is not None
        assert (ledger.house.name, str(ledger.zone), ledger.house.folder) == ("Cinder & Rye", ZONE, "house")


def test_a_house_that_was_moved_with_its_ledger_is_found(tmp_path: Path) -> None:
    """A folder renamed with the ledger in it is the house's; one that is still there stays it."""
    was, now = tmp_path / "was", tmp_path / "now"
    write_starter(was)
    create_ledger(was / "board.db", "Our house", ZONE, was).close()
    was.rename(now)
    with open_ledger(now / "board.db") as ledger:
        assert ledger.house is not None
        assert ledger.house.folder == str(now)
    was.mkdir()
    with open_ledger(now / "board.db") as ledger:
        assert ledger.house is not None
        assert ledger.house.folder == str(was)


def test_settings_of_each_connection(ledger: Ledger) -> None:
    """Each connection writes ahead, syncs every commit, and keeps references whole."""
    asked = {
        name: ledger.db.execute(f"PRAGMA {name}").fetchone()[0]
        for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
    }
    assert asked == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 20_000}


def test_tables_are_strict(ledger: Ledger) -> None:
    """No table of ours takes a value of the wrong type."""
    ours = [t for t in ledger.db.tables if not t.name.startswith(("sqlite_", "_sqlite_"))]
    assert ours
    assert all(table.strict for table in ours)


def test_only_the_owner_may_read_the_file(path: Path, ledger: Ledger) -> None:
    """A ledger is private to whoever made it."""
    assert path.stat().st_mode & 0o077 == 0


def test_migrations_run_once(path: Path, ledger: Ledger) -> None:
    """Opening again applies nothing and loses nothing."""
    with open_ledger(path) as again:
        assert not migrations.pending(again.db)
        assert again.house == ledger.house


def test_a_failed_migration_leaves_the_ledger_as_it_was(path: Path, ledger: Ledger) -> None:
    """A migration that fails halfway changes nothing and stays pending."""
    later = type(migrations)("board.ledger")

    @later()
    def half(db: Database) -> None:
        db.execute("CREATE TABLE half (a TEXT)")
        raise RuntimeError("the power went")

    with pytest.raises(RuntimeError):
        later.apply(ledger.db)
    assert "half" not in ledger.db.table_names()
    assert [step.name for step in later.pending(ledger.db)] == ["half"]


def test_newer_ledger_is_refused(path: Path, ledger: Ledger) -> None:
    """A ledger with a migration this program does not know is refused, with the words to fix it."""
    ledger.db["_sqlite_migrations"].insert(
        {"migration_set": "board.ledger", "name": "0999 x", "applied_at": ""}
    )
    with pytest.raises(LedgerError, match=r"newer program.*“0999 x”.*pip install --upgrade board"):
        open_ledger(path)


def test_missing_file_and_folder(tmp_path: Path) -> None:
    """A ledger that is not there is not made by accident, nor a folder for it."""
    with pytest.raises(LedgerError, match="there is no ledger"):
        open_ledger(tmp_path / "none.db")
    with pytest.raises(LedgerError, match="there is no folder"):
        open_ledger(tmp_path / "none" / "board.db", create=True)
    assert list(tmp_path.iterdir()) == []


def test_a_house_without_a_ledger_says_how_it_is_started(tmp_path: Path) -> None:
    """In a house's folder the line names the command that starts its ledger."""
    write_starter(tmp_path / "house")
    with pytest.raises(LedgerError, match="start it in that folder with: board"):
        open_ledger(tmp_path / "house" / "board.db")


def test_create_does_not_write_over(path: Path, ledger: Ledger) -> None:
    """A second ledger is never put over a first."""
    with pytest.raises(LedgerError, match="exists already"):
        create_ledger(path, "Other", ZONE, path.parent)


def test_create_on_asking(path: Path) -> None:
    """`create` starts a ledger of no house, told by UTC."""
    with open_ledger(path, create=True) as ledger:
        assert ledger.house is None
        assert str(ledger.zone) == "UTC"


@pytest.mark.parametrize("content", [b"", b"not a database at all, " * 100])
def test_something_else(path: Path, content: bytes) -> None:
    """A file that is no ledger is refused and left as it was."""
    path.write_bytes(content)
    with pytest.raises(LedgerError, match="is not a ledger"):
        open_ledger(path)
    assert path.read_bytes() == content


def test_another_programs_database(path: Path) -> None:
    """A database of another program is refused."""
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE customers (name TEXT)")
    other.close()
    with pytest.raises(LedgerError, match="not a ledger of this program"):
        open_ledger(path)


def test_a_folder(tmp_path: Path) -> None:
    """A folder is named as what it is."""
    with pytest.raises(LedgerError, match="is a folder"):
        open_ledger(tmp_path)


def test_read_only(path: Path, ledger: Ledger, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that cannot be written is refused at once, not at the first mark."""
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(LedgerError, match="cannot be written; allow writing"):
        open_ledger(path)


def test_locked(path: Path, ledger: Ledger, monkeypatch: pytest.MonkeyPatch) -> None:
    """A ledger that stays locked is told in a sentence, not in SQLite's words."""
    monkeypatch.setattr(opening, "BUSY_SECONDS", 0.05)
    with open_ledger(path) as other, ledger.writing(), pytest.raises(LedgerError, match="stayed busy; wait"):  # noqa: SIM117
        with other.writing():
            pass


def test_a_failed_block_writes_nothing(planned: Ledger) -> None:
    """What fails halfway through a transaction is as if never begun."""

    def halfway() -> None:
        with planned.writing():
            planned.db.execute("DELETE FROM loads")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        halfway()
    assert planned.row("SELECT count(*) AS n FROM loads") == {"n": 1}


def test_no_write_inside_a_reading_block(planned: Ledger) -> None:
    """A write that the end of a reading block would take back is refused at once."""
    with planned.reading(), pytest.raises(RuntimeError, match="nothing is written"):
        write.note(planned, "windy", who="Ines", at=LOADED, noted_at=LOADED)


def test_a_full_disk(planned: Ledger) -> None:
    """When the disk is full the entry is refused in a sentence, and taken once there is room."""
    pages = planned.db.execute("PRAGMA page_count").fetchone()[0]
    planned.db.execute(f"PRAGMA max_page_count = {pages}")

    def fill() -> None:
        for _ in range(1000):
            write.note(planned, "x" * 500, who="Ines", at=LOADED, noted_at=LOADED)

    with pytest.raises(LedgerError, match="no room left on its disk; free some space"):
        fill()
    acknowledged = read.data_version(planned)[1]
    planned.db.execute(f"PRAGMA max_page_count = {pages + 100}")
    assert write.note(planned, "room", who="Ines", at=LOADED, noted_at=LOADED).seq == acknowledged + 1


def test_a_disk_without_room_to_look_is_told(path: Path) -> None:
    """Where what lies beside the log has no room, the line says so, and the doctor finds no fault."""
    create_ledger(path, "Cinder & Rye", ZONE, Path("house")).close()
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100, before[1]))  # bytes: no file grows beyond
    try:
        for look in (open_ledger, examine):
            with pytest.raises(LedgerError, match="has no room left on its disk; free some space"):
                look(path)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert examine(path).sound


def test_a_failed_commit_starts_afresh(planned: Ledger, monkeypatch: pytest.MonkeyPatch) -> None:
    """After a commit that fails, the ledger goes on with a new connection."""
    connection = planned.db
    refused = sqlite3.OperationalError("disk I/O error")
    refused.sqlite_errorcode = sqlite3.SQLITE_IOERR_FSYNC
    plainly = connection.execute

    def fail_to_commit(sql: str, *values: object) -> sqlite3.Cursor:
        if sql == "COMMIT":
            raise refused
        return plainly(sql, *values)

    monkeypatch.setattr(connection, "execute", fail_to_commit)
    with pytest.raises(LedgerError, match="check the disk"):
        write.note(planned, "windy", who="Ines", at=LOADED, noted_at=LOADED)
    assert planned.db is not connection
    assert write.note(planned, "windy", who="Ines", at=LOADED, noted_at=LOADED).seq == 2


def test_where_nobody_knows_it_is_said(planned: Ledger, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a commit fails and cannot be made never to have been, the line says so; then all goes on."""
    failed = sqlite3.OperationalError("disk I/O error")
    failed.sqlite_errorcode = sqlite3.SQLITE_IOERR_FSYNC
    plainly = planned.db.execute

    def fail_to_commit(sql: str, *values: object) -> sqlite3.Cursor:
        if sql == "COMMIT":
            raise failed
        return plainly(sql, *values)

    def fail(db: Database) -> None:
        raise failed

    with monkeypatch.context() as failing:
        failing.setattr(planned.db, "execute", fail_to_commit)
        failing.setattr(opening, "supersede", fail)
        with pytest.raises(LedgerError, match="nobody can say whether this was recorded"):
            write.note(planned, "windy", who="Ines", at=LOADED, noted_at=LOADED)
        with pytest.raises(LedgerError, match="check the disk, then enter it again"):
            write.note(planned, "windier", who="Ines", at=LOADED, noted_at=LOADED)
    planned.wait_at_most(1.0)
    assert write.note(planned, "still", who="Ines", at=LOADED, noted_at=LOADED).seq == 2
    assert planned.db.execute("PRAGMA busy_timeout").fetchone()[0] == 1000


def test_a_log_left_behind_is_taken_in_before_anything_follows_it(path: Path, planned: Ledger) -> None:
    """What somebody left in the log is in the file once the ledger is opened, and the log begins anew.

    Nothing is written after a frame whose sync may have failed (https://www.sqlite.org/walformat.html, 4.3:
    recovery stops at the first frame that is not whole).
    """
    write.note(planned, "windier", who="Ines", at=LOADED, noted_at=LOADED)
    log = path.with_name(f"{path.name}-wal")
    assert log.stat().st_size > 0
    with open_ledger(path) as opened:
        assert log.stat().st_size == 0
        assert opened.db.execute("PRAGMA busy_timeout").fetchone()[0] == round(opening.BUSY_SECONDS * 1_000)
        assert read.entries(opened, since_seq=0)[-1].data["text"] == "windier"


def test_where() -> None:
    """The flag goes before the environment, which goes before the current folder."""
    env = {"BOARD_LEDGER": "/env.db"}
    assert ledger_path(Path("flag.db"), env) == Path("flag.db")
    assert ledger_path(None, env) == Path("/env.db")
    assert ledger_path(None, {"BOARD_LEDGER": ""}) == Path("board.db")


def test_text_that_is_damaged_is_told_in_a_line(path: Path, ledger: Ledger) -> None:
    """Text that is no UTF-8 any more, in a value or in the names of the tables, is damage, not a crash."""
    write.note(ledger, "cedar smoke", who="Ada", at=LOADED, noted_at=LOADED)
    ledger.db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    ledger.close()
    whole = path.read_bytes()
    for text in (b"cedar smoke", b"CREATE TABLE", b"CREATE INDEX"):
        assert text in whole
        path.write_bytes(whole.replace(text, b"\xff" * len(text)))
        with pytest.raises(LedgerError, match="is damaged"), open_ledger(path) as opened:
            read.entries(opened, since_seq=0)


def test_a_ledger_that_another_began_meanwhile_stays_without_hard_links(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of two that begin a house's ledger at once on such a disk, the second is told that it is there."""

    def refused(_: Path, __: Path) -> None:
        monkeypatch.undo()
        create_ledger(path, "Cinder & Rye", ZONE, Path("house")).close()
        raise PermissionError(errno.EPERM, "no hard links here")

    monkeypatch.setattr(Path, "hardlink_to", refused)
    with pytest.raises(LedgerError, match="exists already"):
        create_ledger(path, "Another", ZONE, Path("house"))
    with open_ledger(path) as ledger:
        assert ledger.house is not None
        assert ledger.house.name == "Cinder & Rye"


def test_a_ledger_is_begun_on_a_disk_without_hard_links(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It gets its name in another way."""

    def refused(*_: object) -> None:
        raise PermissionError(errno.EPERM, "no hard links here")

    monkeypatch.setattr(Path, "hardlink_to", refused)
    with create_ledger(path, "Cinder & Rye", ZONE, Path("house")) as ledger:
        write.note(ledger, "begun", who="Ada", at=LOADED, noted_at=LOADED)
    check_sound(path)


def test_a_link_to_a_ledger_is_that_ledger(tmp_path: Path) -> None:
    """Its backups, logs and feeds lie beside the file itself, by whichever name it is opened."""
    file = tmp_path / "disk" / "board.db"
    file.parent.mkdir()
    link = tmp_path / "board.db"
    link.symlink_to("disk/board.db")
    assert ledger_path(link) == file
    file.touch()
    assert ledger_path(link) == file


def test_nothing_is_written_where_a_mended_file_waits_to_take_the_place(path: Path, planned: Ledger) -> None:
    """Whoever opens next puts in place what a killed mending left, and what was written since is lost."""
    path.with_name(f"{path.name}.restoring").touch()
    with pytest.raises(LedgerError, match="or begin again with what is there now"):
        write.note(planned, "lost?", who="Ada", at=LOADED, noted_at=LOADED)


def test_a_house_in_a_folder_whose_name_is_no_text_is_told(tmp_path: Path) -> None:
    """A ledger keeps the folder's name as text; nothing is left behind."""
    with pytest.raises(LedgerError, match="a name that is no text"):
        create_ledger(tmp_path / "board.db", "Cinder & Rye", ZONE, tmp_path / "house\udcff")
    assert list(tmp_path.iterdir()) == []
