"""What the doctor finds: nothing in a sound ledger, and whatever was changed in another."""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from board.errors import LedgerError
from board.ledger import links
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import copy_into
from board.ledger.backups.named import Kind
from board.ledger.backups.sound import Reached, check_sound
from board.ledger.chain import head
from board.ledger.doctor import backups as comparing
from board.ledger.doctor import examine as examining
from board.ledger.doctor.examine import examine
from board.ledger.doctor.printed import printed
from board.ledger.links import START, Stored
from board.ledger.open import open_ledger
from board.ledger.told import Told

from .tampering import add_reading, make_evening, tampering

DB = sqlite3.Connection


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The ledger of an evening, to be copied."""
    return make_evening(tmp_path_factory.mktemp("made") / "board.db")


@pytest.fixture
def evening(made: Path, path: Path) -> Path:
    """The ledger of an evening."""
    return Path(shutil.copy(made, path))


def told(path: Path) -> str:
    """All faults found, as one text."""
    return "\n".join(examine(path).faults)


def test_a_sound_ledger_is_called_sound(evening: Path) -> None:
    """Nothing is wrong after an evening of all kinds of entries, and looking changes no byte."""
    before = evening.read_bytes()
    found = examine(evening)
    assert found.sound
    assert [note for look in found.looks for note in look.notes] == []
    assert evening.read_bytes() == before


def change(db: DB) -> None:
    """Make a reading a better one."""
    db.execute("""UPDATE entries SET data = '{"temperature_c":121.0}' WHERE seq = 3""")


def rename(db: DB) -> None:
    """Say that somebody else signed."""
    db.execute("UPDATE entries SET who = 'Max' WHERE seq = 10")


def shift(db: DB) -> None:
    """Say that the load went on sooner."""
    db.execute("UPDATE entries SET at = '2026-12-09T01:30:00.000Z' WHERE seq = 6")


def remove(db: DB) -> None:
    """Take the note out."""
    db.execute("DELETE FROM links WHERE seq = 7")
    db.execute("DELETE FROM entries WHERE seq = 7")


def remove_and_number_anew(db: DB) -> None:
    """Take the note out and close the gap that it leaves."""
    remove(db)
    for table in ("links", "entries"):
        db.execute(f"UPDATE {table} SET seq = seq - 1 WHERE seq > 7")


def swap(db: DB) -> None:
    """Change the places of two readings."""
    rows = dict(db.execute("SELECT seq, data FROM entries WHERE seq IN (3, 11)").fetchall())
    db.execute("UPDATE entries SET data = ? WHERE seq = 3", (rows[11],))
    db.execute("UPDATE entries SET data = ? WHERE seq = 11", (rows[3],))


def insert(db: DB) -> None:
    """Write an entry at the end that nobody made."""
    rest = "at, noted_at, who, kind, subject, data, NULL"
    db.execute(f"INSERT INTO entries SELECT 13, {rest} FROM entries WHERE seq = 3")


def cut_off(db: DB) -> None:
    """Forget the last two entries and all that follows from them."""
    for table in ("bearing", "readings", "links", "entries"):
        db.execute(f"DELETE FROM {table} WHERE seq > 10")
    db.execute("DELETE FROM promises")


def change_the_plan(db: DB) -> None:
    """Plan more portions than were planned."""
    db.execute("UPDATE plans SET document = replace(document, '96', '97')")


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (change, "entry 3 (reading north, by Ines at 2026-12-09T02:00:00.000Z) is not as it was written"),
        (rename, "entry 10 (signature, by Max"),
        (shift, "entry 6 (load 1209-brisket-1"),
        (remove, "missing: entry 7"),
        (remove_and_number_anew, "entry 7 (correction north"),
        (swap, "entry 11 (reading north"),
        (insert, "entry 13 (reading north"),
        (cut_off, "missing at the end: entry 11 to 12"),
        (change_the_plan, "its document is missing or was changed"),
    ],
)
def test_a_changed_record_is_found(evening: Path, act: Callable[[DB], None], says: str) -> None:
    """Whatever is changed, removed, added or put elsewhere is named."""
    with tampering(evening) as db:
        act(db)
    assert says in told(evening)


def test_what_leads_nowhere_is_named_in_every_table(evening: Path) -> None:
    """A reference to a row that is gone is told by its number, also out of tables whose rows have none."""
    with tampering(evening) as db:
        db.execute("DELETE FROM entries WHERE seq = 3")
    found = told(evening)
    for table in ("bearing", "links", "readings"):
        assert f"a row of {table} names entries 3, which is not there" in found


def link_anew(db: DB) -> None:
    """Make a chain of whatever lies there, as the program would have."""
    previous = START
    for entry in [Stored(*row) for row in db.execute(links.ENTRIES)]:
        previous = links.link(previous, links.line(entry, links.UNKNOWN))
        db.execute("INSERT OR REPLACE INTO links VALUES (?, ?, '', NULL)", (entry.seq, previous))


@pytest.mark.parametrize("act", [change, shift])
def test_a_record_changed_with_its_whole_chain_is_found_by_a_signature(
    evening: Path, act: Callable[[DB], None]
) -> None:
    """Whoever can make the chain anew has still not what was signed."""
    with tampering(evening) as db:
        act(db)
        link_anew(db)
    assert "entry 10, the signature of Ines, is over other entries than lie there now" in told(evening)


def keep_backup(path: Path) -> str:
    """A backup beside the ledger, as it is now."""
    return copy_into(folder_of(path), path, Kind.ASKED).path.name


def test_a_tail_cut_off_without_a_trace_is_found_by_a_backup(evening: Path) -> None:
    """A backup knows how far the record once went."""
    kept = keep_backup(evening)
    with tampering(evening) as db:
        cut_off(db)
        db.execute("UPDATE sqlite_sequence SET seq = 10 WHERE name = 'entries'")
    assert told(evening) == f"entry 11 to 12 of the backup {kept} is missing here"


def test_a_backup_made_while_it_is_looked_at_is_no_fault(
    evening: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It holds entries written after the moment that is looked at, as where a board goes on writing."""
    looks = examining.told_of

    def while_a_board_writes(connection: DB) -> Told:
        found = looks(connection)
        with open_ledger(evening) as ledger:
            add_reading(ledger, 2)
        keep_backup(evening)
        return found

    monkeypatch.setattr(examining, "told_of", while_a_board_writes)
    assert told(evening) == ""


