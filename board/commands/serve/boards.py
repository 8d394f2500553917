"""The boards that are running, each with the page it is shown on.

A page whose connection is lost finds its board again as it was, with all that was being typed: the board is
kept for a while, and drawn anew on the page when it comes back.
"""

import asyncio
import json
from collections.abc import Awaitable, Callable, Collection
from contextlib import suppress
from enum import IntEnum
from typing import Any

from aiohttp.web import WebSocketResponse

from board.commands.serve.process import LARGEST, SMALLEST, BoardProcess, Size
from board.commands.serve.visits import Visit
from board.views import fault

KEPT_SECONDS = 180.0  # a connection that was lost: a walk out of reach and back
LEFT_SECONDS = 20.0  # a page that was closed or loaded again
_TO_CLOSE_SECONDS = 2.0
_MOST_REASON = 120  # bytes; a closing frame has room for 123 (RFC 6455, 5.5)
_ON_PURPOSE = (1000, 1001)  # closed, or gone to another page (RFC 6455, 7.4.1)
# How a board begins: its own screen, the mouse, no cursor, and what is pasted told apart from what is typed.
_OTHER_SCREEN = b"\x1b[?1049h\x1b[?1000h\x1b[?1003h\x1b[?1015h\x1b[?1006h\x1b[?25l\x1b[?2004h"


class Over(IntEnum):
    """Why a connection was closed, as page/board.js reads it."""

    STOPPED = 1001
    LEFT = 4000
    TOO_MANY = 4001
    FAILED = 4002
    SIGNED_OUT = 4003
    ELSEWHERE = 4004


class Page:
    """The connection to a page."""

    def __init__(self, socket: WebSocketResponse) -> None:
        self.socket = socket

    @property
    def left_on_purpose(self) -> bool:
        """Whether the page was closed, or left for another one."""
        return self.socket.close_code in _ON_PURPOSE

    async def draw(self, what: bytes) -> None:
        """Send what is to be drawn, in vain where the page is going."""
        with suppress(ConnectionError, RuntimeError):
            await self.socket.send_bytes(what)

    async def close(self, why: Over, line: str = "") -> None:
        """Close it and say why, as far as there is room."""
        said = line.encode()[:_MOST_REASON].decode(errors="ignore").encode()
        with suppress(ConnectionError, RuntimeError, asyncio.TimeoutError):
            await asyncio.wait_for(self.socket.close(code=why, message=said), _TO_CLOSE_SECONDS)


class Board:
    """One board: its process, the tab it belongs to, and the page that shows it now."""

    def __init__(self, process: BoardProcess, visit: Visit, tab: str, page: Page) -> None:
        self.process = process
        self.visit = visit
        self.key = (visit.id, tab)
        self.page: Page | None = page
        self.giving_up: asyncio.TimerHandle | None = None
        self.showing = asyncio.create_task(self._show())

    async def _show(self) -> None:
        """Send what the board draws to the page that shows it, until it ends."""
        async for drawn in self.process.painted():
            if self.page is not None:
                await self.page.draw(drawn)

    async def show_on(self, page: Page, size: Size) -> None:
        """Show it on a page that came back, drawn anew."""
        before, self.page = self.page, page
        if self.giving_up is not None:
            self.giving_up.cancel()
        if before is not None:
            await before.close(Over.ELSEWHERE, "this board is shown on another page now")
        await page.draw(_OTHER_SCREEN)
        self.process.resize(size)
        self.process.draw_anew()

    def hear(self, said: str) -> str | None:
        """Do what the page says: keys, another size, looking away and back; what to answer, if anything."""
        try:
            what, *more = json.loads(said)
        except (ValueError, TypeError, RecursionError):
            return None
        told = more[0] if more else None
        if what == "stdin" and isinstance(told, str):
            self.process.type(told)
        elif what == "resize" and isinstance(told, dict):
            self.process.resize(size_of(told.get("width"), told.get("height")))
        elif what in ("blur", "focus"):
            self.process.look(away=what == "blur")
        return '["alive"]' if what == "alive" else None


