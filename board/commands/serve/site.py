"""What a browser may ask for: the page that asks for the passphrase, the board's page, its parts, a board."""

import asyncio
import html
import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from math import ceil
from pathlib import Path

import textual_serve
from aiohttp import WSMsgType, web

from board.commands.serve.boards import Board, Boards, Over, Page, size_of
from board.commands.serve.gate import OPEN, PAGE, SOCKET, VISIT, Gate, guard_headers
from board.commands.serve.passphrase import LONGEST, Passphrase
from board.commands.serve.tries import Tries, place_of
from board.commands.serve.visits import Visits, device_token
from board.errors import BoardError
from board.ledger.scrypt import Kept

_OURS = Path(__file__).parent / "page"
_THEIRS = Path(textual_serve.__file__).parent / "static"
# Each part is named: no folder is listed, and nothing else in one is to be had.
_PARTS = {
    "board.js": _OURS / "board.js",
    "board.css": _OURS / "board.css",
    "textual.js": _THEIRS / "js" / "textual.js",
    "xterm.css": _THEIRS / "css" / "xterm.css",
    "roboto-mono.ttf": _THEIRS / "fonts" / "RobotoMono-VariableFont_wght.ttf",
}
_TAB = re.compile(r"[0-9a-f]{8,64}")
_LARGEST_MESSAGE = 1 << 16  # bytes; what is pasted comes in one
_LARGEST_FORM = 1 << 14
_FORM_SECONDS = 20.0
_FORM = "application/x-www-form-urlencoded"
_SIGN_OF_LIFE_SECONDS = 10.0
_LOOK_SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Site:
    """One house's board in browsers."""

    house: str
    gate: Gate
    passphrase: Passphrase
    tries: Tries
    visits: Visits
    boards: Boards
    now: Callable[[], float]
    say: Callable[[str], None]
    looking: asyncio.Lock = field(default_factory=asyncio.Lock)

    def routes(self) -> list[web.RouteDef]:
        """Everything that can be asked for."""
        return [
            web.get(OPEN, self.ask),
            web.post(OPEN, self.sign_in),
            web.post("/sign-out", self.sign_out),
            web.get(PAGE, self.board_page),
            web.get("/page/{part}", self.part),
            web.get("/alive", self.alive),
            web.get(SOCKET, self.board),
        ]

    async def ask(self, request: web.Request) -> web.Response:
        """The page that asks for the passphrase."""
        return self._asking("", 200)

    async def sign_in(self, request: web.Request) -> web.Response:
        """Let in whoever knows the passphrase; a try is counted before it is looked at."""
        device, address = self.gate.device(request), request.remote or ""
        place = place_of(address, device)
        given = await _given(request)
        if wait := self.tries.wait_seconds(place, self.now()):
            answer = self._asking(f"That was wrong too often. Try again in {_seconds(wait)}.", 429)
            answer.headers["Retry-After"] = str(wait)
            return answer
        self.tries.begin(place, self.now())
        kept = self.passphrase.kept()
        if kept is None or not await self._is_right(kept, given):
            self.say(f"a wrong passphrase from {address}")
            return self._asking("That is not the passphrase. Mind capitals and blanks.", 401)
        self.tries.was_right(place)
        leave = web.Response(status=303, headers={"Location": PAGE})
        token = self.visits.begin(kept, self.now())
        self.gate.give(request, leave, token, device_token(kept))
        self.say(f"let in from {address}")
        return leave

    async def _is_right(self, kept: Kept, given: str) -> bool:
        """Whether it is the passphrase; one is looked at after another, since that takes memory and time."""
        if len(given) > LONGEST:
            return False
        async with self.looking:
            return await asyncio.to_thread(kept.is_of, given)

    async def sign_out(self, request: web.Request) -> web.Response:
        """Let this browser in no more, and end its boards."""
        visit = request[VISIT]
        self.visits.end(visit)
        await self.boards.end({visit.id}, Over.SIGNED_OUT)
        leave = web.Response(status=303, headers={"Location": OPEN})
        self.gate.take(leave)
        return leave

    async def board_page(self, request: web.Request) -> web.Response:
        """The page a board is shown on."""
        return self._page("board.html", {})

    async def part(self, request: web.Request) -> web.StreamResponse:
        """A part of that page."""
        found = _PARTS.get(request.match_info["part"])
        if found is None:
            raise web.HTTPNotFound(text="there is no such part\n")
        return web.FileResponse(found)

    async def alive(self, request: web.Request) -> web.Response:
        """A sign of life, for a page that lost its board."""
        return web.Response(status=204)

    async def board(self, request: web.Request) -> web.WebSocketResponse:
        """A board on a page, for as long as both are there."""
        socket = web.WebSocketResponse(heartbeat=_SIGN_OF_LIFE_SECONDS, max_msg_size=_LARGEST_MESSAGE)
        await socket.prepare(request)
        page, tab = Page(socket), request.query.get("tab", "")
        size = size_of(request.query.get("width"), request.query.get("height"))
        if not _TAB.fullmatch(tab):
            await page.close(Over.FAILED, "load this page again")
            return socket
        try:
            board = await self.boards.show(request[VISIT], tab, page, size)
        except (BoardError, OSError) as error:
            await page.close(Over.FAILED, str(error))
            return socket
        if board is None:
            await page.close(Over.TOO_MANY, "Close one of them, then open this one.")
            return socket
        try:
            await _hear(socket, board)
        finally:
            self.boards.away(board, page)
        return socket

    async def keep_watch(self) -> None:
        """End the boards of those who are let in no more."""
        while True:
            await asyncio.sleep(_LOOK_SECONDS)
            kept, now = self.passphrase.kept(), self.now()
            over = {visit.id for visit in self.boards.visits if not self.visits.holds(visit, kept, now)}
            await self.boards.end(over, Over.SIGNED_OUT)

    def _asking(self, says: str, status: int) -> web.Response:
        answer = self._page("sign_in.html", {"SAYS": says})
        answer.set_status(status)
        return answer

    def _page(self, name: str, told: dict[str, str]) -> web.Response:
        text = (_OURS / name).read_text(encoding="utf-8")
        for word, what in {"HOUSE": self.house, **told}.items():
            text = text.replace(f"[[{word}]]", html.escape(what))
        return web.Response(text=text, content_type="text/html", charset="utf-8")


async def _given(request: web.Request) -> str:
    """What was given as the passphrase in our form; empty in one of another kind, or one that is spoilt."""
    if request.content_type != _FORM:
        return ""
    try:
        async with asyncio.timeout(_FORM_SECONDS):
            given = (await request.post()).get("passphrase")
    except (ValueError, LookupError):  # letters that are none, or of a name that is none
        return ""
    except (TimeoutError, web.RequestPayloadError):  # it never ends, or is packed otherwise than it says
        return ""
    return given if isinstance(given, str) else ""


async def _hear(socket: web.WebSocketResponse, board: Board) -> None:
    """Pass on what a page says, until it is gone."""
    with suppress(ConnectionError):
        async for message in socket:
            if message.type is WSMsgType.TEXT and (answer := board.hear(message.data)):
                await socket.send_str(answer)


def _seconds(wait: int) -> str:
    return f"{wait} s" if wait < 100 else f"{ceil(wait / 60)} min"


def site_app(site: Site) -> web.Application:
    """The site as aiohttp asks for it."""
    app = web.Application(middlewares=[site.gate.look], client_max_size=_LARGEST_FORM)
    app.add_routes(site.routes())
    app.on_response_prepare.append(guard_headers)
    return app
