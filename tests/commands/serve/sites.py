"""A site with boards that draw one line, its clock in hand, and a browser that asks it."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from pathlib import Path

from aiohttp import ClientResponse, ClientWebSocketResponse
from aiohttp.test_utils import TestClient, TestServer
from aiohttp.web import Application, Request

from board.commands.serve.boards import Boards, Over
from board.commands.serve.gate import OPEN, Gate
from board.commands.serve.listening import listening
from board.commands.serve.passphrase import Passphrase
from board.commands.serve.process import Size
from board.commands.serve.site import Site, site_app
from board.commands.serve.tries import Tries
from board.commands.serve.visits import Visits

PASSPHRASE = "coal smoke before dawn"
TAB = "0123456789abcdef"
DRAWN = b"\x1b[?1049hDo next"


class OneLine:
    """A board that draws one line and remembers what it was told, until it is ended or told to leave."""

    def __init__(self) -> None:
        self.told: list[object] = []
        self.over = asyncio.Event()
        self.leaves: tuple[int, str] = (0, "")

    async def painted(self) -> AsyncIterator[bytes]:
        """Its line, and nothing more until it ends."""
        yield DRAWN
        await self.over.wait()

    def type(self, keys: str) -> None:
        """Keys."""
        self.told.append(keys)

    def resize(self, size: Size) -> None:
        """A size."""
        self.told.append(size)

    def draw_anew(self) -> None:
        """Drawn anew."""
        self.told.append("draw")

    def look(self, *, away: bool) -> None:
        """Looked away."""
        self.told.append(away)

    async def end(self) -> tuple[int, str]:
        """It ends."""
        self.over.set()
        return self.leaves


@dataclass
class House:
    """The site, what it said to whoever started it, its boards, and its clock."""

    browser: "TestClient[Request, Application]"
    site: Site
    said: list[str]
    started: list[OneLine] = field(default_factory=list)
    now: float = 1000.0

    @property
    def cookies(self) -> tuple[str, str]:
        """What the cookies of this house are called: of the visit, and of the device."""
        return self.site.gate.cookies

    @property
    def shown(self) -> int:
        """How many boards are shown on a page."""
        return sum(board.page is not None for board in self.site.boards._boards.values())

    def our(self, **headers: str) -> dict[str, str]:
        """The headers of a page of ours."""
        return {"Origin": f"http://{self.browser.host}:{self.browser.port}", **headers}

    async def sign_in(self, passphrase: str = PASSPHRASE, **headers: str) -> ClientResponse:
        """Give a passphrase."""
        form = {"passphrase": passphrase}
        return await self.browser.post(OPEN, data=form, headers=self.our(**headers), allow_redirects=False)

    async def board(self, tab: str = TAB, **headers: str) -> ClientWebSocketResponse:
        """Open a board."""
        return await self.browser.ws_connect(
            f"/ws?width=100&height=30&tab={tab}", headers=self.our(**headers)
        )


@asynccontextmanager
async def a_house(folder: Path, *, names: tuple[str, ...] = (), most: int = 8) -> AsyncIterator[House]:
    """A site on a free port of this machine, with the passphrase set."""
    passphrase = Passphrase.beside(folder / "board.db")
    passphrase.set(PASSPHRASE)
    visits, said = Visits(), list[str]()

    async def start(_: Size) -> OneLine:
        house.started.append(OneLine())
        return house.started[-1]

    site = Site(
        house="Tallow <Row>",
        gate=Gate(listening("127.0.0.1", 0, None, None, names), passphrase, visits, lambda: house.now),
        passphrase=passphrase,
        tries=Tries(),
        visits=visits,
        boards=Boards(start, most, said.append),  # type: ignore[arg-type]
        now=lambda: house.now,
        say=said.append,
    )
    async with TestClient(TestServer(site_app(site))) as browser:
        house = House(browser, site, said)
        yield house
        await site.boards.end_all(Over.STOPPED)
