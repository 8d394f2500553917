"""A backup put in a ledger's place: in one transaction while boards have it open, or as a file of its own."""

import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from board.errors import LedgerError
from board.house.folder import found_again, is_text
from board.ledger.append import append
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import PATIENCE_SECONDS, connected, copy_into, told, unfinished
from board.ledger.backups.named import Kind, name_of
from board.ledger.backups.parting import Parting, parting
from board.ledger.backups.sound import DamagedError, Reached, check_sound, opened_to_read, reached
from board.ledger.backups.swap import ReplacedError, file_at, finish, keep_aside, swap_in
from board.ledger.faults import is_unwritten
from board.ledger.lean import Database
from board.ledger.open import open_copy
from board.ledger.schema import check_not_newer
from board.ledger.state import Entry
from board.ledger.superseding import begin_log_anew, supersede
from board.ledger.typed import Said, inert

TRIES = 20  # entries may be written between looking and restoring; then it is looked at again


@dataclass(frozen=True, slots=True)
class Restored:
    """What was done: the entry that says so, where what stood there is kept, and how the records part."""

    entry: Entry
    kept: Path | None
    parting: Parting | None


class _MovedOnError(Exception):
    """Something was written since it was looked what would be lost."""


def check_restorable(backup: Path) -> Reached:
    """Whether a backup is whole and this program can go on with it; how far it goes.

    Raises:
        LedgerError: damaged, not a ledger, or written by a newer program.
    """
    found = check_sound(backup)
    with opened_to_read(backup) as kept:
        names = kept.execute("SELECT name FROM _sqlite_migrations ORDER BY id")
        check_not_newer(str(backup), (name for (name,) in names))
    return found


def restore(ledger: Path, backup: Path, said: Said) -> Restored:
    """Put a backup in a ledger's place, and keep what stood there as a backup of its own.

    Boards that are open go on with what is restored; of a ledger that could not be read they say that
    it was replaced.

    Args:
        ledger: the ledger file; it may be damaged, or not be there.
        backup: a backup, or any whole ledger file.
        said: who does it and when, for the entry that tells of it.

    Raises:
        LedgerError: the backup is not whole or too new, no room, or the ledger is in use all the time.
    """
    source = check_restorable(backup)
    with told(f"{backup} could not be restored as {ledger}"), unfinished(folder_of(ledger)) as file:
        finish(ledger)
        for _ in range(TRIES):
            try:
                return _restored(ledger, backup, source, file, said)
            except (_MovedOnError, ReplacedError):
                continue
    raise LedgerError(f"the ledger {ledger} is written all the time; stop what feeds it, and try again")


def _restored(ledger: Path, backup: Path, source: Reached, file: Path, said: Said) -> Restored:
    """Restore in the way that what stands there allows."""
    stood = file_at(ledger)
    if stood and _is_sound(ledger):
        return _over(ledger, backup, source, file, said)
    kept = None
    if stood:
        moment = name_of(said.at, 0, Kind.RESTORE).partition("-0-")[0]
        kept = keep_aside(ledger, folder_of(ledger) / f"{moment}-damaged.db")
    entry = _prepare(file, backup, ledger, said, _data(backup, source, kept))
    swap_in(file, ledger, stood)
    return Restored(entry, kept, None)


def _over(ledger: Path, backup: Path, source: Reached, file: Path, said: Said) -> Restored:
    """Prepare the file while nobody writes, then copy it over the ledger; only in between may one slip in."""
    with connected(ledger) as holder:
        holder.execute("PRAGMA journal_mode = WAL")  # so that it can be read while it is written over
        holder.execute("BEGIN IMMEDIATE")
        found, parts = _reached(ledger), parting(ledger, backup)
        kept = folder_of(ledger) / name_of(said.at, found.seq, Kind.RESTORE)
        data = _data(backup, source, kept) | {"was": found.seq, "was_sha256": found.sha256}
        if parts is not None:
            data |= {"common": parts.common, "lost": parts.lost, "back": parts.back}
        entry = _prepare(file, backup, ledger, said, data)
        holder.execute("ROLLBACK")
    _write_over(ledger, file, found, said.at)
    return Restored(entry, kept, parts)


def _is_sound(ledger: Path) -> bool:
    try:
        check_sound(ledger)
    except DamagedError:
        return False
    return True


def _data(backup: Path, source: Reached, kept: Path | None) -> dict[str, Any]:
    """What the entry tells of what was restored, and of where that is kept whose place it took."""
    data: dict[str, Any] = {"backup": inert(backup.name), "entry": source.seq, "sha256": source.sha256}
    return data | ({"kept": kept.name} if kept else {})


def _prepare(file: Path, backup: Path, ledger: Path, said: Said, data: dict[str, Any]) -> Entry:
    """Make of a backup the ledger that is to be: of this program, with the entry that tells of it."""
    shutil.copyfile(backup, file)
    log = backup.with_name(f"{backup.name}-wal")
    if log.exists():  # any ledger file may be named, also one that is open
        _copied_open(backup, file)
    try:
        with open_copy(file) as prepared:
            _find_house(prepared.db, ledger)
            with prepared.writing():
                return append(prepared, said, "restored", "", data)
    except LedgerError as error:  # of a copy that nobody knows of, and which goes
        if isinstance(error.__cause__, sqlite3.DatabaseError | OSError):
            raise error.__cause__ from None
        raise


def _copied_open(backup: Path, file: Path) -> None:
    with opened_to_read(backup) as source, closing(sqlite3.connect(file)) as target:
        source.backup(target)


def _find_house(db: Database, ledger: Path) -> None:
    """On another machine the house's files lie beside the ledger, where they are not where they were."""
    row = db.execute("SELECT folder FROM house").fetchone()
    if row:
        folder = found_again(Path(row[0]), ledger.absolute().parent)
        if folder != Path(row[0]) and is_text(folder):
            db.execute("UPDATE house SET folder = ?", (str(folder),))


def _write_over(ledger: Path, file: Path, found: Reached, at: datetime) -> None:
    """Copy all pages of the file over the ledger's in one transaction, once what stands there is kept."""
    is_kept = False
    waited = timedelta()

    def page_copied(status: int, *_: int) -> None:
        """From the first page on nobody else can write, and nobody sees what is written."""
        nonlocal is_kept, waited
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            waited += _PAUSE
            if waited.total_seconds() > PATIENCE_SECONDS:
                raise LedgerError(f"the ledger {ledger} stayed busy; wait a moment and try again")
        elif not is_kept:
            if _reached(ledger) != found:
                raise _MovedOnError
            copy_into(folder_of(ledger), ledger, Kind.RESTORE, at)
            is_kept = True

    with connected(file) as source, connected(ledger) as target:
        target.execute("PRAGMA synchronous = FULL")
        try:
            source.backup(target, pages=1, progress=page_copied, sleep=_PAUSE.total_seconds())
        except sqlite3.Error as failed:
            _take_back(ledger, failed)
            raise


def _take_back(ledger: Path, failed: sqlite3.Error) -> None:
    """Make sure that a copy which failed does not come back out of the log of a board that is killed."""
    try:
        with connected(ledger) as connection:
            db = Database(connection, execute_plugins=False)
            supersede(db)
            begin_log_anew(db)
    except sqlite3.Error as error:
        if not is_unwritten(failed):
            raise LedgerError(
                f"the ledger {ledger} could not be written by its disk, and nobody can say whether it was "
                "restored; check the disk, then look in the record before restoring again"
            ) from error


_PAUSE = timedelta(milliseconds=50)


def _reached(ledger: Path) -> Reached:
    with opened_to_read(ledger) as present:
        return reached(present)
