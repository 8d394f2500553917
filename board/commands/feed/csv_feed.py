"""Readings from a logger's CSV file, those still to come too where it is followed."""

from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from threading import Event

from board.commands.feed.file_place import place_of
from board.commands.feed.intake import Intake
from board.commands.feed.running import now
from board.commands.feed.saying import say
from board.commands.feed.tail import Tail
from board.errors import BoardError
from board.house.csv_file import told_mark
from board.house.probes import Probe
from board.probes.columns import Columns, columns_of, is_heading, told_by
from board.probes.reading import Told
from board.probes.refused import BadMessageError

_LOOK_SECONDS = 0.5
MOST_ABOVE = 20  # lines before a heading


class CsvFeed:
    """The rows of a file, by the last heading above them.

    A last line without its end may be half of one, in which 229 is 22: it waits for the rest.
    """

    def __init__(
        self, path: Path, named: Mapping[str, Probe], stop: Event, *, follow: bool, probe: str | None
    ) -> None:
        self._tail = Tail(path)
        self._named = named
        self._stop = stop
        self._follow = follow
        self._probe = probe
        self._forget()

    def begin(self, position: str) -> None:
        """Go on from a place, where there still is the file that was read; else from its beginning."""
        place = place_of(position, str(self._tail.path))
        self._forget()
        if self._tail.go_to(place) and place.heading:
            self._mark = place.mark
            self._read_heading(place.heading)
            if self._no_heading is not None:
                raise self._no_heading

    def pour(self, intake: Intake[None], seconds: float) -> bool:
        """Offer the rows that the file has grown by."""
        if self._tail.is_another():
            self._begin_anew("was written anew")
        lines = self._tail.more()
        if lines is not None:
            self._offer(intake, lines)
            return True
        if self._tail.is_put_aside():
            self._begin_anew("was replaced")
            return True
        if not self._follow:
            if self._no_heading is not None and self._columns is None:
                raise self._no_heading
            if self._tail.has_rest:
                say(f"{self._tail.path.name}: its last line has no end and is left out; add a line break")
            return False
        self._stop.wait(min(seconds, _LOOK_SECONDS))
        return True

    def position(self) -> str:
        """The place after the last whole row that was offered."""
        return replace(self._tail.place(), heading=self._heading, mark=self._mark).text()

    def done(self, tokens: Sequence[None]) -> None:
        """A file is read again from where it was read to."""

    def _forget(self) -> None:
        self._columns: Columns | None = None
        self._heading = self._mark = ""
        self._passed_over = 0
        self._no_heading: BoardError | None = None
        self._not_read = ""

    def _begin_anew(self, why: str) -> None:
        say(f"{self._tail.path.name} {why} and is read from its beginning")
        self._forget()

    def _offer(self, intake: Intake[None], lines: Iterable[bytes]) -> None:
        arrived = now()
        for line in lines:
            if self._columns is None and line.startswith((BOM_UTF16_LE, BOM_UTF16_BE)):
                raise BoardError(f"{self._tail.path.name} is in UTF-16; save it as CSV in UTF-8")
            if line.strip():
                self._offer_one(intake, _text(line), arrived)

    def _offer_one(self, intake: Intake[None], text: str, arrived: datetime) -> None:
        columns = self._columns
        if columns is None:
            self._read_above(text)
        elif is_heading(text, columns):
            self._read_again(text)
        else:
            intake.take(lambda: self._told(text, columns), text, None, arrived)

    def _told(self, text: str, columns: Columns) -> Iterator[Told]:
        """What a row tells; under a heading that could not be read nobody knows of which probe it is."""
        if self._not_read:
            raise BadMessageError(f"found a row below a heading that is not read: {self._not_read}")
        return told_by(text, columns)

    def _read_above(self, text: str) -> None:
        """A line before there is a heading: which mark parts cells, or the heading itself."""
        if mark := told_mark(text):
            self._mark = mark
        else:
            self._read_heading(text)

    def _read_again(self, text: str) -> None:
        """Take another heading; the rows below one that names no probe of the house are set aside."""
        self._heading = text
        try:
            self._take_heading(text)
        except BadMessageError as error:
            self._not_read = str(error)
            say(f"{self._tail.path.name}: {error}; the rows below it are set aside")

    def _read_heading(self, text: str) -> None:
        """Take a line for the heading; some loggers write a few lines about themselves above it."""
        try:
            self._take_heading(text)
        except BadMessageError as error:
            self._no_heading = self._no_heading or BoardError(f"{self._tail.path.name}: {error}")
            self._passed_over += 1
            if self._passed_over > MOST_ABOVE:
                raise self._no_heading from None

    def _take_heading(self, text: str) -> None:
        """Read the rows from here on by a heading; raises BadMessageError where it is none."""
        columns = columns_of(text, self._named, self._probe, self._mark or None)
        for name in columns.skipped:
            say(f"{self._tail.path.name}: no probe is sent as {name}, that column is left out")
        self._columns, self._heading, self._not_read = columns, text, ""


def _text(line: bytes) -> str:
    """A line as text; one that is no UTF-8 is from a spreadsheet of old, whose figures read alike."""
    try:
        return line.decode("utf-8-sig")
    except UnicodeDecodeError:
        return line.decode("cp1252", errors="replace")
