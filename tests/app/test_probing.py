"""Putting a probe into a load from its page, and a board beside a feed."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from board.app.screens.load import LoadScreen
from board.house.model import House
from board.house.probes import Probe, ProbeReads
from board.ledger import feeding, read
from board.ledger.open import Ledger
from board.probes.reading import Fed
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import house
from tests.app.pictures import screen_text, settled

HOSTILE = "meat [bold]1[/] \x1b]0;x\x07"


def probed() -> House:
    """The house with a meat probe, whose name would command a terminal if it could."""
    probes = {
        "m1": Probe("m1", HOSTILE, ProbeReads.MEAT, None, ("m1",), unit="F"),
        "w1": Probe("w1", "walk-in door", ProbeReads.AIR, "walk-in", ("w1",)),
    }
    return replace(house(), probes=probes)


def feed(ledger: Ledger, probe: str, celsius: float, minutes_ago: float) -> None:
    """One reading of a probe so long ago."""
    at = NOW - timedelta(minutes=minutes_ago)
    feeding.take_fed(
        ledger, "stdin", [Fed(probe, at, celsius, "walk-in" if probe == "w1" else None)], noted_at=NOW
    )


async def test_p_puts_a_probe_into_a_load_and_takes_it_out_again(tmp_path: Path) -> None:
    """The same key does both, each is an entry, and the list says where the probe is."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger, of=probed())
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "v")
            await settled(app, pilot)
            assert isinstance(app.screen, LoadScreen)
            await pilot.press("p")
            await pilot.pause()
            assert "Which probe was put into" in screen_text(app)
            assert "meat [bold]1[/]" in screen_text(app)
            assert "\x1b" not in screen_text(app)
            await pilot.press("enter")
            await settled(app, pilot)
            assert "put into the" in screen_text(app)
            (placed,) = read.entries(ledger, kinds=("placed",))
            feed(ledger, "m1", 61.0, 0)
            await pilot.press("p")
            await pilot.pause()
            assert "take out" in screen_text(app)
            await pilot.press("enter")
            await settled(app, pilot)
            last = read.entries(ledger, kinds=("placed",))[-1]
    assert placed.data["load"] in {load.id for plan in app.facts.plans.values() for load in plan.loads}
    assert "load" not in last.data


async def test_a_house_without_meat_probes_says_so(tmp_path: Path) -> None:
    """The key explains itself."""
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("tab", "v")
            await settled(app, pilot)
            await pilot.press("p")
            await pilot.pause()
            assert "the house has no meat probe; name them in probes.toml" in screen_text(app)


async def test_a_silent_probe_rings_on_the_board(tmp_path: Path) -> None:
    """Told in one line at the top, and in the list of alarms with what to do."""
    with night_ledger(tmp_path / "board.db") as ledger:
        feed(ledger, "w1", 3.0, 25)
        app = board(ledger, of=probed())
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("a")
            await pilot.pause()
            text = " ".join(screen_text(app).split())
    assert "walk-in door has sent nothing since 05:1" in text
    assert "read the walk-in by hand" in text


async def test_the_record_tells_a_probe_in_a_line_and_its_hours(tmp_path: Path) -> None:
    """However many readings it sent."""
    with night_ledger(tmp_path / "board.db") as ledger:
        for minute in range(200, 0, -1):
            feed(ledger, "w1", 3.0 + minute / 100, minute)
        app = board(ledger, of=probed())
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(app, pilot)
            await pilot.press("5")
            await settled(app, pilot)
            text = screen_text(app)
            assert text.count("walk-in door") <= 2
            assert "walk-in door: 200 readings from" in text
            await pilot.press("home", "enter")
            await pilot.pause()
            assert "60 readings" in screen_text(app)
