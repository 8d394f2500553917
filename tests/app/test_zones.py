"""The board in a house whose pit has shelves told apart, on a night with a turn, at two sizes."""

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from board.app.app import BoardApp
from board.app.clock import StoppedClock
from board.app.session import Session
from board.app.widgets.panel import Panel
from board.cli import run
from board.ledger import read, write
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import LoadStage
from board.views.facts import Facts
from board.views.progress import Revised
from tests.app import zoned
from tests.app.advice import advised, helped
from tests.app.boards import looked, no_planner
from tests.app.house_fixture import DAY, ZONE, at
from tests.app.pictures import screen_text, settled
from tests.app.zoned import TURN

SIZES = ((80, 24), (120, 36))


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """Briskets on North, shoulders on the upper shelves of South, nobody has turned North yet."""

    def said(who: str, moment: datetime) -> dict[str, object]:
        return {"who": who, "at": moment, "noted_at": moment}

    with create_ledger(tmp_path / "board.db", "Cinder Lane", ZONE, tmp_path) as opened:
        write.commit_plan(opened, zoned.plan(), "as promised", **said("odile", at("15:00", -1)))
        write.mark_step(opened, "s-light-north", **said("odile", at("17:55", -1)))
        write.mark_step(opened, "s-load-brisket", **said("odile", at("19:12", -1)))
        write.light(opened, "south", 121.0, **said("odile", at("19:00", -1)))
        write.mark_step(opened, "s-load-shoulder", **said("odile", at("20:10", -1)))
        write.mark_step(opened, "s-wrap-brisket", **said("ines", at("02:05")))
        yield opened


def board(ledger: Ledger, now: datetime) -> BoardApp:
    """The application with its clock standing still, and nothing estimated anew."""

    def nothing_revised(_: Facts) -> Revised:
        return {}

    clock = StoppedClock(now)
    return BoardApp(
        Session(ledger, zoned.house(), clock, no_planner, nothing_revised, "ines", looker=looked,
                adviser=advised, helper=helped)
    )  # fmt: skip


def whole(text: str, size: tuple[int, int]) -> bool:
    """Whether nothing runs over the edge."""
    return all(len(line) <= size[0] for line in text.splitlines())


@pytest.mark.parametrize("size", SIZES)
async def test_opening_tells_the_turn_and_marks_it(ledger: Ledger, size: tuple[int, int]) -> None:
    """The turn stands among what is to do, the unsure lunch above all; Enter sets North hotter."""
    app = board(ledger, TURN)
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        text = screen_text(app)
        assert whole(text, size)
        assert "As planned, lunch: in time 82 times in 100, 90 wanted." in text.splitlines()[1]
        assert "set North to 130°" in text
        assert "South, upper shelves" in text
        panel = app.screen.query_one("#next", Panel)
        panel.choose(f"{DAY}/s-set-north")
        await pilot.press("enter")
        await settled(app, pilot)
        assert read.pit_states(ledger)["north"].setpoint_c == 130.0
        told = screen_text(app)
        assert "North set to 130°" in told
        assert "set North to 130°" not in told


@pytest.mark.parametrize("size", SIZES)
async def test_the_load_page_tells_the_turn(ledger: Ledger, size: tuple[int, int]) -> None:
    """The briskets' page says when North is to be set; the shoulders' says on which shelves they are."""
    app = board(ledger, at("02:06"))
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        app.open_load(f"{DAY}/sat-brisket")
        await settled(app, pilot)
        text = screen_text(app)
        assert whole(text, size)
        assert "pit 130° 02:10" in text
        assert "set North to 130° at 02:10" in text
        await pilot.press("escape")
        app.open_load(f"{DAY}/sat-shoulder")
        await settled(app, pilot)
        assert "South, upper shelves, cooking" in screen_text(app)


@pytest.mark.parametrize("size", SIZES)
async def test_the_days_plan_tells_zones_turn_and_caution(ledger: Ledger, size: tuple[int, int]) -> None:
    """On today's plan the list names the shelves, and the caution is seen at either size."""
    app = board(ledger, at("02:06"))
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await pilot.press("2", "left_square_bracket")
        await settled(app, pilot)
        text = screen_text(app)
        assert whole(text, size)
        seen = " ".join(text.split())
        assert "The walk-in is 40 kg" in seen
        await pilot.press("l")
        await settled(app, pilot)
        listed = screen_text(app)
        assert "South, upper shelves" in listed
        assert "South, lower shelves" in listed


async def test_a_load_is_carried_to_other_shelves_from_the_command_line(
    ledger: Ledger, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A pit that has zones must have one named, by id or name; then the board shows it."""
    now = at("02:06")
    monkeypatch.setattr("board.commands.mark.house_of", lambda _: zoned.house())
    monkeypatch.setattr(
        "board.commands.mark.who_and_when", lambda *_: {"who": "ines", "at": now, "noted_at": now}
    )
    file = str(tmp_path / "board.db")
    moved = ("mark", "moved", "sat-shoulder", "--pit", "south", "--ledger", file)
    assert int(run(moved)) == 2
    assert "say which zone of south: --zone, one of lower, upper" in capsys.readouterr().err
    assert int(run((*moved, "--zone", "top"))) == 2
    assert "south has no zone top; its zones are lower, upper" in capsys.readouterr().err
    assert int(run((*moved, "--zone", "Lower Shelves"))) == 0
    state = next(one for one in read.load_states(ledger, DAY) if one.id == "sat-shoulder")
    assert (state.stage, state.zone, state.moved_from_zone) == (LoadStage.ON, "lower", "upper")
    app = board(ledger, TURN)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        assert "South, lower shelves" in screen_text(app)
        assert "South, upper shelves" not in screen_text(app).split("On the pits")[1]
