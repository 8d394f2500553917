"""Restoring: what would be lost is told, what stood there is kept, and open boards go on."""

import errno
import fcntl
import shutil
import sqlite3
import threading
from contextlib import closing
from datetime import UTC, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.backups import copy as copying
from board.ledger.backups import swap
from board.ledger.backups.catalogue import back_up, backups_in, folder_of
from board.ledger.backups.copy import copy_into, put
from board.ledger.backups.named import Backup, Kind, named
from board.ledger.backups.parting import Parting, furthest, parting
from board.ledger.backups.restore import restore
from board.ledger.backups.sound import check_sound
from board.ledger.backups.swap import ReplacedError, file_at, keep_aside, swap_in
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.typed import Said
from tests.ledger.by_hand import DAY, LOADED, ZONE

from .test_copy import NOW, dump, take

LATER = NOW + timedelta(hours=1)
SAID = Said("Ines", LATER, LATER)


@pytest.fixture
def backup(path: Path, planned: Ledger) -> Backup:
    """A backup of the planned day with ten readings; the ledger has five more."""
    take(planned, 10)
    made = back_up(path, Kind.ASKED, NOW, UTC)
    take(planned, 5)
    return made


def record_of(path: Path) -> list[tuple[object, ...]]:
    """All entries as they lie there."""
    with sqlite3.connect(path) as connection:
        return connection.execute("SELECT * FROM entries ORDER BY seq").fetchall()


def test_a_restored_ledger_is_the_backup_and_one_entry_that_says_so(path: Path, backup: Backup) -> None:
    """Every entry of the backup byte for byte, its state, and what was set aside and where it is kept."""
    before = dump(path)
    done = restore(path, backup.path, SAID)
    assert record_of(path)[:-1] == record_of(backup.path)
    with open_ledger(path) as ledger:
        assert len(read.readings(ledger, place="north")) == 10
        told = read.entries(ledger, since_seq=11)
    assert [(entry.seq, entry.kind, entry.who) for entry in told] == [(12, "restored", "Ines")]
    assert told[0].data["lost"] == 5
    assert (told[0].data["entry"], told[0].data["was"]) == (11, 16)
    assert done.kept is not None
    assert told[0].data["kept"] == done.kept.name
    assert dump(done.kept) == before
    assert check_sound(path).seq == 12


def test_what_was_set_aside_comes_back(path: Path, backup: Backup) -> None:
    """The ledger kept at a restore is a backup as any other."""
    before = record_of(path)
    kept = restore(path, backup.path, SAID).kept
    assert kept is not None
    assert parting(path, kept) == Parting(11, 1, 5)
    restore(path, kept, Said("Ada", LATER + timedelta(minutes=1), LATER + timedelta(minutes=1)))
    assert record_of(path)[:-1] == before


def test_the_newest_is_the_one_that_goes_on_from_what_a_wrong_clock_dated_later(
    path: Path, planned: Ledger, backup: Backup
) -> None:
    """What is dated a year ahead comes after those made since, and what a restore left after both."""
    ahead = copy_into(folder_of(path), path, Kind.DAILY, NOW + timedelta(days=365))
    take(planned, 1)
    since = copy_into(folder_of(path), path, Kind.DAILY, NOW + timedelta(hours=2))
    assert furthest([ahead, since, backup]) == since
    restore(path, backup.path, SAID)
    restored = copy_into(folder_of(path), path, Kind.DAILY, NOW + timedelta(hours=3))
    assert restored.seq < since.seq
    assert furthest([restored, since, backup]) == restored


def test_an_open_board_goes_on_with_what_is_restored(path: Path, planned: Ledger, backup: Backup) -> None:
    """It sees that something changed, reads what is there now, and its next mark is recorded."""
    seen = read.data_version(planned)
    with planned.reading():
        assert len(read.readings(planned, place="north")) == 15
        restore(path, backup.path, SAID)
        assert len(read.readings(planned, place="north")) == 15, "a moment that is being read stays whole"
    assert read.data_version(planned) != seen
    assert len(read.readings(planned, place="north")) == 10
    entry = write.note(planned, "going on", who="Ada", at=LATER, noted_at=LATER)
    assert entry.seq == 13
    assert check_sound(path).seq == 13


