"""Opening a ledger: one connection, its safety settings, and its migrations."""

import os
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from tempfile import mkstemp
from typing import Any, Self
from zoneinfo import ZoneInfo

from board.errors import BoardError, LedgerError
from board.house.folder import found_again, is_text
from board.house.model import Display
from board.house.put_file import LOGS, sync_folder, sync_names
from board.house.told_zone import told_clock_hours, told_zone
from board.house.wording import date_and_time, time_shown
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import copy_into, sync
from board.ledger.backups.named import Kind
from board.ledger.backups.swap import alone_at, file_at, finish, is_waited_for
from board.ledger.faults import UNKNOWN, is_told, is_unwritten, told_plainly
from board.ledger.lean import Database
from board.ledger.schema import APPLICATION_ID, check_not_newer, migrations
from board.ledger.state import LedgerHouse
from board.ledger.superseding import begin_log_anew, supersede
from board.ledger.times import zone_called
from board.ledger.turns import be_patient, begin
from board.ledger.uptime import Uptime, uptime

BUSY_SECONDS = 20.0  # how long a writer waits its turn before a person is told
Row = dict[str, Any]


@dataclass(slots=True)
class Bundle:
    """Entries that are taken back together: each but the first names the first."""

    first: int | None = None


class Ledger:
    """One connection to a ledger file, for one thread; a context manager that closes it.

    `uptime` is asked with each entry; where times are told instead of read from this machine's clock, it is
    `uptime.unknown`.
    """

    uptime: Callable[[], Uptime] = staticmethod(uptime)

    def __init__(self, path: Path) -> None:
        self.path = path
        with told_plainly(path):
            self.db = _connect(path)
        self._file = file_at(path)
        self._only_reading = False
        self._patience_seconds = BUSY_SECONDS
        self._is_unsettled = False  # whether what the log holds may come back, or be lost
        self.bundle: Bundle | None = None
        self.commits = 0  # since it was opened
        self.begin_again = "begin again with what is there now"  # once it was replaced; a board says how

    def __enter__(self) -> Self:
        return self

    def __exit__(self, _: object, error: BaseException | None, __: object) -> None:
        self.close()
        if isinstance(error, Exception) and not isinstance(error, BoardError):
            from board.ledger.doctor.blame import damage_behind  # noqa: PLC0415 - only where something fell

            if found := damage_behind(self.path, error):
                raise found from error

    def wait_at_most(self, seconds: float) -> None:
        """Wait so long for another writer before a person is told."""
        self._patience_seconds = seconds
        be_patient(self.db, seconds)

    def check_in_place(self) -> None:
        """What is written to a file that was taken away is lost, so nothing is written to it.

        Raises:
            LedgerError: the file was deleted or moved, or another lies in its place or is about to.
        """
        if file_at(self.path) != self._file or is_waited_for(self.path):
            raise LedgerError(
                f"the ledger {self.path.name} was taken away or replaced, nothing can be recorded: "
                f"put it back, or {self.begin_again} ({self.path})"
            )

    def close(self) -> None:
        """Close the connection; what was acknowledged is on disk already."""
        self.db.close()

    @cached_property
    def house(self) -> LedgerHouse | None:
        """Whose ledger this is; None when it was made without a house."""
        row = self.row("SELECT name, zone, folder FROM house")
        if row is None:
            return None
        folder = found_again(Path(row["folder"]), self.path.absolute().parent)
        return LedgerHouse(**row | {"folder": str(folder)})

    @cached_property
    def zone(self) -> ZoneInfo:
        """The zone in which this house tells the time: its files say; where they cannot, what it began in."""
        if self.house is None:
            return zone_called("UTC", self.path)
        return told_zone(Path(self.house.folder)) or zone_called(self.house.zone, self.path)

    @cached_property
    def clock_hours(self) -> int:
        """Whether this house's clock shows 12 hours or 24."""
        return told_clock_hours(Path(self.house.folder)) if self.house else Display().clock_hours

    def clock(self, at: datetime) -> str:
        """A moment as this house's clock shows it: 02:05, or 2:05 am."""
        return time_shown(at.astimezone(self.zone), self.clock_hours)

    def date_and_clock(self, at: datetime) -> str:
        """The same with its date, of whatever year: 02:05 on Wed 9 Dec 2026."""
        return date_and_time(at.astimezone(self.zone), self.clock_hours)

    def clock_beside(self, at: datetime, other: datetime) -> str:
        """The time of day of one moment beside another, with its date where that is of another day."""
        return self.clock(at) if self.day(at) == self.day(other) else self.date_and_clock(at)

    def with_offset(self, at: datetime) -> str:
        """A moment for other programs: ISO 8601 to the second, with the house's offset."""
        return at.astimezone(self.zone).isoformat(timespec="seconds")

    def day(self, at: datetime) -> date:
        """The date of a moment on this house's calendar."""
        return at.astimezone(self.zone).date()

    def rows(self, sql: str, values: Sequence[Any] | dict[str, Any] = ()) -> list[Row]:
        """All rows of a query, as dictionaries."""
        with told_plainly(self.path):
            cursor = self.db.execute(sql, values)
            names = [column[0] for column in cursor.description]
            return [dict(zip(names, row, strict=True)) for row in cursor]

    def row(self, sql: str, values: Sequence[Any] = ()) -> Row | None:
        """The first row of a query, or None."""
        found = self.rows(sql, values)
        return found[0] if found else None

    @contextmanager
    def writing(self) -> Iterator[None]:
        """One transaction: all of it is on disk when the block ends, or none of it ever.

        Inside another such block it is a part of that one, so that many entries can share a commit;
        they are on disk when the outermost block ends.

        Raises:
            LedgerError: busy, full, damaged or not writable.
            RuntimeError: inside a `reading` block, whose end would take the writes back.
        """
        if self._only_reading:
            raise RuntimeError("nothing is written inside a reading block")
        with told_plainly(self.path):
            if self.db.conn.in_transaction:
                with self.db.atomic():
                    yield
                return
            if self._is_unsettled:
                self._settle()
            begin(self.db, self._patience_seconds)
            try:
                self.check_in_place()  # it may have been replaced while this one waited its turn
                yield
            except BaseException:
                self.db.rollback()
                raise
            self._commit()

    @contextmanager
    def together(self) -> Iterator[None]:
        """One transaction of entries that one undo takes back."""
        with self.writing():
            if self.bundle is not None:
                yield
                return
            self.bundle = Bundle()
            try:
                yield
            finally:
                self.bundle = None

    @contextmanager
    def reading(self) -> Iterator[None]:
        """Several reads of one moment: what others write meanwhile is not seen in the block."""
        with told_plainly(self.path):
            if self.db.conn.in_transaction:
                yield
                return
            self.db.execute("BEGIN")
            self._only_reading = True
            try:
                yield
            finally:
                self._only_reading = False
                self.db.rollback()

    def take_log_in(self) -> None:
        """Have on disk what a log left by others holds; where that fails, nothing is written before it is."""
        be_patient(self.db, 0.0)  # who reads just now is not waited for
        try:
            begin_log_anew(self.db)
        except sqlite3.Error:
            self._is_unsettled = True
        be_patient(self.db, self._patience_seconds)

    def _commit(self) -> None:
        """Commit; where that fails, make sure that it never happened, or say that nobody knows."""
        try:
            self.db.execute("COMMIT")
            self.commits += 1
        except sqlite3.Error as failed:
            self._is_unsettled = True
            with suppress(sqlite3.Error):
                self.db.rollback()
            try:
                self._settle()
            except sqlite3.Error as error:
                if not is_unwritten(failed):
                    raise LedgerError(f"the ledger {self.path} {UNKNOWN}") from error
            raise

    def _settle(self) -> None:
        """Go on with a new connection once nothing of a failed commit can come back.

        The old one stays open until then: who opens a file that nobody has open reads its log anew, and takes
        what a failed commit left there for committed.
        """
        fresh = _connect(self.path)
        try:
            be_patient(fresh, self._patience_seconds)
            supersede(fresh)
            begin_log_anew(fresh)
        except BaseException:
            fresh.close()
            raise
        with suppress(sqlite3.Error):
            self.db.close()
        self.db, self._is_unsettled = fresh, False