class Boards:
    """All boards of one house; never more than `most`."""

    def __init__(
        self, start: Callable[[Size], Awaitable[BoardProcess]], most: int, say: Callable[[str], None]
    ) -> None:
        self._start = start
        self._most = most
        self._say = say
        self._boards: dict[tuple[str, str], Board] = {}
        self._running: dict[Board, asyncio.Task[None]] = {}
        self._opening = asyncio.Lock()

    async def show(self, visit: Visit, tab: str, page: Page, size: Size) -> Board | None:
        """Show a tab's board on a page: the one it had, else a new one; None where there are too many."""
        async with self._opening:
            board = self._boards.get((visit.id, tab))
            if board is not None:
                await board.show_on(page, size)
                return board
            if len(self._running) >= self._most and not await self._make_room():
                return None
            board = Board(await self._start(size), visit, tab, page)
            self._boards[board.key] = board
            self._running[board] = asyncio.create_task(self._run(board))
            return board

    def away(self, board: Board, page: Page) -> None:
        """A page is gone: its board is kept a while, shorter where the page was left on purpose."""
        if board.page is not page:
            return
        board.page = None
        if self._take_out(board):
            self._boards[board.key] = board  # the last to be given up
            seconds = LEFT_SECONDS if page.left_on_purpose else KEPT_SECONDS
            board.giving_up = asyncio.get_running_loop().call_later(seconds, self._forget, board)

    @property
    def visits(self) -> list[Visit]:
        """Whose the boards are."""
        return [board.visit for board in self._boards.values()]

    async def end(self, visits: Collection[str], why: Over) -> None:
        """End the boards of some visits, and say why on their pages."""
        ended = [board for board in self._boards.values() if board.visit.id in visits]
        running = [self._running[board] for board in ended]
        pages = [board.page for board in ended if board.page is not None]
        for board in ended:
            self._forget(board)
        await asyncio.gather(*(page.close(why) for page in pages))
        if running:
            await asyncio.wait(running)

    async def end_all(self, why: Over) -> None:
        """End all boards, those too that are ending already."""
        await self.end({visit.id for visit in self.visits}, why)
        if self._running:
            await asyncio.wait(self._running.values())

    async def _make_room(self) -> bool:
        """Give up the board whose page has been away longest; False where all are looked at."""
        away = next((board for board in self._boards.values() if board.page is None), None)
        if away is None:
            return False
        running = self._running[away]
        self._forget(away)
        await asyncio.wait([running])
        return True

    def _forget(self, board: Board) -> None:
        """Show a board nowhere any more, and let it end."""
        if self._take_out(board):
            board.page = None
            board.showing.cancel()

    def _take_out(self, board: Board) -> bool:
        """No page finds this board any more; False where it was out, and its tab may have another by now."""
        if self._boards.get(board.key) is not board:
            return False
        del self._boards[board.key]
        return True

    async def _run(self, board: Board) -> None:
        """Wait until a board ends or is given up, and leave nothing of it."""
        with suppress(asyncio.CancelledError):  # of that; this one, cancelled unbegun, would end nothing
            await board.showing
        self._take_out(board)
        code, said = await board.process.end()
        del self._running[board]
        if code == fault.CODE:
            self._say(f"a board failed\n{said}")
        if board.page is not None:
            await board.page.close(Over.FAILED if code else Over.LEFT, _why(code, said))


def _why(code: int, said: str) -> str:
    """What a page is told of a board that ended by itself: the last line that it said."""
    if code == fault.CODE:
        return "The program failed, not you. Where, is told on the machine that serves it."
    line = said.rpartition("\n")[2].removeprefix("board: ")
    return (line or "It was ended on its machine.") if code else ""


def size_of(columns: Any, rows: Any) -> Size:
    """A screen's size as a page tells it, within reason."""
    told = []
    for found, usual, least, most in zip((columns, rows), (80, 24), SMALLEST, LARGEST, strict=True):
        try:
            told.append(min(max(int(found), least), most))
        except (TypeError, ValueError, OverflowError):
            told.append(usual)
    return told[0], told[1]
