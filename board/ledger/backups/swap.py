"""A file put in the place of a ledger that cannot be read: a kill at any moment leaves the one or the other.

The new file first lies beside the ledger, whole and on disk, under a name of its own; from then on whoever
opens the ledger puts it in place. The old one's log goes before: SQLite would play it onto the new file.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from board.house.put_file import sync_folder
from board.ledger.backups.catalogue import folder_of
from board.ledger.backups.copy import put, sync

LOGS = ("-wal", "-shm", "-journal")  # what SQLite keeps beside a database


def swap_in(file: Path, ledger: Path) -> None:
    """Put a whole file in a ledger's place; what stands there must be kept elsewhere already."""
    put(file, _waiting(ledger))
    finish(ledger)


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


def keep_aside(ledger: Path, place: Path) -> None:
    """Give a ledger's file and its log names in another place too, where they stay as they are."""
    for end in ("", "-wal"):
        file, kept = ledger.with_name(f"{ledger.name}{end}"), place.with_name(f"{place.name}{end}")
        if file.exists():
            try:
                kept.hardlink_to(file)
            except OSError:  # a disk without hard links
                shutil.copyfile(file, kept)
                sync(kept)
    sync_folder(place.parent)


def _waiting(ledger: Path) -> Path:
    return ledger.with_name(f"{ledger.name}.restoring")


@contextmanager
def _alone(ledger: Path) -> Iterator[None]:
    """Only one program at a time puts a file in place; where the system has no such lock, it goes without."""
    with suppress(ImportError):
        import fcntl  # noqa: PLC0415 - not on Windows

        folder_of(ledger).mkdir(mode=0o700, exist_ok=True)
        lock = os.open(folder_of(ledger) / ".restoring.lock", os.O_RDWR | os.O_CREAT, 0o600)
        try:
            fcntl.flock(lock, fcntl.LOCK_EX)
            yield
        finally:
            os.close(lock)
        return
    yield
