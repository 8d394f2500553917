"""`board serve` as it is run: the board is drawn, entries are kept, nothing is left running at its end."""

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from aiohttp import WSMsgType

from board.app.theme import LIGHT, PALETTES
from board.commands.serve.passphrase import Passphrase
from board.ledger import read, write
from board.ledger.open import open_ledger
from board.ledger.uptime import uptime
from tests.commands.brokers import OPENSSL, needed
from tests.commands.conftest import AT, say

from .served import RUN, Served, closed, drawn, let_in, serving, until
from .sites import PASSPHRASE, TAB

SOCKET = f"/ws?width=120&height=36&tab={TAB}"


@pytest.fixture
def ledger(demo: Path, tmp_path: Path) -> Path:
    """The demo's ledger, with the passphrase set; boards go on from the last entry by what passed since."""
    path = tmp_path / "board.db"
    shutil.copy(demo, path)
    Passphrase.beside(path).set(PASSPHRASE)
    with open_ledger(path) as opened:
        opened.uptime = uptime
        morning = datetime.fromisoformat(f"{AT}-06:00")
        write.note(opened, "good morning", who="ines", at=morning, noted_at=morning)
    return path


@pytest.fixture
def served(ledger: Path) -> Iterator[Served]:
    """A server on it."""
    with serving(ledger, "--theme", "light") as found:
        yield found


async def test_the_opening_view_is_drawn_and_a_note_is_kept(served: Served) -> None:
    """What is typed on the page is in the ledger; the connection lost, the tab finds its board again."""
    async with let_in(served, PASSPHRASE) as browser:
        page = await browser.ws_connect(SOCKET)
        await drawn(page, b"Do next")
        await page.send_str(json.dumps(["stdin", "n"]))
        await drawn(page, b"What should those who come after know?")
        await page.send_str(json.dumps(["stdin", "South runs"]))
        await drawn(page, b"South runs")
        (before,) = served.boards()
        await page.close()
        page = await browser.ws_connect(SOCKET)
        await drawn(page, b"South runs")
        await page.send_str(json.dumps(["stdin", " hot\r"]))
        await drawn(page, b"takes it back")
        assert served.boards() == [before]
    with open_ledger(served.ledger) as found:
        (said,) = [e for e in read.entries(found, kinds=["note"]) if "South runs" in e.data["text"]]
        assert said.data["text"] == "South runs hot"


async def test_it_opens_in_the_theme_that_was_named(served: Served) -> None:
    """The chosen line has that theme's ground."""
    ground = ";".join(str(part) for part in bytes.fromhex(PALETTES[LIGHT].chosen.removeprefix("#")))
    async with let_in(served, PASSPHRASE) as browser:
        await drawn(await browser.ws_connect(SOCKET), f"48;2;{ground}m".encode())


async def test_leaving_the_board_ends_its_process(served: Served) -> None:
    """Its page is closed and told that it was left."""
    async with let_in(served, PASSPHRASE) as browser:
        page = await browser.ws_connect(SOCKET)
        await drawn(page, b"Do next")
        await page.send_str(json.dumps(["stdin", "q"]))
        assert await closed(page) == 4000
        until(lambda: not served.boards())


@pytest.mark.parametrize(("name", "code"), [("SIGINT", 130), ("SIGTERM", 143), ("SIGHUP", 143)])
async def test_told_to_stop_it_leaves_nothing_running(name: str, code: int, served: Served) -> None:
    """With Ctrl-C it ends as interrupted; the page is told that it was stopped."""
    async with let_in(served, PASSPHRASE) as browser:
        page = await browser.ws_connect(SOCKET)
        await drawn(page, b"Do next")
        assert len(served.boards()) == 1
        served.process.send_signal(getattr(signal, name))
        assert await closed(page) == 1001
        until(lambda: served.process.poll() is not None)
    assert (served.process.returncode, served.boards()) == (code, [])
    assert "Traceback" not in served.said


def test_a_hang_up_that_is_to_be_ignored_is_ignored(ledger: Path) -> None:
    """As under nohup, where the terminal it was started in is closed."""
    with serving(ledger, ignored=(signal.SIGHUP,)) as served:
        served.process.send_signal(signal.SIGHUP)
        assert served.end(signal.SIGINT) == 130, "what is told first says how it ends"


async def test_boards_end_when_whoever_serves_them_is_killed(served: Served) -> None:
    """They read the end of what is typed."""
    async with let_in(served, PASSPHRASE) as browser:
        await drawn(await browser.ws_connect(SOCKET), b"Do next")
        assert len(served.boards()) == 1
        served.process.kill()
        until(lambda: not served.boards())


async def test_a_board_that_is_killed_closes_its_page(served: Served) -> None:
    """It does not stand there frozen."""
    async with let_in(served, PASSPHRASE) as browser:
        page = await browser.ws_connect(SOCKET)
        await drawn(page, b"Do next")
        (board,) = served.boards()
        os.kill(board, signal.SIGKILL)
        while (message := await page.receive()).type is not WSMsgType.CLOSE:
            pass
        assert (page.close_code, message.extra) == (4002, "It was ended on its machine.")


