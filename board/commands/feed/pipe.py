"""Messages from standard input, a line each."""

import os
from collections.abc import Sequence
from datetime import datetime
from queue import Empty, Queue
from threading import Thread

from board.commands.feed.intake import Intake
from board.commands.feed.lines import Lines
from board.commands.feed.running import now
from board.probes.limits import bounds

_CHUNK = 1 << 16
_MOST_CHUNKS = 16  # more wait in the pipe


class Pipe:
    """Lines of an open file, read by a thread so that a quiet pipe holds up nothing."""

    def __init__(self, file: int, probe: str | None) -> None:
        self._file = file
        self._probe = probe
        self._lines = Lines(bounds().longest_bytes)
        self._chunks: Queue[tuple[bytes, datetime]] = Queue(_MOST_CHUNKS)
        Thread(target=self._read, name="feed", daemon=True).start()

    def pour(self, intake: Intake[None], seconds: float) -> bool:
        """Offer the lines that have come."""
        try:
            chunk, arrived = self._chunks.get(timeout=max(seconds, 0.001))
        except Empty:
            return True
        for line in self._lines.add(chunk) if chunk else self._lines.last():
            if line.strip():
                intake.offer(line, None, arrived, probe=self._probe)
        return bool(chunk)

    def position(self) -> None:
        """A pipe is read once."""

    def begin(self, position: str) -> None:
        """A pipe goes on where it is."""

    def done(self, tokens: Sequence[None]) -> None:
        """A pipe sends nothing again."""

    def _read(self) -> None:
        """An empty chunk is the end, as is a pipe that breaks."""
        while True:
            try:
                chunk = os.read(self._file, _CHUNK)
            except OSError:
                chunk = b""
            self._chunks.put((chunk, now()))
            if not chunk:
                return
