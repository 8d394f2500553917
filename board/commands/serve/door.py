"""The door: how many connections are held open at once, in all and of one address, and for how long idle.

A process may open only so many files. Whoever holds connections and asks nothing must not take those that the
boards, the passphrase and everybody else need.
"""

import asyncio
import socket
from collections import Counter
from collections.abc import Coroutine
from contextlib import suppress

from aiohttp import web

from board.commands.serve.listening import Listening
from board.commands.serve.tries import place_of

BESIDE_BOARDS, BESIDE_BOARDS_OF_ONE = 128, 32  # connections besides one for each board
_IDLE_SECONDS = 30.0  # without a whole request
_TO_CLOSE_SECONDS = 3.0
_HANDSHAKE_SECONDS = 10.0
_AGAIN_SECONDS = 0.2


class Door:
    """Takes in connections for an application; behind a proxy all boards come from one address."""

    def __init__(self, app: web.Application, where: Listening, boards: int) -> None:
        self._where = where
        self._runner = web.AppRunner(
            app, access_log=None, shutdown_timeout=_TO_CLOSE_SECONDS, keepalive_timeout=_IDLE_SECONDS
        )
        self._most, self._most_of_one = boards + BESIDE_BOARDS, boards + BESIDE_BOARDS_OF_ONE
        self._listeners: list[socket.socket] = []
        self._tasks: set[asyncio.Task[None]] = set()
        self._held: dict[socket.socket, str] = {}

    async def open(self) -> int:
        """Listen; the port, which may have been left to the system.

        Raises:
            OSError: it cannot be listened there.
        """
        await self._runner.setup()
        found = await asyncio.get_running_loop().getaddrinfo(
            self._where.host, self._where.port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )
        for family, _, _, _, address in dict.fromkeys(found):
            self._listeners.append(listener := socket.create_server(address, family=family, backlog=128))
            listener.setblocking(False)
        for listener in self._listeners:
            self._do(self._take_in(listener))
        return int(self._listeners[0].getsockname()[1])

    def shut(self) -> None:
        """Take in nobody any more."""
        for task in self._tasks:
            task.cancel()
        for listener in self._listeners:
            listener.close()

    async def clear(self) -> None:
        """Close what is still open."""
        await self._runner.cleanup()

    def _do(self, what: Coroutine[object, object, None]) -> None:
        task = asyncio.create_task(what)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _take_in(self, listener: socket.socket) -> None:
        """Take in one after another, as long as there is room."""
        while True:
            try:
                caller, (address, *_) = await asyncio.get_running_loop().sock_accept(listener)
            except OSError:  # gone again, or the machine has no room for another file
                await asyncio.sleep(_AGAIN_SECONDS)
                continue
            place = place_of(address, "")
            if self._has_room(place):
                self._held[caller] = place
                self._do(self._hand_on(caller))
            else:
                caller.close()

    def _has_room(self, place: str) -> bool:
        self._held = {held: whose for held, whose in self._held.items() if held.fileno() >= 0}  # not closed
        return len(self._held) < self._most and Counter(self._held.values())[place] < self._most_of_one

    async def _hand_on(self, caller: socket.socket) -> None:
        """Hand a connection on to the server, once it speaks TLS where that is asked for."""
        server = self._runner.server
        assert server is not None
        patience = _HANDSHAKE_SECONDS if self._where.tls else None
        with suppress(OSError):  # it speaks no TLS, or is gone
            await asyncio.get_running_loop().connect_accepted_socket(
                server, caller, ssl=self._where.tls, ssl_handshake_timeout=patience
            )
