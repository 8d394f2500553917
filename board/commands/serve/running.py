"""Serving from beginning to end: listen, say where, until somebody says stop; then leave nothing running."""

import asyncio
import logging
import os
import signal
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path

import click
from aiohttp.http_exceptions import HttpProcessingError

from board.app.stopping import TERMINATED
from board.commands.serve.boards import Boards, Over
from board.commands.serve.door import Door
from board.commands.serve.gate import Gate
from board.commands.serve.listening import Listening
from board.commands.serve.passphrase import Passphrase
from board.commands.serve.process import BoardProcess
from board.commands.serve.site import Site, site_app
from board.commands.serve.tries import Tries
from board.commands.serve.visits import Visits
from board.errors import BoardError
from board.ledger.uptime import seconds_up

_STOPS = {"SIGINT": 130, "SIGTERM": TERMINATED, "SIGHUP": TERMINATED}
_NOT_OURS = (HttpProcessingError, ConnectionError)  # what a stranger sent that is no request, or did not end


def serve(
    where: Listening, passphrase: Passphrase, ledger: Path, *, house: str, options: Sequence[str], most: int
) -> int:
    """Serve the board of a ledger until told to stop; the exit code.

    Raises:
        BoardError: it cannot be listened there.
    """
    if not hasattr(os, "killpg"):
        raise BoardError("board serve runs on Linux and macOS alone; board opens the board here")
    visits = Visits()
    site = Site(
        house=house,
        gate=Gate(where, passphrase, visits, seconds_up),
        passphrase=passphrase,
        tries=Tries(),
        visits=visits,
        boards=Boards(partial(_start, ledger, options), most, say),
        now=seconds_up,
        say=say,
    )
    with _faults_in_a_line():
        return asyncio.run(_serve(site, where, most))


def say(line: str) -> None:
    """Say a line, as talk."""
    with suppress(OSError):
        click.echo(f"board: {line}", err=True)


async def _start(ledger: Path, options: Sequence[str], size: tuple[int, int]) -> BoardProcess:
    if not ledger.is_file():
        raise BoardError(f"{ledger.name} is not there any more; put it back: board restore")
    return await BoardProcess.start(ledger, options, size)


async def _serve(site: Site, where: Listening, most: int) -> int:
    told: asyncio.Future[int] = asyncio.get_running_loop().create_future()
    for name, code in _STOPS.items():
        which = getattr(signal, name)
        if signal.getsignal(which) is not signal.SIG_IGN:  # as nohup has SIGHUP ignored
            asyncio.get_running_loop().add_signal_handler(which, _tell, told, code)
    door = Door(site_app(site), where, most)
    watch = asyncio.create_task(site.keep_watch())
    try:
        port = await _listen(door, where)
        say(f"the board of {site.house} is at {where.address(port)}; Ctrl-C ends it")
        return await told
    finally:
        door.shut()
        watch.cancel()
        await site.boards.end_all(Over.STOPPED)
        await door.clear()


def _tell(told: "asyncio.Future[int]", code: int) -> None:
    if not told.done():
        told.set_result(code)


async def _listen(door: Door, where: Listening) -> int:
    """Listen; the port that was taken."""
    try:
        return await door.open()
    except OSError as error:
        raise BoardError(
            f"{where.host}, port {where.port}: {_why(error)}; name another with --host and --port"
        ) from None


def _why(error: OSError) -> str:
    """What stands in the way, in the system's own words."""
    if error.errno is not None and error.errno > 0:  # a name that is not found has another kind of number
        return os.strerror(error.errno).lower()
    return error.strerror or str(error)


@contextmanager
def _faults_in_a_line() -> Iterator[None]:
    """What goes wrong within a request is told in a line, without what was sent with it."""
    log = logging.getLogger("aiohttp")
    handler = _OneLine()
    log.addHandler(handler)
    before, log.propagate = log.propagate, False
    try:
        yield
    finally:
        log.removeHandler(handler)
        log.propagate = before


class _OneLine(logging.Handler):
    """Says which fault and where in the program it was; neither the request nor any value of it."""

    def emit(self, record: logging.LogRecord) -> None:
        """Say it, where it is one."""
        kind, _, trace = record.exc_info or (None, None, None)
        if record.levelno < logging.WARNING or (kind and issubclass(kind, _NOT_OURS)):
            return
        while trace is not None and trace.tb_next is not None:
            trace = trace.tb_next
        where = f" in {trace.tb_frame.f_code.co_filename}, line {trace.tb_lineno}" if trace else ""
        say(f"a request failed: {kind.__name__ if kind else 'fault'}{where}")
