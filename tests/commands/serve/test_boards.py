"""Boards and the pages they are shown on: found again as they were, given up after a while, not too many."""

import asyncio
import json
import re
from pathlib import Path

import pytest
from aiohttp import ClientWebSocketResponse, WSMsgType
from aiohttp.web import WebSocketResponse

from board.app.settled import suiting
from board.commands.serve import boards, site
from board.commands.serve.boards import Over, Page, size_of
from board.commands.serve.process import environment, words
from board.commands.serve.visits import Visit

from .sites import DRAWN, TAB, House, a_house

OTHER_TAB = "fedcba9876543210"


async def opened(house: House, **asked: str) -> ClientWebSocketResponse:
    """A board whose first line is drawn."""
    page = await house.board(**asked)
    assert (await page.receive()).data == DRAWN
    return page


async def over(page: ClientWebSocketResponse) -> tuple[int | None, object]:
    """Why a page's connection was closed, and the line said."""
    while (last := await page.receive()).type is not WSMsgType.CLOSE:
        pass
    return page.close_code, last.extra


async def test_a_page_types_resizes_and_looks_away(house: House) -> None:
    """Keys, sizes within reason, and a sign of life are taken; anything else is passed over."""
    await house.sign_in()
    page = await opened(house)
    for said in ("", "[", "{}", "[]", "3", '["stdin"]', '["stdin", 3]', '["resize", []]', '["x"]', "null"):
        await page.send_str(said)
    await page.send_bytes(b"\xff\xfe")
    size = {"width": 9999, "height": "x"}
    for what in (["stdin", "2\ud800"], ["resize", size], ["blur"], ["focus"], ["alive"]):
        await page.send_str(json.dumps(what))
    assert (await page.receive()).data == '["alive"]'
    assert house.started[0].told == ["2\ud800", (500, 24), True, False]
    await page.close()


async def test_a_tab_finds_its_board_again(house: House) -> None:
    """After its connection is lost the same board goes on, drawn anew; another tab has one of its own."""
    await house.sign_in()
    page = await opened(house)
    await page.send_str('["stdin", "half a no"]')
    await page.close()
    again = await house.board()
    assert b"\x1b[?1049h" in (await again.receive()).data
    other = await opened(house, tab=OTHER_TAB)
    assert [len(house.started), house.started[0].told] == [2, ["half a no", (100, 30), "draw"]]
    await again.close()
    await other.close()


async def test_a_second_page_takes_the_board_over(house: House) -> None:
    """The first is told so, and what it types then goes nowhere."""
    await house.sign_in()
    first = await opened(house)
    told = asyncio.create_task(over(first))
    second = await house.board()
    await second.receive()
    assert (await told)[0] == Over.ELSEWHERE
    assert len(house.started) == 1
    await second.close()


