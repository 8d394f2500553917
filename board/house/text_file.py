"""Reading a file that a person named: its whole text, or one line that says why not."""

import os
import stat
from pathlib import Path

from board.errors import HouseFileError

LARGEST_FILE = 20_000_000  # bytes; forty years of sales are a tenth of it
_SHELLS = ("/dev/stdin", "/dev/fd/", "/proc/self/fd/")  # pipes that a shell has opened, as in <(sort log.csv)
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")  # byte-order marks: The Unicode Standard, section 23.8
_KINDS = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


def is_there(path: Path) -> bool:
    """Whether something has the file's name, a link to nowhere too, or nobody may tell: reading says why."""
    try:
        return path.exists() or path.is_symlink()
    except OSError:
        return True


def read_text(path: Path) -> str:
    """A file's text, saved as UTF-8 with or without a byte-order mark.

    A pipe or a device is refused rather than waited for, unless the shell opened it.

    Raises:
        HouseFileError: names the file, what was found and what is allowed.
    """
    raw = _bytes_of(path)
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        found = "UTF-16" if raw.startswith(_UTF_16) else "text that is not UTF-8"
        line = raw[: error.start].count(b"\n") + 1
        raise HouseFileError(
            f"{path.name}, line {line}: found {found}, allowed a file saved as UTF-8 "
            "(a spreadsheet's CSV UTF-8)"
        ) from None


def _bytes_of(path: Path) -> bytes:
    """The file's bytes, never more than are allowed, whatever the system says of its size."""
    is_shells = str(path).startswith(_SHELLS)
    # to open a pipe would else wait for somebody to write to it
    waiting = 0 if is_shells else getattr(os, "O_NONBLOCK", 0)
    try:
        with open(path, "rb", opener=lambda name, flags: os.open(name, flags | waiting)) as file:
            if not is_shells:
                _check_is_file(path, os.fstat(file.fileno()).st_mode)
            raw = file.read(LARGEST_FILE + 1)
    except OSError as error:
        raise HouseFileError(
            f"{path.name}: cannot be read ({error.strerror}), allowed a file of text"
        ) from None
    if len(raw) > LARGEST_FILE:
        raise HouseFileError(f"{path.name}: found more than 20 MB, allowed a file of text up to that")
    return raw


def _check_is_file(path: Path, mode: int) -> None:
    for is_kind, called in _KINDS:
        if is_kind(mode):
            raise HouseFileError(f"{path.name}: found {called}, allowed a file of text")