def test_restoring_while_others_write_loses_no_entry(path: Path, planned: Ledger, backup: Backup) -> None:
    """Each entry acknowledged meanwhile is in the ledger, or in what was kept of it."""
    acknowledged: list[str] = []
    stop = threading.Event()

    def go_on() -> None:
        with open_ledger(path) as own:
            while not stop.is_set():
                text = f"note {len(acknowledged)}"
                write.note(own, text, who="Ada", at=LATER, noted_at=LATER)
                acknowledged.append(text)
                stop.wait(0.02)

    writer = threading.Thread(target=go_on)
    writer.start()
    try:
        kept = restore(path, backup.path, SAID).kept
    finally:
        stop.set()
        writer.join()
    assert kept is not None
    found = [str(row[6]) for place in (kept, path) for row in record_of(place)]
    assert all(any(f'"{text}"' in data for data in found) for text in acknowledged)
    for place in (kept, path):
        check_sound(place)


@pytest.fixture
def damaged(path: Path, planned: Ledger, backup: Backup) -> bytes:
    """The ledger with some pages of noughts, and its backup beside it."""
    planned.close()
    content = bytearray(path.read_bytes())
    content[8192 : 8192 + 12 * 4096] = bytes(12 * 4096)
    path.write_bytes(content)
    return bytes(content)


def test_a_damaged_ledger_is_kept_as_it_is(path: Path, backup: Backup, damaged: bytes) -> None:
    """What cannot be read is set aside byte for byte, and the backup stands in its place."""
    done = restore(path, backup.path, SAID)
    assert done.kept is not None
    assert done.kept.read_bytes() == damaged
    assert record_of(path)[:-1] == record_of(backup.path)
    with open_ledger(path) as ledger:
        assert "lost" not in read.entries(ledger)[-1].data


