"""Who is let in to a board in a browser: only with the passphrase, from our own page, by a name we know."""

import asyncio
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from aiohttp import ClientSession, WSServerHandshakeError

from board.commands.serve import site
from board.commands.serve.tries import FREE_TRIES
from board.commands.serve.visits import HOURS

from .sites import PASSPHRASE, House, a_house

PARTS = ("board.js", "board.css", "textual.js", "xterm.css", "roboto-mono.ttf")


async def refused(house: House, **headers: str) -> int:
    """With which status a board is refused."""
    with pytest.raises(WSServerHandshakeError) as told:
        await house.board(**headers)
    return told.value.status


async def test_everything_but_the_question_is_closed_to_strangers(house: House) -> None:
    """The page leads to the question; its parts, the sign of life and a board are refused."""
    page = await house.browser.get("/", allow_redirects=False)
    assert (page.status, page.headers["Location"]) == (303, "/sign-in")
    for path in (*(f"/page/{part}" for part in PARTS), "/alive", "/page/", "/static/", "/download/x"):
        assert (await house.browser.get(path, allow_redirects=False)).status == 401, path
    assert await refused(house) == 401
    assert house.started == []


async def test_the_passphrase_opens_page_parts_and_board(house: House) -> None:
    """After it the page and each of its parts are there, and a board is drawn."""
    assert (await house.sign_in()).status == 303
    page = await house.browser.get("/")
    assert (page.status, "Tallow &lt;Row&gt;" in await page.text()) == (200, True)
    for part in PARTS:
        assert (await house.browser.get(f"/page/{part}")).status == 200, part
    board = await house.board()
    assert b"Do next" in (await board.receive()).data
    await board.close()


@pytest.mark.parametrize("path", ["/page/", "/page/board.html", "/page/..%2Fgate.py", "/page/%2E%2E/gate.py"])
async def test_no_folder_is_listed_and_no_other_file_is_had(path: str, house: House) -> None:
    """For those who were let in too."""
    await house.sign_in()
    assert (await house.browser.get(path)).status == 404


async def test_no_page_loads_anything_from_elsewhere(house: House) -> None:
    """No address but ours in what is sent, and a policy that would refuse it."""
    question = await house.browser.get("/sign-in")
    await house.sign_in()
    for answer in (question, await house.browser.get("/"), await house.browser.get("/page/board.css")):
        text = await answer.text()
        assert "://" not in text
        policy = answer.headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'none'; script-src 'self';")
        assert "frame-ancestors 'none'" in policy
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Referrer-Policy"] == "same-origin"
        assert "Server" not in answer.headers


async def test_cookies_are_for_our_pages_alone(house: House) -> None:
    """No script reads them and no other site sends them; on this machine there is no https to ask for."""
    told = (await house.sign_in()).headers.getall("Set-Cookie")
    assert [line.partition("=")[0] for line in told] == list(house.cookies)
    assert all("HttpOnly" in line and "SameSite=Strict" in line and "Secure" not in line for line in told)


async def test_behind_a_proxy_cookies_go_over_https_alone(tmp_path: Path) -> None:
    """Another name than this machine's leads here only through a proxy with TLS."""
    async with a_house(tmp_path, names=("kitchen.lan",)) as house:
        form, headers = {"passphrase": PASSPHRASE}, {"Host": "kitchen.lan", "Origin": "https://kitchen.lan"}
        told = await house.browser.post("/sign-in", data=form, headers=headers, allow_redirects=False)
        assert told.status == 303
        assert all("Secure" in line for line in told.headers.getall("Set-Cookie"))


async def test_a_wrong_passphrase_is_told_and_lets_nobody_in(house: House) -> None:
    """Also none, one far too long, and one in a form of another kind; whoever serves is told from where."""
    for passphrase in ("coal smoke", "", "x" * 5000):
        answer = await house.sign_in(passphrase)
        assert answer.status == 401
        assert "not the passphrase" in await answer.text()
        assert "Set-Cookie" not in answer.headers
        house.site.tries.was_right("127.0.0.1")
    assert await refused(house) == 401
    assert house.said == ["a wrong passphrase from 127.0.0.1"] * 3


@pytest.mark.parametrize(
    ("kind", "form"),
    [
        ("application/json", b'["passphrase"]'),
        (
            "multipart/form-data; boundary=x",
            b"--x\r\nContent-Disposition: form-data; name=passphrase\r\n\r\n",
        ),
        ("multipart/form-data", PASSPHRASE.encode()),
        ("application/x-www-form-urlencoded", b"passphrase=\xff\xfe"),
        ("application/x-www-form-urlencoded; charset=none", b"passphrase=coal"),
        ("application/x-www-form-urlencoded", b"passphrase=%FF%00&passphrase=" + b"&" * 900),
    ],
)
async def test_a_form_that_is_not_ours_lets_nobody_in(kind: str, form: bytes, house: House) -> None:
    """It counts as a wrong passphrase and is no fault."""
    headers = house.our(**{"Content-Type": kind})
    assert (await house.browser.post("/sign-in", data=form, headers=headers)).status == 401


async def test_a_form_packed_otherwise_than_it_says_lets_nobody_in(house: House) -> None:
    """It is a wrong passphrase and no fault of ours."""
    headers = house.our(**{"Content-Type": "application/x-www-form-urlencoded", "Content-Encoding": "gzip"})
    answer = await house.browser.post("/sign-in", data=b"coal", headers=headers)
    assert (answer.status, house.said) == (401, ["a wrong passphrase from 127.0.0.1"])


