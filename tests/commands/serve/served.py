"""`board serve` as a process of its own, a browser that asks it, and the boards that it started."""

import os
import signal
import subprocess
import sys
import time
from asyncio import timeout
from collections.abc import AsyncIterator, Collection, Iterator, Sequence
from contextlib import asynccontextmanager, contextmanager
from pathlib import Path

from aiohttp import ClientSession, ClientWebSocketResponse, CookieJar, WSMsgType

REPOSITORY = Path(__file__).parents[3]
PATIENCE_SECONDS = 120.0
RUN = (sys.executable, "-c", "from board.cli import main; main()", "serve")


class Served:
    """One server: where it is, what it said, and which boards run."""

    def __init__(
        self, ledger: Path, options: Sequence[str] = (), ignored: Collection[signal.Signals] = ()
    ) -> None:
        self.ledger = ledger
        self._said = (ledger.parent / "said.txt").open("w+", encoding="utf-8")
        with ignoring(ignored):
            self.process = subprocess.Popen(
                [*RUN, "--ledger", str(ledger), "--port", "0", *options],
                env={**os.environ, "PYTHONPATH": os.pathsep.join([str(REPOSITORY), *sys.path[1:]])},
                stdin=subprocess.DEVNULL,
                stderr=self._said,
            )
        until(lambda: " is at http" in self.said)
        self.address = self.said.partition(" is at ")[2].partition(";")[0]

    @property
    def said(self) -> str:
        """All that it said until now."""
        return (self.ledger.parent / "said.txt").read_text(encoding="utf-8")

    def boards(self) -> list[int]:
        """The boards that run on this ledger, as the system lists processes."""
        mark = f"BOARD_LEDGER={self.ledger}".encode()
        return [pid for pid in running() if pid != self.process.pid and mark in environment(pid)]

    def end(self, which: signal.Signals) -> int:
        """Tell it something; its exit code."""
        self.process.send_signal(which)
        return self.process.wait(PATIENCE_SECONDS)

    def clear(self) -> None:
        """Leave nothing of it."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        self._said.close()
        for pid in self.boards():
            os.kill(pid, signal.SIGKILL)


@contextmanager
def ignoring(ignored: Collection[signal.Signals]) -> Iterator[None]:
    """What is started here hears all that it is told but this, also where a script runs these tests."""
    told = (signal.SIGINT, signal.SIGHUP)
    before = [signal.signal(which, signal.SIG_IGN if which in ignored else signal.SIG_DFL) for which in told]
    try:
        yield
    finally:
        for which, done in zip(told, before, strict=True):
            signal.signal(which, done)


def running() -> Iterator[int]:
    """The numbers of all processes."""
    return (int(entry.name) for entry in Path("/proc").iterdir() if entry.name.isdigit())


def environment(pid: int) -> list[bytes]:
    """What a process was told; nothing of one that is over."""
    try:
        return Path(f"/proc/{pid}/environ").read_bytes().split(b"\0")
    except OSError:
        return []


def until(is_so: object) -> None:
    """Wait for something; how long a busy machine takes is no matter."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not is_so():  # type: ignore[operator]
        assert time.monotonic() < end, "it never came"
        time.sleep(0.02)


@contextmanager
def serving(ledger: Path, *options: str, ignored: Collection[signal.Signals] = ()) -> Iterator[Served]:
    """A server on a ledger, and nothing of it left."""
    served = Served(ledger, options, ignored)
    try:
        yield served
    finally:
        served.clear()


@asynccontextmanager
async def let_in(served: Served, passphrase: str) -> AsyncIterator[ClientSession]:
    """A browser that was let in."""
    headers = {"Origin": served.address}
    async with ClientSession(served.address, headers=headers, cookie_jar=CookieJar(unsafe=True)) as browser:
        answer = await browser.post(
            "/sign-in", data={"passphrase": passphrase}, allow_redirects=False, ssl=False
        )
        assert answer.status == 303, await answer.text()
        yield browser


async def drawn(page: ClientWebSocketResponse, sign: bytes) -> bytes:
    """All that is drawn until a sign of it."""
    found = b""
    async with timeout(PATIENCE_SECONDS):
        while sign not in found:
            message = await page.receive()
            assert message.type is WSMsgType.BINARY, (message, page.close_code)
            found += message.data
    return found


async def closed(page: ClientWebSocketResponse) -> int | None:
    """Why a page was closed, once it is."""
    async with timeout(PATIENCE_SECONDS):
        while (await page.receive()).type is not WSMsgType.CLOSE:
            pass
    return page.close_code