@pytest.mark.parametrize("links", [True, False])
def test_two_kept_aside_at_one_moment_both_stay(
    links: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither takes the other's place, with its log too, on a disk with hard links and on one without."""

    def refused(*_: object) -> None:
        raise PermissionError(errno.EPERM, "no hard links here")

    if not links:
        monkeypatch.setattr(Path, "hardlink_to", refused)
    kept = []
    for content in (b"first", b"second"):
        ledger = tmp_path / f"{content.decode()}.db"
        for end in ("", "-wal"):
            ledger.with_name(ledger.name + end).write_bytes(content + end.encode())
        kept.append(keep_aside(ledger, tmp_path / "moment-damaged.db"))
    says = [(file.read_bytes(), file.with_name(f"{file.name}-wal").read_bytes()) for file in kept]
    assert says == [(b"first", b"first-wal"), (b"second", b"second-wal")]
    assert all(named(file) is None for file in kept), "no backup, so never thinned"
    assert links or {file.stat().st_mode & 0o777 for file in kept} == {0o600}


def test_half_a_copy_of_what_is_kept_aside_does_not_stay(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a disk without hard links that has no room, it would pass for the whole file."""
    ledger = tmp_path / "board.db"
    ledger.write_bytes(b"what stood there")
    for module, name in ((Path, "hardlink_to"), (shutil, "copyfile")):
        monkeypatch.setattr(module, name, failing)
    with pytest.raises(OSError, match="the disk fails"):
        keep_aside(ledger, tmp_path / "moment-damaged.db")
    assert list(tmp_path.iterdir()) == [ledger]


def test_a_damaged_ledger_kept_aside_twice_at_one_moment(path: Path, backup: Backup, damaged: bytes) -> None:
    """A second restore within the same millisecond is done too, and each kept what stood there."""
    first = restore(path, backup.path, SAID)
    path.write_bytes(damaged[:-1])
    second = restore(path, backup.path, SAID)
    assert first.kept is not None
    assert second.kept is not None
    assert (first.kept.read_bytes(), second.kept.read_bytes()) == (damaged, damaged[:-1])
    assert check_sound(path).seq == 12


def test_an_old_log_is_not_played_onto_a_restored_ledger(path: Path, planned: Ledger, backup: Backup) -> None:
    """A log that a killed board left beside a damaged ledger goes with that ledger."""
    log = path.with_name("board.db-wal")
    assert log.stat().st_size > 0
    content, main = log.read_bytes(), bytearray(path.read_bytes())
    planned.close()
    main[8192:20480] = bytes(12288)
    path.write_bytes(main)
    log.write_bytes(content[:5000])
    done = restore(path, backup.path, SAID)
    assert done.kept is not None
    assert done.kept.with_name(f"{done.kept.name}-wal").exists()
    assert record_of(path)[:-1] == record_of(backup.path)
    check_sound(path)


def failing(*_: object) -> None:
    """A disk that does not take what is synced."""
    raise OSError(errno.EIO, "the disk fails")


def test_a_file_whose_log_holds_something_still_is_not_put_in_place(path: Path, planned: Ledger) -> None:
    """Where the disk failed as a log was taken in, what it holds would be left behind: nothing is done."""
    file = path.with_name("file")
    for end in ("", "-wal"):
        shutil.copyfile(f"{path}{end}", f"{file}{end}")
    with pytest.raises(OSError, match="error"):
        put(file, path.with_name("place"))
    assert file.exists()
    assert not path.with_name("place").exists()


def test_a_file_that_could_not_be_put_in_place_does_not_get_there_later(
    path: Path, planned: Ledger, backup: Backup, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was told as not restored stays so: the next to open the ledger finds nothing to put there."""
    planned.close()
    before = record_of(path)
    file = copy_into(path.parent / "elsewhere", backup.path, Kind.ASKED, LATER).path
    monkeypatch.setattr(copying, "sync_names", failing)
    with pytest.raises(OSError, match="the disk fails"):
        swap_in(file, path, file_at(path))
    open_ledger(path).close()
    assert record_of(path) == before


def test_where_it_cannot_be_taken_back_nobody_is_told_that_it_was(
    path: Path, planned: Ledger, backup: Backup, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The line says that nobody knows, and where to look."""
    planned.close()
    file = copy_into(path.parent / "elsewhere", backup.path, Kind.ASKED, LATER).path
    for module in (copying, swap):
        monkeypatch.setattr(module, "sync_names", failing)
    with pytest.raises(LedgerError, match=r"nobody can say.*look in the record"):
        swap_in(file, path, file_at(path))


def test_a_file_that_another_put_in_place_is_there(
    path: Path, planned: Ledger, backup: Backup, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever opens the ledger puts in place what waits; then it is done, though the disk failed before.

    Where programs have no lock to wait for, that may be while it is put there.
    """
    planned.close()
    monkeypatch.setattr(swap, "fcntl", None)
    file = copy_into(path.parent / "elsewhere", backup.path, Kind.ASKED, LATER).path

    def opened_by_another(folder: Path) -> None:
        monkeypatch.undo()
        open_ledger(path).close()
        failing()

    monkeypatch.setattr(copying, "sync_names", opened_by_another)
    swap_in(file, path, file_at(path))
    assert record_of(path) == record_of(backup.path)


def test_a_board_writes_nothing_into_a_log_that_was_taken_away(
    path: Path, planned: Ledger, backup: Backup, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the disk fails once the old log is gone, the new file waits on and is there when next opened."""
    file = copy_into(path.parent / "elsewhere", backup.path, Kind.ASKED, LATER).path
    replaced = Path.replace

    def refused(self: Path, target: Path) -> Path:
        if target == path:
            failing()
        return replaced(self, target)

    monkeypatch.setattr(Path, "replace", refused)
    with pytest.raises(LedgerError, match=r"nobody can say.*look in the record"):
        swap_in(file, path, file_at(path))
    with pytest.raises(LedgerError, match=r"could not be put in its place.*check its disk"):
        open_ledger(path)
    monkeypatch.undo()
    with pytest.raises(LedgerError, match="or begin again with what is there now"):
        write.note(planned, "lost?", who="Ada", at=LATER, noted_at=LATER)
    open_ledger(path).close()
    assert record_of(path) == record_of(backup.path)


def test_nothing_is_put_in_the_place_of_what_was_not_looked_at(
    path: Path, planned: Ledger, backup: Backup
) -> None:
    """Of two that replace a ledger at once, the second would lose what boards wrote into the first's."""
    planned.close()
    stood = file_at(path)
    first, second = (
        copy_into(path.parent / name, backup.path, Kind.ASKED, LATER).path for name in ("first", "second")
    )
    path.with_name("kept").hardlink_to(path)
    swap_in(first, path, stood)
    with open_ledger(path) as ledger:
        write.note(ledger, "since", who="Ada", at=LATER, noted_at=LATER)
    with pytest.raises(ReplacedError, match="look at it anew"):
        swap_in(second, path, stood)
    with open_ledger(path) as ledger:
        assert [entry.data["text"] for entry in read.entries(ledger, kinds=["note"])][-1:] == ["since"]


def test_a_mended_file_that_waits_is_put_in_place_before_a_restore(
    path: Path, planned: Ledger, backup: Backup, damaged: bytes
) -> None:
    """A mending that was killed saved what the damaged file held; what is restored sets that aside whole."""
    mended = copy_into(path.parent / "elsewhere", backup.path, Kind.ASKED, LATER).path
    mended.replace(path.with_name(f"{path.name}.restoring"))
    done = restore(path, backup.path, SAID)
    assert done.kept is not None
    check_sound(done.kept)


@pytest.mark.parametrize("without", ["the system", "the disk"])
def test_a_file_is_put_in_place_where_there_are_no_locks(
    path: Path, planned: Ledger, backup: Backup, monkeypatch: pytest.MonkeyPatch, without: str
) -> None:
    """A system may have none, or a disk on some networks."""
    planned.close()
    file = copy_into(path.parent / "elsewhere", backup.path, Kind.ASKED, LATER).path
    if without == "the system":
        monkeypatch.setattr(swap, "fcntl", None)
    else:
        monkeypatch.setattr(fcntl, "flock", failing)
    swap_in(file, path, file_at(path))
    assert record_of(path) == record_of(backup.path)


def test_what_could_not_be_cleared_away_makes_no_restore_fail(
    path: Path, backup: Backup, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A half-made copy that stays, because its disk is full, goes a day later; what was done is told."""
    removed = Path.unlink

    def refused(self: Path, missing_ok: bool = False) -> None:
        if self.name.startswith("."):
            failing()
        removed(self, missing_ok=missing_ok)

    monkeypatch.setattr(Path, "unlink", refused)
    assert restore(path, backup.path, SAID).entry.seq == 12


def test_a_board_on_a_ledger_that_was_replaced_says_what_to_do(
    path: Path, planned: Ledger, backup: Backup
) -> None:
    """It writes nothing to the file that was set aside, and names the way on."""
    with path.open("r+b") as file:
        file.seek(20 * 4096)
        file.write(bytes(20 * 4096))
    restore(path, backup.path, SAID)
    with pytest.raises(LedgerError, match="or begin again with what is there now"):
        write.note(planned, "lost?", who="Ada", at=LATER, noted_at=LATER)
    planned.close()
    check_sound(path)


def test_a_backup_is_restored_where_there_is_no_ledger(path: Path, planned: Ledger, backup: Backup) -> None:
    """On another machine the stick is all there is; the house's files beside it are found."""
    elsewhere = path.parent / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "house.toml").touch()
    planned.db.execute("UPDATE house SET folder = '/nowhere'")
    made = back_up(path, Kind.ASKED, LATER, UTC)
    done = restore(elsewhere / "board.db", made.path, SAID)
    assert (done.kept, done.parting) == (None, None)
    with open_ledger(elsewhere / "board.db") as ledger:
        assert ledger.house is not None
        assert ledger.house.folder == str(elsewhere)
        assert read.load_states(ledger, DAY)


def test_a_raw_ledger_file_may_be_restored(path: Path, planned: Ledger, tmp_path: Path) -> None:
    """Somebody's own copy of an open ledger, with the log beside it, holds what the log holds."""
    take(planned, 7)
    for end in ("", "-wal"):
        shutil.copyfile(f"{path}{end}", tmp_path / f"mine{end}")
    restore(path, tmp_path / "mine", SAID)
    assert len(record_of(path)) == 1 + 7 + 1


def test_a_backup_put_in_place_by_hand_is_a_ledger(path: Path, planned: Ledger, backup: Backup) -> None:
    """Copied with the shell where the ledger was, it opens, writes ahead and takes marks."""
    planned.close()
    for end in ("", "-wal", "-shm"):
        Path(f"{path}{end}").unlink(missing_ok=True)
    shutil.copyfile(backup.path, path)
    with open_ledger(path) as ledger:
        assert ledger.db.journal_mode == "wal"
        assert write.note(ledger, "here", who="Ada", at=LATER, noted_at=LATER).seq == 12


def test_a_newer_backup_is_refused(path: Path, backup: Backup) -> None:
    """Nothing is touched, and the words to fix it are said."""
    with sqlite3.connect(backup.path) as copy:
        copy.execute("INSERT INTO _sqlite_migrations VALUES (999, 'board.ledger', '0999 x', '')")
    before = dump(path)
    with pytest.raises(LedgerError, match=r"newer program.*“0999 x”.*pip install --upgrade board"):
        restore(path, backup.path, SAID)
    assert dump(path) == before
    assert len(backups_in(folder_of(path))) == 1


def test_a_damaged_backup_is_refused(path: Path, backup: Backup) -> None:
    """A backup that is not whole never takes a ledger's place."""
    content = bytearray(backup.path.read_bytes())
    content[8192:12288] = bytes(4096)
    backup.path.write_bytes(content)
    before = dump(path)
    with pytest.raises(LedgerError, match="take another backup"):
        restore(path, backup.path, SAID)
    assert dump(path) == before


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 6), st.integers(0, 6), st.integers(0, 6))
def test_parting_counts_what_each_has_beyond(
    tmp_path_factory: pytest.TempPathFactory, common: int, ours: int, theirs: int
) -> None:
    """Two records that begin alike part after what they share, whatever follows."""
    folder = tmp_path_factory.mktemp("parting")
    one, other = folder / "one", folder / "other"
    with create_ledger(one, "Cinder & Rye", ZONE, folder) as ledger:
        take(ledger, common)
        made = back_up(one, Kind.ASKED, NOW, UTC).path
        take(ledger, ours)
    shutil.copyfile(made, other)
    with open_ledger(other) as ledger:
        for number in range(theirs):
            write.note(ledger, f"{number}", who="Max", at=LOADED, noted_at=LOADED)
    assert parting(one, other) == Parting(common, ours, theirs)


def test_a_ledger_that_is_only_busy_is_not_set_aside(
    path: Path, planned: Ledger, backup: Backup, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A program that keeps a ledger to itself is waited for and told of; the ledger stays where it is."""
    planned.close()
    before = path.read_bytes()
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(LedgerError, match="kept busy by another program"):
            restore(path, backup.path, SAID)
    assert path.read_bytes() == before