async def test_a_ledger_that_is_gone_is_told_on_the_page(served: Served) -> None:
    """No other is begun in its place."""
    served.ledger.rename(served.ledger.with_suffix(".away"))
    async with let_in(served, PASSPHRASE) as browser:
        page = await browser.ws_connect(SOCKET)
        message = await page.receive()
        assert message.extra == "board.db is not there any more; put it back: board restore"
    assert not served.ledger.exists()


async def test_nothing_secret_is_said(served: Served) -> None:
    """Neither what is right, nor what was wrong, nor what was sent out of order."""
    async with let_in(served, PASSPHRASE) as browser:
        await browser.post("/sign-in", data={"passphrase": "wet oak at noon"}, allow_redirects=False)
        cookies = [cookie.value for cookie in browser.cookie_jar]
    with socket.create_connection(("127.0.0.1", int(served.address.rpartition(":")[2]))) as raw:
        raw.sendall(b"POST /sign-in HTTP/9\r\nHost: \x00\r\nContent-Length: z\r\n\r\npassphrase=wet+oak\r\n")
        assert b" 400 " in raw.recv(1000)
    assert "a request failed" not in served.said
    said = served.said
    assert "a wrong passphrase from 127.0.0.1" in said
    secrets = (PASSPHRASE, "wet oak", "wet+oak", "Traceback", *cookies)
    assert not [secret for secret in secrets if secret in said]


def test_nothing_else_loads_what_serves() -> None:
    """The list of commands and the help of this one wait for no web server."""
    code = "import board.cli, board.commands.serve, sys; print({'aiohttp', 'textual'} & set(sys.modules))"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout == "set()\n"


@needed("openssl", OPENSSL)
async def test_beyond_this_machine_it_speaks_tls(ledger: Path, tmp_path: Path) -> None:
    """With its cookies for https alone; plain http is not answered."""
    assert OPENSSL, "BOARD_BROKER=required, and there is no openssl to make a certificate with"
    key, certificate = tmp_path / "key.pem", tmp_path / "own.pem"
    made = ("-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost")
    files = ("-keyout", str(key), "-out", str(certificate))
    subprocess.run([OPENSSL, "req", *made, *files], check=True, capture_output=True)
    own = ("--host", "0.0.0.0", "--certificate", str(certificate), "--key", str(key))
    with serving(ledger, *own) as served:
        assert served.address.startswith(f"https://{socket.gethostname().lower()}:")
        port = served.address.rpartition(":")[2]
        served.address = f"https://127.0.0.1:{port}"
        async with let_in(served, PASSPHRASE) as browser:
            assert all(cookie["secure"] for cookie in browser.cookie_jar)
            await drawn(await browser.ws_connect(SOCKET, ssl=False), b"Do next")
        with socket.create_connection(("127.0.0.1", int(port))) as raw:
            raw.sendall(b"GET /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
            assert b"Passphrase" not in raw.recv(1000)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--host", "0.0.0.0"), "without TLS"),
        (("--host", "no host"), "--host: found 'no host', allowed an address"),
        (("--host", "nowhere.invalid"), "without TLS"),
        (("--name", "http://x"), "--name: found 'http://x', allowed a name"),
        (("--port", "70000"), "--port"),
        (("--most", "0"), "--most"),
        (("--certificate", "c.pem"), "--certificate and --key go together"),
        (("--certificate", "c.pem", "--key", "k.pem"), "--certificate: found no file c.pem"),
        (("--certificate", __file__, "--key", __file__), "allowed a certificate in PEM"),
        (("--theme", "loud"), "--theme"),
        (("--who", "nobody"), "--who: found 'nobody'"),
        (("coal",), "unexpected extra argument"),
    ],
)
def test_what_cannot_be_done_is_told_in_one_line(
    words: tuple[str, ...], says: str, ledger: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """And ends with 2, before anything listens."""
    code, out, err = say(capsys, "serve", "--ledger", str(ledger), *words)
    assert (code, out, err.count("\n"), says in err) == (2, "", 1, True), err


def test_a_port_in_use_is_told_in_one_line(ledger: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With what names another."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        code, _, err = say(capsys, "serve", "--ledger", str(ledger), "--port", port)
    says = f"board: 127.0.0.1, port {port}: address already in use; name another with --host and --port\n"
    assert (code, err) == (2, says)


def test_without_a_passphrase_nobody_is_let_in(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is asked for first; from standard input it is one line, and never an argument."""
    path = tmp_path / "board.db"
    shutil.copy(demo, path)
    code, _, err = say(capsys, "serve", "--ledger", str(path))
    assert (code, "set it with: board serve --passphrase" in err) == (2, True)
    for typed, expected in (("short\n", 2), ("", 2), (PASSPHRASE + "\n", 0)):
        told = subprocess.run(
            [*RUN, "--ledger", str(path), "--passphrase"],
            input=typed, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert (told.returncode, "Traceback" in told.stderr) == (expected, False), told.stderr
    kept = Passphrase.beside(path).kept()
    assert kept is not None
    assert kept.is_of(PASSPHRASE)
