"""Writing whole files where a person named them: each is there entire, or as it was before."""

import errno
import os
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from tempfile import mkstemp

from board.errors import BoardError
from board.house.folder import NEEDED, OPTIONAL

_SHELLS = ("/dev/stdout", "/dev/fd/", "/proc/self/fd/")  # what a shell has opened, as in >(lp)

# What SQLite keeps beside a database: https://www.sqlite.org/tempfiles.html, 2
LOGS = ("-wal", "-shm", "-journal")
_DATABASE = b"SQLite format 3\x00"  # how every ledger begins: https://www.sqlite.org/fileformat2.html, 1.3.1


def put_file(path: Path, content: bytes) -> None:
    """Put a file in its place, in place of what stood there; only its owner may read it.

    Raises:
        BoardError: it cannot be written there; what stood there still does.
    """
    put_files([(path, content)])


def put_files(files: Sequence[tuple[Path, bytes]]) -> None:
    """Put some files in their places, none before all of them are on the disk.

    Raises:
        BoardError: names the one that cannot be written; what stood in the places of all still does.
    """
    _check_apart([path for path, _ in files if not _flows(path)])
    with ExitStack() as unfinished:
        whole = [(path, _beside(path, content, unfinished)) for path, content in files if not _flows(path)]
        for path, written in whole:
            with _told(path):
                written.replace(path.resolve())
                sync_folder(path.resolve().parent)
    for path, content in files:
        if _flows(path):
            with _told(path):
                path.write_bytes(content)


def _check_apart(paths: Sequence[Path]) -> None:
    """Each file has a place of its own; raises BoardError where the last would be the only one."""
    seen: set[str] = set()
    for path in paths:
        place = os.path.realpath(path)
        if place in seen:
            raise BoardError(f"{path} is named twice; name a file for each")
        seen.add(place)


def sync_folder(folder: Path) -> None:
    """Have the names in a folder on disk, where the system and the disk do that."""
    with suppress(OSError):
        sync_names(folder)


def sync_names(folder: Path) -> None:
    """Wait until the names in a folder are on disk, where the system can be asked for that.

    Raises:
        OSError: the disk does not take them.
    """
    try:
        opened = os.open(folder, os.O_RDONLY)
    except OSError:  # a system, or a folder, that cannot be asked for it
        return
    try:
        os.fsync(opened)
    except OSError as error:
        if error.errno in (errno.EIO, errno.ENOSPC):
            raise
    finally:
        os.close(opened)


def _beside(path: Path, content: bytes, unfinished: ExitStack) -> Path:
    """The file under another name beside its place, on the disk; it goes if it is not put there."""
    with _told(path):
        place = path.resolve()  # a link stays one
        if place.exists() and not place.is_file():
            raise BoardError(f"{path} cannot be written: it is no file; name another one")
        if place.exists() and (what := _never_written_over(place)):
            raise BoardError(f"{path} is not written over: it is {what}; name another file")
        opened, name = mkstemp(dir=place.parent, prefix=".board-", suffix=".new")
        unfinished.callback(Path(name).unlink, missing_ok=True)
        with os.fdopen(opened, "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
    return Path(name)


def _never_written_over(place: Path) -> str:
    """What a file is that holds what is nowhere else; empty of any other."""
    beside, log, _ = place.name.rpartition("-")
    if _is_database(place):
        return "a ledger"
    if log and place.name.endswith(LOGS) and _is_database(place.with_name(beside)):
        return "a ledger's log"
    is_of_house = place.name in (*NEEDED, *OPTIONAL) and place.with_name(NEEDED[0]).exists()
    return "a file of the house" if is_of_house else ""


def _is_database(place: Path) -> bool:
    """Whether a ledger's file; one in use is not opened, for to close it gives up this process's locks on it.

    Those are what keeps its log from being taken away (https://www.sqlite.org/howtocorrupt.html, 2.2).
    """
    if not place.is_file():
        return False
    if place.with_name(f"{place.name}-shm").exists():
        return True
    with place.open("rb") as there:
        return there.read(len(_DATABASE)) == _DATABASE


def _flows(path: Path) -> bool:
    """Whether what is written there goes on at once, as to a terminal or into a shell's pipe."""
    with _told(path):
        return path.is_char_device() or str(path).startswith(_SHELLS)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, RuntimeError) as error:  # RuntimeError: links that lead in a ring
        said = getattr(error, "strerror", None) or str(error)
        raise BoardError(f"{path} cannot be written: {said}; name another file") from None
