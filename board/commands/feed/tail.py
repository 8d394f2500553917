"""The lines of a file that grows, is cut short, written anew, or put aside for a new one of its name."""

import os
from contextlib import suppress
from glob import escape
from pathlib import Path
from typing import BinaryIO

from board.commands.feed.file_place import HEAD, FilePlace, hash_of
from board.commands.feed.lines import Lines
from board.errors import BoardError
from board.probes.limits import bounds

_CHUNK = 1 << 17


class Tail:
    """Reads a file on from a place, and notices when it is no more the file that was read."""

    def __init__(self, path: Path) -> None:
        self.path = path.absolute()
        self._file = _opened(self.path)
        self._begin(FilePlace(str(self.path)))

    def go_to(self, place: FilePlace) -> bool:
        """Go on from a place, in whichever file it is by now; from the beginning (False) if in none."""
        if not _holds(self._file, place) and (older := self._put_aside(place)):
            self._file.close()
            self._file = older
        found = _holds(self._file, place)
        self._begin(place if found else FilePlace(str(self.path)))
        return found

    def place(self) -> FilePlace:
        """The place after the last whole line that was given."""
        offset = self._read - len(self._lines.rest)
        head = self._head[:offset]
        return FilePlace(str(self.path), offset, head_bytes=len(head), head=hash_of(head))

    def more(self) -> list[bytes] | None:
        """The whole lines of what it has grown by, if any; None where it has not grown."""
        data = self._file.read(_CHUNK)
        if not data:
            return None
        self._read += len(data)
        self._head += data[: HEAD - len(self._head)]
        return self._lines.add(data)

    @property
    def has_rest(self) -> bool:
        """Whether a line has begun that has no end; it is not counted as read."""
        return bool(self._lines.rest)

    def is_another(self) -> bool:
        """Whether it was cut short or written anew since; it is then read from its beginning."""
        if _holds(self._file, self.place()):
            return False
        self._begin(FilePlace(str(self.path)))
        return True

    def is_put_aside(self) -> bool:
        """At its end: whether another file has its name by now, which is then read."""
        try:
            there = self.path.stat()
        except OSError:  # about to be made again
            return False
        here = os.fstat(self._file.fileno())
        if (there.st_dev, there.st_ino) == (here.st_dev, here.st_ino):
            return False
        try:
            fresh = _opened(self.path)
        except BoardError:  # about to be given to us
            return False
        self._file.close()
        self._file = fresh
        self._begin(FilePlace(str(self.path)))
        return True

    def _begin(self, place: FilePlace) -> None:
        self._head = os.pread(self._file.fileno(), min(place.offset, HEAD), 0)
        self._read = place.offset
        self._lines = Lines(bounds().longest_bytes)
        self._file.seek(place.offset)

    def _put_aside(self, place: FilePlace) -> BinaryIO | None:
        """The file beside it that holds a place in what was read, such as north.csv.1."""
        for beside in sorted(self.path.parent.glob(f"{escape(self.path.name)}?*")) if place.offset else ():
            with suppress(BoardError):
                file = _opened(beside)
                if _holds(file, place):
                    return file
                file.close()
        return None


def _holds(file: BinaryIO, place: FilePlace) -> bool:
    """Whether that place is in that file: it is long enough and begins alike."""
    beginning = os.pread(file.fileno(), place.head_bytes, 0)
    return place.offset <= os.fstat(file.fileno()).st_size and place.head == hash_of(beginning)


def _opened(path: Path) -> BinaryIO:
    try:
        if not path.is_file():
            raise BoardError(f"{path} is {'no file' if path.exists() else 'not there'}; name a CSV file")
        return path.open("rb", buffering=0)
    except OSError as error:
        raise BoardError(f"{path} cannot be read ({error.strerror}); allow reading it") from error
