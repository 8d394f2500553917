"""One feed for each source: what two programs read at once would be counted and acknowledged twice."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from zlib import crc32

from board.errors import LedgerError

try:
    import fcntl
except ImportError:  # a system without such locks leaves it to its people
    fcntl = None  # type: ignore[assignment]

_PLACES = 1 << 30


@contextmanager
def one_feed(path: Path, source: str) -> Iterator[None]:
    """Hold a source of a ledger's for as long as the block runs; let go even by a killed program.

    Raises:
        LedgerError: another program feeds from it already, or there is no file to hold it by.
    """
    if fcntl is None:
        yield
        return
    beside = path.with_name(f"{path.name}.feeds")
    try:
        held = os.open(beside, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError as error:
        raise LedgerError(f"{beside} cannot be written; allow writing to its folder") from error
    try:
        try:  # a byte of the file for each source, so that one file serves all
            fcntl.lockf(held, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, crc32(source.encode()) % _PLACES)
        except OSError as error:
            raise LedgerError(
                f"{source} is fed into {path} by another program already; end that, or name this --as NAME"
            ) from error
        yield
    finally:
        os.close(held)
