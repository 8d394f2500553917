"""A program in a terminal of its own: keys are written to it, and what it paints is read back."""

import fcntl
import os
import selectors
import struct
import subprocess
import termios
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

ALTERNATE_SCREEN_OFF = b"\x1b[?1049l"
CURSOR_ON = b"\x1b[?25h"
MOUSE_OFF = b"\x1b[?1000l"
QUIET_SECONDS = 0.03  # a screen is painted when nothing more comes for so long


def _take_terminal() -> None:
    """Make the terminal the program's own, so that it is told when the terminal is gone."""
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


class Terminal:
    """A pseudo-terminal of a size with one program in it."""

    def __init__(
        self,
        command: Sequence[str],
        size: tuple[int, int] = (80, 24),
        environment: Mapping[str, str] | None = None,
        folder: Path | None = None,
    ) -> None:
        columns, rows = size
        self._ours, theirs = os.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        told = {**(environment or os.environ), "TERM": "xterm-256color", "COLORTERM": "truecolor"}
        for name in ("COLUMNS", "LINES", "NO_COLOR"):
            told.pop(name, None)
        self.began = time.perf_counter()
        self.process = subprocess.Popen(
            command,
            stdin=theirs,
            stdout=theirs,
            stderr=theirs,
            env=told,
            cwd=folder,
            start_new_session=True,
            preexec_fn=_take_terminal,  # noqa: PLW1509 - no thread holds a lock when tests start one
        )
        os.close(theirs)
        os.set_blocking(self._ours, False)
        self._ready = selectors.DefaultSelector()
        self._ready.register(self._ours, selectors.EVENT_READ)
        self.painted = b""

    def press(self, keys: bytes) -> None:
        """Type keys as the terminal would send them."""
        os.write(self._ours, keys)

    def read(self, seconds: float) -> bytes:
        """What is painted next, waiting at most so long; empty when nothing came or the program is gone."""
        if not self._ready.select(seconds):
            return b""
        try:
            found = os.read(self._ours, 1 << 20)
        except OSError:
            return b""
        self.painted += found
        return found

    def until(self, sign: bytes, seconds: float = 60) -> bool:
        """Read until a sign is painted; whether it was, before so many seconds or the end."""
        end = time.perf_counter() + seconds
        while sign not in self.painted and time.perf_counter() < end:
            if not self.read(0.1) and self.process.poll() is not None:
                while self.read(0.1):
                    pass
                break
        return sign in self.painted

    def settle(self, first_seconds: float = 2.0, quiet_seconds: float = QUIET_SECONDS) -> float:
        """Read until the screen is quiet; the `time.perf_counter` of the last paint, 0 for none."""
        wait, last = first_seconds, 0.0
        while self.read(wait):
            wait, last = quiet_seconds, time.perf_counter()
        return last

    def hang_up(self) -> None:
        """Close the terminal, as when its window is shut."""
        self._ready.close()
        os.close(self._ours)

    def end(self, seconds: float = 30) -> int:
        """Read to the end; the exit code, as a shell tells it (negative when a signal killed it)."""
        end = time.perf_counter() + seconds
        while self.process.poll() is None and time.perf_counter() < end:
            self.read(0.05)
        while self.read(0.05):
            pass
        code = self.process.wait(timeout=1)
        self._ready.close()
        os.close(self._ours)
        return code

    @property
    def left_clean(self) -> bool:
        """Whether the last word on the alternate screen, the cursor and the mouse was to give them back."""
        return all(
            self.painted.rfind(off) > self.painted.rfind(on)
            for on, off in (
                (b"\x1b[?1049h", ALTERNATE_SCREEN_OFF),
                (b"\x1b[?25l", CURSOR_ON),
                (b"\x1b[?1000h", MOUSE_OFF),
            )
        )
