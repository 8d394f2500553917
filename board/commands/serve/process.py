"""One board in a process of its own, spoken with by packets as Textual's driver for browsers does it.

A packet is a letter (D for what is drawn or typed, M for the rest in JSON), its length in four bytes, and
so many bytes. The process ends by itself once we are gone: it then reads the end of what is typed.
"""

import asyncio
import json
import os
import signal
import sys
from asyncio.subprocess import PIPE, Process
from collections.abc import AsyncIterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from board.commands.opening_up import SERVED
from board.ledger.where import VARIABLE

Size = tuple[int, int]  # columns, rows
SMALLEST, LARGEST = (20, 8), (500, 200)
_BEGINS = b"__GANGLION__\n"
_LARGEST_PACKET = 1 << 26
_MOST_WAITING = 1 << 20  # bytes typed to a board that does not read them
_MOST_SAID = 4096
_TO_LEAVE_SECONDS, _TOLD_TO_SECONDS = 3.0, 2.0


def environment(ledger: Path, size: Size, outer: Mapping[str, str] = os.environ) -> dict[str, str]:
    """What a board in a browser is told: its ledger, its screen, and that it has every glyph and colour."""
    columns, rows = size
    return {
        **outer,
        VARIABLE: str(ledger),
        "TEXTUAL_DRIVER": SERVED,
        "TEXTUAL_COLOR_SYSTEM": "truecolor",
        "TERM": "xterm-256color",
        "LC_ALL": "C.UTF-8",
        "COLUMNS": str(columns),
        "ROWS": str(rows),
    }


def words(flags: Mapping[str, Any]) -> list[str]:
    """The screen options as they stand on a command line."""
    said = []
    for name, value in flags.items():
        said += [f"--{'' if value else 'no-'}{name}"] if isinstance(value, bool) else [f"--{name}", value]
    return said


class BoardProcess:
    """A board that is running."""

    def __init__(self, process: Process) -> None:
        self._process = process
        self._said = b""
        self._listening = asyncio.create_task(self._listen())

    @classmethod
    async def start(cls, ledger: Path, options: Sequence[str], size: Size) -> "BoardProcess":
        """Start a board on a ledger, in a group of its own, without a shell."""
        process = await asyncio.create_subprocess_exec(
            *(sys.executable, "-P", "-m", "board", *options),
            stdin=PIPE,
            stdout=PIPE,
            stderr=PIPE,
            env=environment(ledger, size),
            start_new_session=True,
        )
        return cls(process)

    async def painted(self) -> AsyncIterator[bytes]:
        """What the board draws, until it ends."""
        out = self._process.stdout
        assert out is not None
        with suppress(asyncio.IncompleteReadError, asyncio.LimitOverrunError, ConnectionError):
            if await out.readuntil(b"\n") != _BEGINS:
                return
            while True:
                head = await out.readexactly(5)
                length = int.from_bytes(head[1:], "big")
                if length > _LARGEST_PACKET:
                    return
                packet = await out.readexactly(length)
                if head[:1] == b"D":
                    yield packet

    def type(self, keys: str) -> None:
        """Type keys, or press the mouse, as a terminal would send them."""
        self._send(b"D", keys.encode(errors="replace"))

    def resize(self, size: Size) -> None:
        """The screen has another size."""
        columns, rows = size
        self._tell({"type": "resize", "width": columns, "height": rows})

    def draw_anew(self) -> None:
        """All of it is to be drawn: the page that showed it is another one."""
        self._tell({"type": "draw"})

    def look(self, *, away: bool) -> None:
        """Whoever is at the keys looks at another window, or back at this one."""
        self._tell({"type": "blur" if away else "focus"})

    def _tell(self, what: Mapping[str, object]) -> None:
        self._send(b"M", json.dumps(what).encode())

    def _send(self, kind: bytes, what: bytes) -> None:
        """Send a packet; a board that reads nothing is sent nothing more."""
        pipe = self._process.stdin
        assert pipe is not None
        if not pipe.is_closing() and pipe.transport.get_write_buffer_size() < _MOST_WAITING:
            pipe.write(kind + len(what).to_bytes(4, "big") + what)

    async def end(self) -> tuple[int, str]:
        """End the board and what it started, first by closing its keys; its exit code, and what it said."""
        drained = asyncio.create_task(self._drain())
        assert self._process.stdin is not None
        self._process.stdin.close()
        if not await self._is_over(_TO_LEAVE_SECONDS):
            self._signal(signal.SIGTERM)
            await self._is_over(_TOLD_TO_SECONDS)
        self._signal(signal.SIGKILL)
        code = await self._process.wait()
        await asyncio.wait([drained, self._listening], timeout=_TOLD_TO_SECONDS)
        drained.cancel()
        self._listening.cancel()
        return code, self._said.decode(errors="replace").strip()

    async def _is_over(self, seconds: float) -> bool:
        with suppress(TimeoutError, asyncio.TimeoutError):
            await asyncio.wait_for(self._process.wait(), seconds)
            return True
        return False

    def _signal(self, which: int) -> None:
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(self._process.pid, which)

    async def _drain(self) -> None:
        """Read on, since a board that cannot write cannot leave either."""
        out = self._process.stdout
        with suppress(ConnectionError, RuntimeError):  # RuntimeError: it is still being read
            while out is not None and await out.read(1 << 16):
                pass

    async def _listen(self) -> None:
        err = self._process.stderr
        while err is not None and (said := await err.read(_MOST_SAID)):
            self._said = (self._said + said)[-_MOST_SAID:]
