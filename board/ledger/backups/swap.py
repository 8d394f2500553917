"""A file put in the place of a ledger that cannot be read: a kill at any moment leaves the one or the other.

The new file first lies beside the ledger, whole and on disk, under a name of its own; from then on whoever
opens the ledger puts it in place. The old one's log goes before: SQLite would play it onto the new file.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path

from board.errors import LedgerError
from board.house.put_file import LOGS, sync_folder, sync_names
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import put, sync

try:
    import fcntl
except ImportError:  # a system without such locks goes without
    fcntl = None  # type: ignore[assignment]


class ReplacedError(LedgerError):
    """Another file stands in a ledger's place than the one that was looked at and kept."""


def file_at(path: Path) -> tuple[int, int] | None:
    """Which file lies there; None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def check_stands(ledger: Path, stood: tuple[int, int] | None) -> None:
    """What a ledger was may have been replaced, and the new one written to, while it was looked at.

    Raises:
        ReplacedError: another file stands there than `stood`.
    """
    if file_at(ledger) != stood:
        raise ReplacedError(
            f"the ledger {ledger} was replaced just now, as by another mending; look at it anew"
        )


def swap_in(file: Path, ledger: Path, stood: tuple[int, int] | None) -> None:
    """Put a whole file in the place of one that is kept elsewhere already.

    Args:
        file: the one to put there.
        ledger: the place.
        stood: what stood there when it was kept, None for nothing.

    Raises:
        ReplacedError: another stands there by now; nothing was put there.
        OSError: the disk does not take it; nothing was put there, nor will be.
        LedgerError: the disk fails so that nobody knows.
    """
    which = file_at(file)
    with alone_at(ledger):
        check_stands(ledger, stood)
        logs = [log for log in _logs(ledger) if log.exists()]
        try:
            put(file, _waiting(ledger))
            _put_in_place(ledger)
        except OSError as error:
            if file_at(ledger) == which:  # somebody else put it there, where there are no locks
                return
            if not all(log.exists() for log in logs):  # a board that has one open would write on in it
                raise _unknown(ledger) from error
            _take_back(ledger)
            raise


def _take_back(ledger: Path) -> None:
    """Let nothing wait to take a ledger's place, or the next to open it would put it there."""
    try:
        if _waiting(ledger).exists():
            _waiting(ledger).unlink()
            sync_names(ledger.parent)
    except OSError as error:
        raise _unknown(ledger) from error


def _unknown(ledger: Path) -> LedgerError:
    return LedgerError(
        f"the disk of {ledger} fails, and nobody can say whether another file will take its place; "
        "check the disk, open it, then look in the record"
    )


def finish(ledger: Path) -> None:
    """Put in place what was about to be when its program was killed; else nothing is done.

    Raises:
        OSError: the disk does not take it; it waits on.
    """
    if not is_waited_for(ledger):
        return
    with alone_at(ledger):
        _put_in_place(ledger)


def _put_in_place(ledger: Path) -> None:
    """Put there what waits, where nobody else did it meanwhile."""
    if not is_waited_for(ledger):
        return
    for log in _logs(ledger):
        log.unlink(missing_ok=True)
    sync_names(ledger.parent)  # before the file has its name: it must never meet the old log
    _waiting(ledger).replace(ledger)
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
        kept.touch(mode=0o600, exist_ok=False)
        try:
            shutil.copyfile(file, kept)
        except OSError:
            kept.unlink()  # half a copy would pass for a whole one
            raise
        sync(kept)


def _logs(ledger: Path) -> list[Path]:
    return [ledger.with_name(f"{ledger.name}{log}") for log in LOGS]


def _waiting(ledger: Path) -> Path:
    return ledger.with_name(f"{ledger.name}.restoring")


@contextmanager
def alone_at(ledger: Path) -> Iterator[None]:
    """Only one program at a time puts a file in a ledger's place; where there is no lock, it goes without."""
    if fcntl is None:
        yield
        return
    folder_of(ledger).mkdir(mode=0o700, exist_ok=True)
    lock = os.open(folder_of(ledger) / ".restoring.lock", os.O_RDWR | os.O_CREAT, 0o600)
    try:
        with suppress(OSError):  # so does a disk that has none, as on some networks
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield
    finally:
        os.close(lock)
