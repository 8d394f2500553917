"""What the doctor mends: everything that its own record or a backup proves; what is lost is told."""

import shutil
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from board.errors import LedgerError
from board.ledger import read
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import copy_into
from board.ledger.backups.named import Kind
from board.ledger.backups.sound import check_sound
from board.ledger.doctor import mend as mending
from board.ledger.doctor.examine import examine
from board.ledger.doctor.finding import Findings
from board.ledger.doctor.mend import Mended, mend
from board.ledger.doctor.printed import Printed
from board.ledger.open import open_ledger
from board.ledger.pieces import Piece, pieces

from .tampering import add_reading, make_evening, tampering

NOW = datetime(2026, 12, 9, 12, 0, tzinfo=UTC)
DB = sqlite3.Connection


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The ledger of an evening, to be copied."""
    return make_evening(tmp_path_factory.mktemp("made") / "board.db")


@pytest.fixture
def evening(made: Path, path: Path) -> Path:
    """The ledger of an evening."""
    return Path(shutil.copy(made, path))


def record_of(path: Path) -> dict[int, Piece]:
    """All entries with their links and documents."""
    with closing(sqlite3.connect(path)) as db:
        return {piece.entry.seq: piece for piece in pieces(db)}


def mended(path: Path) -> Mended:
    """The ledger mended; it is sound afterwards, can be backed up, and takes another entry."""
    done = mend(path, "Ada", NOW)
    assert not done.before.sound
    assert done.after.faults == ()
    if done.kept is not None:
        assert done.kept.stat().st_mode & 0o777 == 0o600
    assert not list(path.parent.glob("*.restoring"))
    with open_ledger(path) as ledger:
        add_reading(ledger, 9)
    check_sound(path)
    assert examine(path).sound
    return done


def told_in_record(path: Path) -> dict[str, object]:
    """What the mending told of what is missing."""
    with open_ledger(path) as ledger:
        data = dict(read.entries(ledger, kinds=("mended",))[-1].data)
    return {name: value for name, value in data.items() if name not in ("found", "kept")}


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE loads SET portions_left = 3",
        "DELETE FROM bearing",
        "DROP INDEX loads_id",
        "DROP TABLE pins",
        "DROP TABLE readings",
        "DROP TRIGGER entries_no_update",
        "ALTER TABLE pins ADD COLUMN more TEXT",
    ],
)
def test_whatever_follows_from_the_record_is_made_anew(evening: Path, statement: str) -> None:
    """State, indexes, tables and triggers come back; no entry is lost or changed."""
    before = record_of(evening)
    with closing(sqlite3.connect(evening, isolation_level=None)) as db:
        db.execute(statement)
    done = mended(evening)
    assert done.kept is not None
    assert record_of(done.kept) == before
    after = record_of(evening)
    assert {seq: after[seq] for seq in before} == before
    assert told_in_record(evening) == {}


def change(db: DB) -> None:
    """Make a reading a better one."""
    db.execute("""UPDATE entries SET data = '{"temperature_c":121.0}' WHERE seq = 3""")


def unlink(db: DB) -> None:
    """Forget one link and spoil another."""
    db.execute("DELETE FROM links WHERE seq = 6")
    db.execute("UPDATE links SET sha256 = 'ff' WHERE seq = 9")


def remove(db: DB) -> None:
    """Take the plan, the note and the load's mark out, with all links but one."""
    for seq in (1, 6, 7):
        db.execute("DELETE FROM entries WHERE seq = ?", (seq,))
        db.execute("DELETE FROM plans WHERE seq = ?", (seq,))
    db.execute("DELETE FROM links WHERE seq IN (1, 7)")


def cut_off(db: DB) -> None:
    """Forget the last two entries."""
    for table in ("links", "entries"):
        db.execute(f"DELETE FROM {table} WHERE seq > 10")


def spoil_the_plan(db: DB) -> None:
    """Plan more portions than were planned."""
    db.execute("UPDATE plans SET document = replace(document, '96', '97')")


DAMAGES = [change, unlink, remove, cut_off, spoil_the_plan]


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_record_is_whole_again_from_a_backup(evening: Path, damage: Callable[[DB], None]) -> None:
    """What the links prove of a backup's entries takes the place of what was damaged."""
    before = record_of(evening)
    copy_into(folder_of(evening), evening, Kind.ASKED)
    with tampering(evening) as db:
        damage(db)
    mended(evening)
    after = record_of(evening)
    assert {seq: after[seq] for seq in before} == before
    assert told_in_record(evening) == {}


@pytest.mark.parametrize(
    ("damage", "missing"),
    [
        (change, {"taken": {"3"}, "signatures": [10]}),
        (unlink, {}),
        (remove, {"lost": [[1, 1], [6, 7]], "taken": {"2", "8"}, "signatures": [10]}),
        (cut_off, {"lost": [[11, 12]]}),
        (spoil_the_plan, {"plans": [1]}),
    ],
)
def test_what_no_backup_has_is_told_and_stays_told(
    evening: Path, damage: Callable[[DB], None], missing: dict[str, object]
) -> None:
    """A loss is named in the record; afterwards the ledger is sound but for what was told."""
    with tampering(evening) as db:
        damage(db)
    mended(evening)
    told = told_in_record(evening)
    if "taken" in told:
        told["taken"] = set(told["taken"])  # type: ignore[call-overload]
    assert told == missing
    assert bool(missing) == any(look.notes for look in examine(evening).looks if look.what != "clocks")
    with tampering(evening) as db:
        db.execute("UPDATE entries SET who = 'Max' WHERE seq = 2")
    assert not examine(evening).sound


