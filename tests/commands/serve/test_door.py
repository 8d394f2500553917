"""The door: whoever holds connections and asks nothing keeps nobody out and shuts no board."""

import asyncio
import socket
import ssl
from collections.abc import AsyncIterator
from contextlib import ExitStack, asynccontextmanager

import pytest
from aiohttp import web

from board.commands.serve import door
from board.commands.serve.door import Door
from board.commands.serve.listening import Listening

BOARDS = 2
PATIENCE_SECONDS = 30.0  # shorter than what asyncio and aiohttp wait where they are told nothing
ASKED = b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"


async def yes(_: web.Request) -> web.Response:
    """What every request is answered."""
    return web.Response(text="yes")


@asynccontextmanager
async def opened(tls: ssl.SSLContext | None = None) -> AsyncIterator[int]:
    """The port of a door behind which every request is answered."""
    app = web.Application()
    app.add_routes([web.get("/", yes)])
    found = Door(app, Listening("127.0.0.1", 0, (), tls), BOARDS)
    try:
        yield await found.open()
    finally:
        found.shut()
        await found.clear()


async def answered(port: int, sent: bytes = ASKED, address: str = "127.0.0.1") -> bytes:
    """What somebody at an address is answered; nothing where the connection is closed."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port, local_addr=(address, 0))
    writer.write(sent)
    try:
        async with asyncio.timeout(PATIENCE_SECONDS):
            return await reader.readline()
    except ConnectionError:
        return b""
    finally:
        writer.close()


def idle(port: int, count: int, address: str, held: ExitStack) -> None:
    """Somebody at an address holds so many connections and asks nothing."""
    for _ in range(count):
        held.enter_context(socket.create_connection(("127.0.0.1", port), source_address=(address, 0)))


async def test_whoever_holds_many_connections_keeps_no_other_address_out() -> None:
    """The next of that address are closed, until it lets go of some."""
    async with opened() as port:
        with ExitStack() as held:
            await asyncio.to_thread(idle, port, BOARDS + door.BESIDE_BOARDS_OF_ONE, "127.0.0.2", held)
            assert await answered(port, address="127.0.0.2") == b""
            assert await answered(port) == b"HTTP/1.1 200 OK\r\n"
        while await answered(port, address="127.0.0.2") == b"":
            await asyncio.sleep(0.01)


async def test_never_more_connections_than_boards_can_spare_files() -> None:
    """From however many addresses."""
    async with opened() as port:
        with ExitStack() as held:
            for number in range(2, 7):
                many = BOARDS + door.BESIDE_BOARDS_OF_ONE - 2
                await asyncio.to_thread(idle, port, many, f"127.0.0.{number}", held)
            assert await answered(port) == b""


@pytest.mark.parametrize("sent", [b"", b"GET / HT"])
async def test_a_connection_on_which_nothing_is_asked_is_closed(
    sent: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing at all, or half a request."""
    monkeypatch.setattr(door, "_IDLE_SECONDS", 0.05)
    async with opened() as port:
        assert await answered(port, sent) == b""


async def test_a_connection_that_never_begins_to_speak_tls_is_closed(monkeypatch: pytest.MonkeyPatch) -> None:
    """It counts until then."""
    monkeypatch.setattr(door, "_HANDSHAKE_SECONDS", 0.05)
    async with opened(ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)) as port:
        assert await answered(port, b"") == b""
