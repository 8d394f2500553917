"""What every request goes through before anything is answered: which Host, from which page, let in or not."""

from collections.abc import Awaitable, Callable
from hashlib import sha256

from aiohttp import web

from board.commands.serve.listening import Listening, is_here, name_of
from board.commands.serve.passphrase import Passphrase
from board.commands.serve.visits import Visit, Visits, device_of

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]
VISIT = web.RequestKey("visit", Visit)
OPEN = "/sign-in"
PAGE, SOCKET = "/", "/ws"
_DEVICE_SECONDS = 365 * 24 * 3600


class Gate:
    """Lets requests through, or says in a line why not."""

    def __init__(self, where: Listening, passphrase: Passphrase, visits: Visits, now: Callable[[], float]):
        self._where, self._passphrase, self._visits, self._now = where, passphrase, visits, now
        ours = sha256(str(passphrase.path).encode(errors="replace")).hexdigest()[:8]  # two houses, one name
        self.cookies = f"board-visit-{ours}", f"board-device-{ours}"

    @web.middleware
    async def look(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Look at a request before it is answered."""
        self._check_host(request)
        self._check_origin(request)
        if request.path != OPEN:
            request[VISIT] = self._visit(request)
        return await handler(request)

    def _check_host(self, request: web.Request) -> None:
        if not self._where.is_meant(request.host):
            raise web.HTTPMisdirectedRequest(
                text="this machine was not told that it is called so: board serve --name NAME\n"
            )

    def _check_origin(self, request: web.Request) -> None:
        """Only our own pages may open a board or send anything; a browser says which page asks (RFC 6454)."""
        if request.method in ("GET", "HEAD") and request.path != SOCKET:
            return
        scheme, _, host = request.headers.get("Origin", "").partition("://")
        schemes = ("https",) if self._where.tls else ("http", "https")  # https too: a proxy may speak it
        if scheme not in schemes or host.lower() != request.host.lower():
            raise web.HTTPForbidden(text="this was asked by another page than the board's\n")

    def _visit(self, request: web.Request) -> Visit:
        token = request.cookies.get(self.cookies[0], "")
        visit = self._visits.of(token, self._passphrase.kept(), self._now())
        if visit is None:
            if request.path == PAGE:
                raise web.HTTPSeeOther(OPEN)
            raise web.HTTPUnauthorized(text="give the passphrase first\n")
        return visit

    def device(self, request: web.Request) -> str:
        """The device that asks, where it was let in before under the passphrase of today."""
        kept = self._passphrase.kept()
        return device_of(request.cookies.get(self.cookies[1], ""), kept) if kept else ""

    def give(self, request: web.Request, response: web.Response, token: str, device: str) -> None:
        """Give a browser what lets it in from now on, and what tells it from strangers."""
        secure = self._is_secure(request)
        for name, value, seconds in (
            (self.cookies[0], token, None),
            (self.cookies[1], device, _DEVICE_SECONDS),
        ):
            response.set_cookie(
                name, value, max_age=seconds, httponly=True, samesite="Strict", secure=secure, path="/"
            )

    def take(self, response: web.Response) -> None:
        """Take back what lets a browser in."""
        response.del_cookie(self.cookies[0], path="/")

    def _is_secure(self, request: web.Request) -> bool:
        """Whether the browser came by https: ours, or a proxy's, the only way here under another name."""
        return self._where.tls is not None or not is_here(name_of(request.host))


async def guard_headers(request: web.Request, response: web.StreamResponse) -> None:
    """What a browser is told of every answer: to load and send nothing elsewhere, and to keep nothing.

    Styles are written by the drawing of the screen itself. The referrer stays within: with none at all a
    browser would not say either from which page a form comes.
    """
    host = request.host if response.status != web.HTTPMisdirectedRequest.status_code else ""
    sockets = f"ws://{host} wss://{host}" if host else ""
    response.headers["Content-Security-Policy"] = (
        "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; "
        f"img-src 'self' data:; connect-src 'self' {sockets}; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    )
    response.headers["Referrer-Policy"] = "same-origin"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Cross-Origin-Opener-Policy"] = "same-origin"
    response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
    response.headers["Cache-Control"] = "no-cache" if request.path.startswith("/page/") else "no-store"
    response.headers.pop("Server", None)