def test_an_entry_kept_as_found_is_not_changed_again_unseen(evening: Path) -> None:
    """What a mending let stand stands just so."""
    with tampering(evening) as db:
        change(db)
    mended(evening)
    with tampering(evening) as db:
        db.execute("""UPDATE entries SET data = '{"temperature_c":122.0}' WHERE seq = 3""")
    assert "entry 3 (reading north" in examine(evening).faults[0]


def test_entries_after_a_restore_do_not_come_back_from_a_backup_before_it(evening: Path) -> None:
    """Of two ways that a record went, only the one that the ledger's own links lead on is taken."""
    older = evening.with_name("older.db")
    shutil.copy(evening, older)
    with open_ledger(evening) as ledger:
        add_reading(ledger, 2)
    copy_into(folder_of(evening), evening, Kind.ASKED)
    shutil.move(older, evening)
    with open_ledger(evening) as ledger:
        add_reading(ledger, 3)
        add_reading(ledger, 4)
    before = record_of(evening)
    with tampering(evening) as db:
        db.execute("DELETE FROM entries WHERE seq = 13")
        db.execute("DELETE FROM links WHERE seq = 13")
    mend(evening, "Ada", NOW)
    after = record_of(evening)
    assert 13 not in after
    assert after[14] == before[14]
    assert told_in_record(evening)["lost"] == [[13, 13]]


def test_loose_permissions_are_mended_without_touching_the_content(evening: Path) -> None:
    """Only who may read it changes."""
    before = evening.read_bytes()
    evening.chmod(0o644)
    done = mended(evening)
    assert done.kept is None
    assert evening.stat().st_mode & 0o777 == 0o600
    assert evening.read_bytes()[:100][:16] == before[:16]


def test_a_sound_ledger_is_left_as_it_is(evening: Path) -> None:
    """There is nothing to mend, and nothing is written."""
    before = evening.read_bytes()
    assert mend(evening, "Ada", NOW).kept is None
    assert evening.read_bytes() == before


def test_a_file_beyond_reading_comes_back_from_its_backup(evening: Path) -> None:
    """Where nothing of the ledger can be read, all that the backup has is there again."""
    copy_into(folder_of(evening), evening, Kind.ASKED)
    before = record_of(evening)
    evening.write_bytes(b"coffee" * 4000)
    mended(evening)
    after = record_of(evening)
    assert {seq: after[seq] for seq in before} == before


def test_text_that_is_text_no_more_is_told_without_its_bytes(evening: Path) -> None:
    """A note with a byte that no UTF-8 has is lost and told; what is told can be written and printed."""
    content = evening.read_bytes()
    assert content.count(b"Ines") > 1
    evening.write_bytes(content.replace(b"door sticks", b"d\x83\x9br sticks"))
    done = mended(evening)
    assert all(fault.isprintable() for fault in done.before.faults)
    assert told_in_record(evening)["lost"] == [[7, 7]]


def test_whose_ledger_it_is_comes_back_from_a_backup(evening: Path) -> None:
    """The house's row is in no chain; the backup has it."""
    copy_into(folder_of(evening), evening, Kind.ASKED)
    with closing(sqlite3.connect(evening, isolation_level=None)) as db:
        db.execute("UPDATE house SET zone = 'America/Coffee'")
    with pytest.raises(
        LedgerError,
        match="zone “America/Coffee” that there is not; board doctor --mend mends",
    ):
        open_ledger(evening).clock(NOW)
    mended(evening)
    with open_ledger(evening) as ledger:
        assert ledger.zone.key == "America/Denver"


def test_signers_that_cannot_be_are_taken_from_a_backup(evening: Path) -> None:
    """Damage that leaves a row which no table of signers may hold stops no mending; a backup's rows stand."""
    with tampering(evening) as db:
        db.execute("INSERT INTO signers VALUES ('Ada', 1, x'00', x'11', 2, 8, 1, 0, NULL)")
    copy_into(folder_of(evening), evening, Kind.DAILY, NOW)
    with tampering(evening) as db:
        db.execute("DROP TABLE signers")
        db.execute("CREATE TABLE signers (who, seq, salt, hash, cost, block, lanes, wrong, wrong_at)")
        db.execute("INSERT INTO signers VALUES (NULL, 1, x'00', x'11', 2, 8, 1, 0, NULL)")
    mended(evening)
    with closing(sqlite3.connect(evening)) as db:
        assert db.execute("SELECT who, hash FROM signers").fetchall() == [("Ada", b"\x11")]


def test_of_two_that_mend_at_once_the_second_leaves_what_the_first_made(
    evening: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It would have saved what it had looked at, without what boards wrote into the new file since."""
    with closing(sqlite3.connect(evening, isolation_level=None)) as db:
        db.execute("UPDATE loads SET portions_left = 3")
    looks = mending.examine

    def while_another_mends(path: Path, pages: Sequence[Printed] = ()) -> Findings:
        found = looks(path, pages)
        monkeypatch.setattr(mending, "examine", looks)
        mend(path, "Ines", NOW)
        return found

    monkeypatch.setattr(mending, "examine", while_another_mends)
    with pytest.raises(LedgerError, match="replaced just now"):
        mend(evening, "Ada", NOW)
    with open_ledger(evening) as ledger:
        assert [entry.who for entry in read.entries(ledger, kinds=("mended",))] == ["Ines"]
    assert examine(evening).sound
