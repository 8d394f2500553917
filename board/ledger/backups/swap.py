"""A file put in the place of a ledger that cannot be read: a kill at any moment leaves the one or the other.

The new file first lies beside the ledger, whole and on disk, under a name of its own; from then on whoever
opens the ledger puts it in place. The old one's log goes before: SQLite would play it onto the new file.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

from board.errors import LedgerError
from board.house.put_file import sync_folder
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import LOGS, put, sync, sync_names

try:
    import fcntl
except ImportError:  # a system without such locks goes without
    fcntl = None  # type: ignore[assignment]


def swap_in(file: Path, ledger: Path) -> None:
    """Put a whole file in a ledger's place; what stands there must be kept elsewhere already.

    Raises:
        OSError: the disk does not take it; nothing was put there, nor will be.
        LedgerError: the disk fails so that nobody knows.
    """
    which = file.stat().st_ino
    try:
        put(file, _waiting(ledger))
        finish(ledger)
    except OSError:
        if not _is_there(ledger, which):
            raise


def _is_there(ledger: Path, which: int) -> bool:
    """Whether somebody else put the file in place; if not it is taken back, or the next opener would."""
    try:
        with _alone(ledger):
            if ledger.exists() and ledger.stat().st_ino == which:
                return True
            if _waiting(ledger).exists():
                _waiting(ledger).unlink()
                sync_names(ledger.parent)
    except OSError as error:
        raise LedgerError(
            f"the disk of {ledger} fails, and nobody can say whether another file will take its place; "
            "check the disk, open it, then look in the record"
        ) from error
    return False


def finish(ledger: Path) -> None:
    """Put in place what was about to be when its program was killed; else nothing is done."""
    waiting = _waiting(ledger)
    if not waiting.exists():
        return
    with _alone(ledger):
        if waiting.exists():  # nobody else did it meanwhile
            for log in LOGS:
                ledger.with_name(f"{ledger.name}{log}").unlink(missing_ok=True)
            sync_folder(ledger.parent)
            waiting.replace(ledger)
            sync_folder(ledger.parent)


def is_waited_for(ledger: Path) -> bool:
    """Whether a file waits to be put in a ledger's place, as where a mending was killed."""
    return _waiting(ledger).exists()


def keep_aside(ledger: Path, place: Path) -> Path:
    """Give a ledger's file and its log names in another place too, where they stay as they are.

    Returns where; with a number to its name where another was kept aside at the same moment.
    """
    kept = place
    for number in count(2):
        try:
            _also_at(ledger, kept)
            break
        except FileExistsError:
            kept = place.with_stem(f"{place.stem}-{number}")
    log = ledger.with_name(f"{ledger.name}-wal")
    if log.exists():
        _also_at(log, kept.with_name(f"{kept.name}-wal"))
    sync_names(kept.parent)
    return kept


def _also_at(file: Path, kept: Path) -> None:
    """Give a file a name in another place too, or a copy on a disk without hard links; never over another.

    Raises:
        FileExistsError: there is one of that name.
    """
    try:
        kept.hardlink_to(file)
    except FileExistsError:
        raise
    except OSError:
        with file.open("rb") as source, kept.open("xb") as copy:
            shutil.copyfileobj(source, copy)
        sync(kept)


def _waiting(ledger: Path) -> Path:
    return ledger.with_name(f"{ledger.name}.restoring")


@contextmanager
def _alone(ledger: Path) -> Iterator[None]:
    """Only one program at a time puts a file in place; where the system has no such lock, it goes without."""
    if fcntl is None:
        yield
        return
    folder_of(ledger).mkdir(mode=0o700, exist_ok=True)
    lock = os.open(folder_of(ledger) / ".restoring.lock", os.O_RDWR | os.O_CREAT, 0o600)
    try:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield
    finally:
        os.close(lock)