def test_a_backup_thinned_out_while_it_is_looked_at_is_no_fault(
    evening: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A board that makes the day's backup lets older ones go, at whatever moment."""
    keep_backup(evening)

    def thinned_out_after(path: Path) -> Reached:
        found = check_sound(path)
        path.unlink()
        return found

    monkeypatch.setattr(comparing, "check_sound", thinned_out_after)
    assert told(evening) == ""


def test_a_record_changed_with_its_whole_chain_is_found_by_a_backup(evening: Path) -> None:
    """A backup's chain goes the way the record went."""
    kept = keep_backup(evening)
    with open_ledger(evening) as ledger:
        add_reading(ledger, 2)
    assert told(evening) == ""
    with tampering(evening) as db:
        db.execute("UPDATE entries SET who = 'Max' WHERE seq = 11")
        link_anew(db)
    assert f"the backup {kept} has other entries than this ledger from entry 11 on" in told(evening)


@pytest.mark.parametrize(
    ("statement", "says"),
    [
        (
            "UPDATE loads SET portions_left = 3",
            "loads: 2026-12-09/1209-brisket-1 is not what the record gives",
        ),
        ("DELETE FROM pits", "pits lacks north"),
        ("INSERT INTO pits VALUES ('south', NULL, 99.0)", "pits has south, which follows from no entry"),
        ("DELETE FROM bearing WHERE family = 'pit'", "bearing lacks pit//north/2"),
        ("DROP INDEX loads_id", "the index loads_id is missing"),
        ("DROP TABLE pins", "the table pins is missing"),
        ("ALTER TABLE pins ADD COLUMN more TEXT", "the table pins was changed"),
    ],
)
def test_changed_state_is_found(evening: Path, statement: str, says: str) -> None:
    """A row or a table that is not what follows from the record is named."""
    with closing(sqlite3.connect(evening, isolation_level=None)) as db:
        db.execute(statement)
    assert says in told(evening)


@pytest.mark.parametrize(
    ("statement", "says"),
    [
        ("DROP TRIGGER entries_no_update", "the trigger entries_no_update is missing"),
        (
            "CREATE TRIGGER sly AFTER INSERT ON entries BEGIN DELETE FROM readings; END",
            "the trigger sly is none of the program's",
        ),
    ],
)
def test_a_guard_taken_away_or_set_is_found(evening: Path, statement: str, says: str) -> None:
    """The triggers are just the program's own."""
    with closing(sqlite3.connect(evening, isolation_level=None)) as db:
        db.execute(statement)
    assert told(evening) == says


def test_a_ledger_that_others_may_read_is_told(evening: Path) -> None:
    """The ledger is its owner's alone."""
    evening.chmod(0o644)
    assert told(evening) == "board.db may be read or written by others than its owner"


def test_what_is_no_ledger_is_refused(path: Path) -> None:
    """No file, or some other database, ends in one line."""
    with pytest.raises(LedgerError, match="there is no ledger"):
        examine(path)
    shutil.copy(__file__, path)
    with pytest.raises(LedgerError, match="is not a ledger"):
        examine(path)


def test_a_printed_head_is_compared(evening: Path) -> None:
    """A page tells whether the record is still the one it was printed from, by some digits of its head."""
    with open_ledger(evening) as ledger:
        page = printed("{}:{}".format(*head(ledger))[:16].upper())
        add_reading(ledger, 2)
    assert examine(evening, [page]).sound
    with tampering(evening) as db:
        change(db)
        link_anew(db)
    parted = examine(evening, [page]).faults
    assert parted[-1] == "the page was printed from another record: it parts at entry 12 or before"
    missing = examine(evening, [printed("99:0123456789")]).faults
    assert missing[-1] == "the page was printed from a record with an entry 99, which is missing here"
    with pytest.raises(LedgerError, match="--printed: found 'x', allowed an entry's number"):
        printed("x")