def open_ledger(path: Path, *, create: bool = False) -> Ledger:
    """Open a ledger and bring its tables up to this program's version.

    Args:
        path: the ledger file.
        create: start an empty ledger, of no house, where there is no file.

    Raises:
        LedgerError: no such file or folder, not a ledger, not writable, busy, or written by a newer
            program; the line says what to do.
    """
    path = Path(path)
    if path.is_dir():
        raise LedgerError(f"{path} is a folder, not a ledger file; name the file in it")
    _finish(path)
    if not path.exists():
        if not create:
            starts = (path.parent / "house.toml").is_file()
            todo = (
                "start it in that folder with: board"
                if starts
                else "name it with --ledger, or see board demo"
            )
            raise LedgerError(f"there is no ledger {path}; {todo}")
        _build(path, None)
    if not path.is_file():
        raise LedgerError(f"{path} is a pipe or a device, not a ledger file; name the ledger file")
    with told_plainly(path):
        return _opened(path)


def _finish(path: Path) -> None:
    """Put in place what waits to take the ledger's place."""
    try:
        with told_plainly(path):
            finish(path)
    except OSError as error:
        raise LedgerError(
            f"the ledger {path} could not be put in its place: {error.strerror}; check its disk"
        ) from error


def create_ledger(path: Path, house_name: str, zone: str, house_folder: Path) -> Ledger:
    """Start a house's ledger in a new file and open it.

    Args:
        path: where the ledger will be; its folder must exist.
        house_name: as the house files give it.
        zone: the house's IANA zone, such as America/Denver.
        house_folder: the folder of house files.

    Raises:
        LedgerError: when there is a file already, it cannot be written, or the folder's name is no text.
    """
    path = Path(path)
    if not is_text(house_folder):
        raise LedgerError(f"the folder {house_folder} has a name that is no text; give it another one")
    if path.exists() or not _build(path, LedgerHouse(house_name, zone, str(house_folder))):
        raise LedgerError(f"{path} exists already; open it, or name a new file")
    return open_ledger(path)