@pytest.mark.parametrize("seconds", ["LEFT_SECONDS", "KEPT_SECONDS"])
async def test_a_board_whose_page_stays_away_ends(
    seconds: str, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a while, and sooner where the page was closed on purpose."""
    for each in ("LEFT_SECONDS", "KEPT_SECONDS"):
        monkeypatch.setattr(boards, each, 0.0 if each == seconds else 3600.0)
    await house.sign_in()
    page = await opened(house)
    if seconds == "LEFT_SECONDS":
        await page.close()
    else:
        page._response.close()  # type: ignore[union-attr]
    await asyncio.wait_for(house.started[0].over.wait(), 30)


async def test_a_board_that_ended_unseen_takes_nothing_from_the_next(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where its page was away: the tab's next board is found again later, and ends with its visit."""
    monkeypatch.setattr(boards, "LEFT_SECONDS", 0.2)
    await house.sign_in()
    page = await opened(house)
    await page.close()
    while house.shown:
        await asyncio.sleep(0.01)
    (first,) = house.site.boards._boards.values()
    house.started[0].over.set()
    page = await opened(house)
    while first.giving_up is None or first.giving_up.when() > asyncio.get_running_loop().time():
        await asyncio.sleep(0.01)
    assert len(house.site.boards._boards) == 1
    told = asyncio.create_task(over(page))
    await house.browser.post("/sign-out", headers=house.our(), allow_redirects=False)
    assert ((await told)[0], house.started[1].over.is_set()) == (Over.SIGNED_OUT, True)


async def test_a_board_given_up_in_the_moment_it_opens_ends_too(house: House) -> None:
    """Before anything of it is drawn."""
    visit = Visit("ines", b"", 1e9)
    await house.site.boards.show(visit, TAB, Page(WebSocketResponse()), (100, 30))
    await house.site.boards.end({visit.id}, Over.SIGNED_OUT)
    assert house.started[0].over.is_set()


async def test_never_too_many_boards(tmp_path: Path) -> None:
    """Who comes too many is told so in a line; a board whose page is away gives its place."""
    async with a_house(tmp_path, most=1) as house:
        await house.sign_in()
        first = await opened(house)
        second = await house.board(OTHER_TAB)
        code, line = await over(second)
        assert (code, "Close one of them" in str(line)) == (Over.TOO_MANY, True)
        await first.close()
        while house.shown:
            await asyncio.sleep(0.01)
        third = await opened(house, tab=OTHER_TAB)
        assert [one.over.is_set() for one in house.started] == [True, False]
        await third.close()


async def test_a_board_that_is_left_or_fails_closes_its_page_and_says_why(house: House) -> None:
    """Left by its own key, or unable to go on, with the line it said."""
    await house.sign_in()
    page = await opened(house)
    house.started[0].over.set()
    assert await over(page) == (Over.LEFT, "")
    page = await opened(house)
    house.started[1].leaves = (2, "board: board.db was written by a newer board " + "é" * 100)
    house.started[1].over.set()
    code, line = await over(page)
    assert code == Over.FAILED
    assert str(line).startswith("board.db was written by a newer board éé")
    assert len(str(line).encode()) <= 123
    page = await opened(house)
    house.started[2].leaves = (70, "Traceback\nboard: the program failed, not you.\nThe lines above tell")
    house.started[2].over.set()
    assert "The program failed, not you." in str((await over(page))[1])
    assert house.said[-1].startswith("a board failed\nTraceback")


async def test_a_board_of_nobody_let_in_any_more_ends(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    """Soon after another passphrase is set."""
    monkeypatch.setattr(site, "_LOOK_SECONDS", 0.01)
    await house.sign_in()
    page = await opened(house)
    watch = asyncio.create_task(house.site.keep_watch())
    house.site.passphrase.set("wet oak at midnight")
    assert (await over(page))[0] == Over.SIGNED_OUT
    watch.cancel()


async def test_a_page_without_a_tab_is_told_to_load_again(house: House) -> None:
    """No board is started for it."""
    await house.sign_in()
    page = await house.board("../x")
    assert await over(page) == (Over.FAILED, "load this page again")
    assert house.started == []


def test_the_page_knows_why_it_is_closed() -> None:
    """Its numbers and its minutes are those of the server."""
    script = (Path(boards.__file__).parent / "page" / "board.js").read_text(encoding="utf-8")
    said = dict(re.findall(r"\b([A-Z_]+) = (\d{4})\b", script))
    assert {name: int(said[name]) for name in Over.__members__} == {one.name: one.value for one in Over}
    assert "kept for three minutes" in script
    assert boards.KEPT_SECONDS == 3 * 60


def test_a_board_is_told_its_ledger_its_screen_and_how_it_is_to_look(tmp_path: Path) -> None:
    """The flags as they were given; glyphs and colours whatever terminal it is started from."""
    told = environment(tmp_path / "board.db", (100, 30), {"TERM": "linux", "LC_ALL": "C", "HOME": "/h"})
    assert (told["BOARD_LEDGER"], told["COLUMNS"], told["ROWS"]) == (str(tmp_path / "board.db"), "100", "30")
    assert suiting(told) == {}
    assert told["HOME"] == "/h"
    flags = {"theme": "light", "ascii": True, "motion": False, "who": "Ines"}
    assert words(flags) == ["--theme", "light", "--ascii", "--no-motion", "--who", "Ines"]


@pytest.mark.parametrize(
    ("told", "size"),
    [
        (("100", "30"), (100, 30)),
        ((None, ""), (80, 24)),
        (("-1", "1e9"), (20, 24)),
        ((float("inf"), 10**30), (80, 200)),
    ],
)
def test_sizes_are_within_reason(told: tuple[object, object], size: tuple[int, int]) -> None:
    """Whatever a page says its size is."""
    assert size_of(*told) == size