async def test_a_form_that_never_ends_is_waited_for_no_longer_than_a_while(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It holds a connection meanwhile."""
    monkeypatch.setattr(site, "_FORM_SECONDS", 0.05)

    async def half() -> AsyncIterator[bytes]:
        yield b"passphrase="
        await over.wait()

    over = asyncio.Event()
    headers = house.our(**{"Content-Type": "application/x-www-form-urlencoded"})
    answer = await house.browser.post("/sign-in", data=half(), headers=headers)
    over.set()
    assert answer.status == 401


async def test_a_form_too_large_is_refused(house: House) -> None:
    """And not kept in memory."""
    assert (await house.sign_in("x" * 100_000)).status == 413


async def test_after_wrong_tries_the_right_one_waits_too_and_then_lets_in(house: House) -> None:
    """The answer says how long; nobody is locked out for good."""
    for _ in range(FREE_TRIES):
        assert (await house.sign_in("wrong")).status == 401
    late = await house.sign_in()
    assert (late.status, late.headers["Retry-After"]) == (429, "15")
    assert "Try again in 15 s." in await late.text()
    house.now += 15
    assert (await house.sign_in()).status == 303


async def test_a_device_let_in_before_waits_for_no_stranger(house: House) -> None:
    """A stranger behind the same address, as behind a proxy, holds up neither it nor whoever is in."""
    await house.sign_in()
    async with ClientSession(cookies={house.cookies[1]: "none.of.ours"}) as stranger:
        asked = house.browser.make_url("/sign-in")
        statuses = []
        for _ in range(FREE_TRIES + 1):
            told = await stranger.post(asked, data={"passphrase": "wrong"}, headers=house.our())
            statuses.append(told.status)
    assert statuses == [401] * FREE_TRIES + [429]
    assert (await house.browser.get("/")).status == 200
    assert (await house.sign_in()).status == 303


@pytest.mark.parametrize(
    "origin", ["http://elsewhere.example", "null", "", "http://127.0.0.1", "file://127.0.0.1"]
)
async def test_a_board_asked_by_another_page_is_refused(origin: str, house: House) -> None:
    """Even with the cookie of somebody who was let in; so are the passphrase and leaving."""
    await house.sign_in()
    assert await refused(house, Origin=origin) == 403
    assert (await house.sign_in(Origin=origin)).status == 403
    leave = await house.browser.post("/sign-out", headers=house.our(Origin=origin))
    assert leave.status == 403


@pytest.mark.parametrize("host", ["elsewhere.example", "127.0.0.1.elsewhere.example:80", "", "a b", "x;y"])
async def test_a_name_that_was_not_given_is_refused(host: str, house: House) -> None:
    """A stranger's name that leads here has his page behind it: not even the question is answered."""
    headers = {"Host": host, "Origin": f"http://{host}"}
    await house.sign_in()
    for path in ("/", "/sign-in", "/page/board.js"):
        assert (await house.browser.get(path, headers=headers)).status in (400, 421)
    assert await refused(house, **headers) in (400, 421)


async def test_names_that_were_given_and_addresses_in_figures_are_ours(tmp_path: Path) -> None:
    """With a port and without, in capitals too."""
    async with a_house(tmp_path, names=("kitchen.lan",)) as house:
        for host in ("kitchen.lan", "Kitchen.LAN:8421", "192.168.1.20:8421", "[fe80::1]:8421", "localhost"):
            assert (await house.browser.get("/sign-in", headers={"Host": host})).status == 200, host


async def test_a_visit_ends_after_a_shift(house: House) -> None:
    """Then the passphrase is asked again, and a board that is open closes."""
    await house.sign_in()
    house.now += HOURS * 3600 - 1
    assert (await house.browser.get("/", allow_redirects=False)).status == 200
    house.now += 1
    assert (await house.browser.get("/", allow_redirects=False)).status == 303
    assert await refused(house) == 401


async def test_another_passphrase_ends_the_visits_of_the_old_one(house: House) -> None:
    """At once, without starting anything anew; so does a file that is taken away."""
    await house.sign_in()
    house.site.passphrase.set("wet oak at midnight")
    assert (await house.browser.get("/", allow_redirects=False)).status == 303
    assert (await house.sign_in()).status == 401
    assert (await house.sign_in("wet oak at midnight")).status == 303
    house.site.passphrase.path.unlink()
    assert (await house.browser.get("/", allow_redirects=False)).status == 303
    assert (await house.sign_in("wet oak at midnight")).status == 401


async def test_whoever_signs_out_is_out(house: House) -> None:
    """Their board ends, and the old cookie lets nobody in."""
    await house.sign_in()
    (cookie,) = [c.value for c in house.browser.session.cookie_jar if c.key == house.cookies[0]]
    board = await house.board()
    await board.receive()
    told = asyncio.create_task(board.receive())
    left = await house.browser.post("/sign-out", headers=house.our(), allow_redirects=False)
    assert (left.status, left.headers["Location"]) == (303, "/sign-in")
    await told
    assert (board.close_code, house.started[0].over.is_set()) == (4003, True)
    assert await refused(house, Cookie=f"{house.cookies[0]}={cookie}") == 401


async def test_what_is_said_holds_no_secret(house: House) -> None:
    """Neither a passphrase nor a cookie."""
    for passphrase in ("a wrong one, said aloud", PASSPHRASE):
        await house.sign_in(passphrase)
    assert house.said == ["a wrong passphrase from 127.0.0.1", "let in from 127.0.0.1"]