def _build(path: Path, house: LedgerHouse | None) -> bool:
    """Make a whole ledger beside its place, then put it there: nobody opens a half-made one.

    Returns whether it is there; False when somebody else's got there first.
    """
    if not path.parent.is_dir():
        raise LedgerError(f"there is no folder {path.parent} for the ledger; make it first")
    try:  # a file that only its owner may read
        opened, name = mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".new")
        os.close(opened)
    except OSError as error:
        raise LedgerError(f"the ledger {path} cannot be written; allow writing to its folder") from error
    unfinished = Path(name)
    try:
        with told_plainly(path):
            _fill(unfinished, house)
        sync(unfinished)
        return _put_in_place(unfinished, path)
    except OSError as error:
        raise LedgerError(f"the ledger {path} could not be made: {error.strerror}; check its disk") from error
    finally:
        for end in ("", *LOGS):
            with suppress(OSError):
                unfinished.with_name(f"{unfinished.name}{end}").unlink(missing_ok=True)


def _fill(path: Path, house: LedgerHouse | None) -> None:
    """Write a whole ledger into one empty file; who gives it its name has it synced before."""
    db = _connect(path)
    try:
        db.execute("PRAGMA synchronous = OFF")
        _migrate(db)
        if house:
            db.execute("INSERT INTO house VALUES (1, ?, ?, ?)", (house.name, house.zone, house.folder))
        db.enable_wal()  # last: what a log still held would be left behind
    finally:
        db.close()


def _put_in_place(unfinished: Path, path: Path) -> bool:
    """Give the file its name, surely, unless there is one of that name by now."""
    try:
        path.hardlink_to(unfinished)
    except FileExistsError:
        return False
    except OSError:  # a disk without hard links, where a name is given over another's
        with alone_at(path):
            if path.exists():
                return False
            unfinished.rename(path)
    sync_folder(path.parent)
    return True


def _connect(path: Path) -> Database:
    """A connection that waits its turn, keeps references whole, and syncs each commit to disk."""
    connection = sqlite3.connect(
        path.absolute().as_uri() + "?mode=rw", uri=True, timeout=BUSY_SECONDS, isolation_level=None
    )
    db = Database(connection, execute_plugins=False)
    for setting in ("foreign_keys = ON", "synchronous = FULL"):
        db.execute(f"PRAGMA {setting}")
    return db


def open_copy(path: Path) -> Ledger:
    """Open a copy that is to take a ledger's place; what it is a copy of is its backup already."""
    with told_plainly(path):
        return _opened(path, is_kept=False)


def _opened(path: Path, *, is_kept: bool = True) -> Ledger:
    ledger = Ledger(path)
    try:
        _check_is_ledger(ledger)
        check_not_newer(f"the ledger {path}", (step.name for step in migrations.applied(ledger.db)))
        if migrations.pending(ledger.db):
            _migrate(ledger.db, keep=path if is_kept else None)
        _check_writable(ledger)
        _keep_names(path.parent)
        if ledger.db.journal_mode != "wal":  # a backup that somebody put in place by hand
            ledger.db.enable_wal()
        ledger.take_log_in()
    except BaseException:
        ledger.close()
        raise
    return ledger


def _check_is_ledger(ledger: Ledger) -> None:
    found = ledger.db.execute("PRAGMA application_id").fetchone()[0]
    if found != APPLICATION_ID:
        raise LedgerError(
            f"{ledger.path} is not a ledger of this program; name the ledger file, or a new one"
        )


def _check_writable(ledger: Ledger) -> None:
    """Find out now, and not at the first mark, that nothing can be written."""
    if not os.access(ledger.path, os.W_OK):
        raise LedgerError(
            f"the ledger {ledger.path} cannot be written; allow writing to the file and its folder"
        )


def _keep_names(folder: Path) -> None:
    """Have the names of the ledger and its log on disk; SQLite does not tell where that fails.

    Raises:
        LedgerError: the disk does not take them.
    """
    try:
        sync_names(folder)
    except OSError as error:
        raise LedgerError(f"the folder {folder} could not be written by its disk; check the disk") from error


def _migrate(db: Database, keep: Path | None = None) -> None:
    """Apply what is pending while holding the write lock, so that two openers do not both try.

    The ledger at `keep` is backed up before it is touched.
    """
    db.execute("BEGIN IMMEDIATE")
    try:
        if keep is not None and migrations.pending(db):
            copy_into(folder_of(keep), keep, Kind.MIGRATION)
        _apply(db, keep)
    except BaseException:
        db.rollback()
        raise
    db.execute("COMMIT")


def _apply(db: Database, path: Path | None) -> None:
    """Apply what is pending; what an old record holds that no migration can take in is told in a line."""
    try:
        migrations.apply(db)
    except sqlite3.DatabaseError as error:
        if is_told(error) or path is None:
            raise
        at = migrations.pending(db)[0].name
        raise LedgerError(
            f"the ledger {path} cannot be brought up to this program at “{at}”: {error}; "
            f"nothing was changed, its backup is in {folder_of(path)}"
        ) from error
