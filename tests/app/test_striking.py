"""Striking what a probe sent while it lay in the fire, from a load's page and from the Record."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from board.app.app import BoardApp
from board.app.dialogs.aside import AsideDialog
from board.app.dialogs.quick import Quick
from board.app.dialogs.strike import StrikeDialog
from board.app.screens.load import LoadScreen
from board.app.widgets.panel import Panel
from board.house.model import Display, House
from board.house.probes import Probe, ProbeReads
from board.ledger import feeding, read
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.probes.reading import Bad, Fed
from board.sheets.load_sheet import load_sheet
from board.views.revising import revised
from tests.app.boards import NOW, board, night_ledger
from tests.app.house_fixture import DAY, at, house
from tests.app.pictures import screen_text, settled
from tests.app.test_clicks import click
from tests.app.test_pictures import compare

SIZES = ((80, 24), (120, 36), (200, 60))
OFFERED = ("04:52", "05:21")


def probed(display: Display | None = None) -> House:
    """The house with a meat probe, one in North's air and one in the walk-in."""
    probes = {
        "m1": Probe("m1", "meat 1", ProbeReads.MEAT, None, ("m1",)),
        "n1": Probe("n1", "North, grate", ProbeReads.AIR, "north", ("n1",)),
        "w1": Probe("w1", "walk-in door", ProbeReads.AIR, "walk-in", ("w1",)),
    }
    return replace(house(), probes=probes, display=display or Display())


def feed(
    ledger: Ledger, probe: str, first: str, count: int, celsius: float, place: str | None = None
) -> None:
    """A reading a minute."""
    sent = [Fed(probe, at(first) + timedelta(minutes=n), celsius, place) for n in range(count)]
    feeding.take_fed(ledger, "stdin", sent, noted_at=NOW)


@pytest.fixture
def fallen(tmp_path: Path) -> Iterator[Ledger]:
    """A night in which the briskets' probe lay on the grate from 04:52 to 05:21."""
    with night_ledger(tmp_path / "board.db") as ledger:
        feeding.place_probe(ledger, "m1", "sat-brisket", who="ines", at=at("03:50"), noted_at=NOW)
        feed(ledger, "m1", "04:00", 52, 84.0)
        feed(ledger, "m1", "04:52", 30, 118.0)
        feed(ledger, "m1", "05:22", 20, 90.0)
        feed(ledger, "n1", "04:00", 101, 117.0, "north")
        feed(ledger, "w1", "04:00", 102, 3.0, "walk-in")
        yield ledger


async def open_page(app: BoardApp, pilot: Pilot[None]) -> None:
    """The briskets' page."""
    await settled(app, pilot)
    app.open_load(f"{DAY}/sat-brisket")
    await settled(app, pilot)
    assert isinstance(app.screen, LoadScreen)


async def open_strike(app: BoardApp, pilot: Pilot[None]) -> StrikeDialog:
    """The question of the briskets' probe, by keys."""
    await open_page(app, pilot)
    await pilot.press("p", "delete")
    await pilot.pause()
    assert isinstance(app.screen, StrikeDialog)
    return app.screen


async def see_to(app: BoardApp, pilot: Pilot[None], key: str) -> None:
    """Enter on an alarm in the list."""
    await pilot.press("a")
    await pilot.pause()
    app.screen.query_one("#alarm-list", Panel).choose(key)
    await pilot.press("enter")
    await settled(app, pilot)


def typed(dialog: StrikeDialog) -> tuple[str, ...]:
    """What stands in the two lines."""
    return tuple(line.value for line in dialog.query(Input))


def strikes(ledger: Ledger) -> list[Entry]:
    """What was struck."""
    return read.entries(ledger, kinds=("struck",))


@pytest.mark.parametrize("size", SIZES)
async def test_a_fall_is_struck_by_three_keys_more_and_taken_back_by_one(
    size: tuple[int, int], fallen: Ledger
) -> None:
    """The span is offered, its readings and neighbours told, the reason picked; u brings all back."""
    app = board(fallen, of=probed())
    async with app.run_test(size=size) as pilot:
        dialog = await open_strike(app, pilot)
        assert typed(dialog) == OFFERED
        text = " ".join(screen_text(app).replace("│", " ").split())
        assert "What of meat 1 does not count?" in text
        assert "Strikes 30 readings from 04:52 to 05:21, 118°." in text
        assert "Before it 84° at 04:51, after it 90° at 05:22." in text
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, Quick)
        await pilot.press("2")
        await settled(app, pilot)
        text = " ".join(screen_text(app).split())
        assert "meat 1 does not count from 04:52 to 05:21, 30 readings: “lay in the fire”" in text
        (entry,) = strikes(fallen)
        assert (entry.who, entry.data["why"], entry.data["readings"]) == ("tomas", "lay in the fire", 30)
        assert max(one.temperature_c for one in app.facts.readings[DAY, "sat-brisket"]) < 100
        await pilot.press("u")
        await settled(app, pilot)
        assert "what it fed counts again" in " ".join(screen_text(app).split())
        assert max(one.temperature_c for one in app.facts.readings[DAY, "sat-brisket"]) == 118


async def test_the_load_s_page_shows_what_is_struck(fallen: Ledger) -> None:
    """Hollow marks beside a broken line, an entry with who and why, no silence; as text alike."""
    said = {"who": "odile", "at": at("05:40"), "noted_at": at("05:40")}
    feeding.strike_probe(fallen, "m1", at("04:52"), at("05:21"), "fell out", **said)  # type: ignore[arg-type]
    app = board(fallen, of=probed())
    async with app.run_test(size=(200, 60)) as pilot:
        await open_page(app, pilot)
        text = screen_text(app)
        known = app.screen._known  # type: ignore[attr-defined]
    assert text.count("○") > 3
    assert "meat 1 does not count from 04:52 to 05:21, 30 readings: “fell out”  Odile" in text
    assert "silent" not in text
    assert {one.temperature_c for one in known.struck} == {118.0}
    assert load_sheet(fallen, probed(), "sat-brisket", NOW, reviser=lambda _: {}).count("○") > 3


async def test_other_times_may_be_typed_or_moved_to(fallen: Ledger) -> None:
    """What they take follows each key; what cannot be says so and strikes nothing."""
    app = board(fallen, of=probed())
    async with app.run_test(size=(80, 24)) as pilot:
        dialog = await open_strike(app, pilot)
        await pilot.press("up", "up", "tab", "pagedown", "down")
        await pilot.pause()
        assert typed(dialog) == ("04:50", "05:32")
        assert "Strikes 43 readings from 04:50 to 05:32, 84° to 118°." in screen_text(app)
        await pilot.press(*"0430", "home", "ctrl+k", *"0430", "enter")
        await pilot.pause()
        assert "04:30 is before 04:50; turn them round" in " ".join(screen_text(app).split())
        await pilot.press("home", "ctrl+k", *"soon", "enter", "down")
        await pilot.pause()
        assert "“soon” is not a time" in screen_text(app)
        await pilot.press("home", "ctrl+k", *"02:10", "shift+tab", "home", "ctrl+k", *"02:00", "enter")
        await pilot.pause()
        text = " ".join(screen_text(app).split())
        assert "Nothing that counts was sent from 02:00 to 02:10." in text
        assert isinstance(app.screen, StrikeDialog)
        await pilot.press("escape")
        await settled(app, pilot)
    assert strikes(fallen) == []


NASTY = (
    "9" * 25,
    "25:00",
    "-1",
    "１２:３４",
    "2026-13-40 05:00",
    "9999-12-31 23:59",
    "\u202e05:10",
    "[b]",
    "@10",
    "",
)


async def test_no_text_in_either_line_does_more_than_say_so(fallen: Ledger) -> None:
    """Whatever is typed and moved from, the question stays, or goes on to the reason."""
    app = board(fallen, of=probed())
    async with app.run_test(size=(80, 24)) as pilot:
        dialog = await open_strike(app, pilot)
        for text in NASTY:
            for line in dialog.query(Input):
                line.value = text
                line.focus()
                await pilot.press("down", "pageup", "enter")
                await pilot.pause()
                assert app.screen is dialog
        assert app.is_running
    assert strikes(fallen) == []


@pytest.mark.parametrize("size", SIZES)
async def test_a_fall_is_struck_by_presses_alone(size: tuple[int, int], fallen: Ledger) -> None:
    """Each word that names a key is that key; the lines and the reasons can be pressed."""
    app = board(fallen, of=probed())
    async with app.run_test(size=size) as pilot:
        await open_page(app, pilot)
        await pilot.press("p")
        await pilot.pause()
        await click(app, pilot, "Del strikes")
        assert isinstance(app.screen, StrikeDialog)
        await click(app, pilot, "↓ a minute")
        await click(app, pilot, "05:21", last=False)
        await click(app, pilot, "↑ ")
        assert typed(app.screen) == ("04:53", "05:20")
        await click(app, pilot, "Enter goes on")
        await click(app, pilot, "fell out of the meat")
        await settled(app, pilot)
    (entry,) = strikes(fallen)
    assert (entry.data["readings"], entry.data["why"]) == (28, "fell out of the meat")


async def test_a_probe_of_the_pit_s_air_is_struck_from_the_same_list(fallen: Ledger) -> None:
    """It is put into no load: Enter asks at once what of it does not count, in words of one's own."""
    app = board(fallen, of=probed())
    async with app.run_test(size=(80, 24)) as pilot:
        await open_page(app, pilot)
        await pilot.press("p")
        await pilot.pause()
        assert "117° at 05:40, in the air of North" in screen_text(app)
        assert "walk-in door" not in screen_text(app)
        await pilot.press("down", "enter")
        await pilot.pause()
        assert isinstance(app.screen, StrikeDialog)
        assert typed(app.screen) == ("05:30", "05:42")
        assert "What it sends from now on counts." in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press(*"[b]wet\\", "enter")
        await settled(app, pilot)
        text = " ".join(screen_text(app).split())
        assert "North, grate does not count from 05:30 to 05:42, 11 readings: “[b]wet" in text
    (entry,) = strikes(fallen)
    assert entry.subject == "n1"


async def test_any_probe_is_put_right_in_the_record(fallen: Ledger) -> None:
    """c on its line strikes, Enter tells what was struck in its hours, by whom and why."""
    app = board(fallen, of=probed())
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(app, pilot)
        await pilot.press("5")
        await settled(app, pilot)
        await pilot.press("f", *"walk-in door", "enter")
        await pilot.pause()
        await pilot.press("c")
        await pilot.pause()
        dialog = app.screen
        assert isinstance(dialog, StrikeDialog)
        assert typed(dialog) == ("05:31", "05:42")
        await pilot.press("home", "ctrl+k", *"4:30 am", "tab", *"04:39", "enter", "3")
        await settled(app, pilot)
        text = " ".join(screen_text(app).split())
        assert "walk-in door: 102 readings from 04:00 to 05:41, 3°, 10 of them struck" in text
        await pilot.press("f", "home", "ctrl+k", *"walk-in 102", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await settled(app, pilot)
        text = " ".join(screen_text(app).replace("│", " ").split())
        assert "04:30 to 04:39 struck by Tomas, 3°, 10 readings: “was being cleaned”" in text
    (entry,) = strikes(fallen)
    assert (entry.subject, entry.data["since"][:16]) == ("w1", at("04:30").isoformat()[:16])


async def test_a_probe_that_sent_nothing_has_nothing_to_strike(fallen: Ledger) -> None:
    """It says so in place of an empty question."""
    known = probed()
    more = Probe("m2", "meat 2", ProbeReads.MEAT, None, ("m2",))
    app = board(fallen, of=replace(known, probes={**known.probes, "m2": more}))
    async with app.run_test(size=(80, 24)) as pilot:
        await open_page(app, pilot)
        await pilot.press("p", *"meat 2", "delete")
        await settled(app, pilot)
        assert "meat 2 sent nothing that counts in the last 24 hours" in screen_text(app)


async def test_a_house_of_twelve_hours_reads_and_types_its_own_clock(fallen: Ledger) -> None:
    """What is offered is what would be typed."""
    app = board(fallen, of=probed(Display(clock_hours=12)))
    async with app.run_test(size=(80, 24)) as pilot:
        dialog = await open_strike(app, pilot)
        assert typed(dialog) == ("4:52 am", "5:21 am")
        assert "Strikes 30 readings from 4:52 am to 5:21 am" in screen_text(app)
        await pilot.press("down")
        await pilot.pause()
        assert typed(dialog) == ("4:53 am", "5:21 am")


async def test_what_the_sums_leave_out_is_what_is_offered(tmp_path: Path) -> None:
    """A probe that hung in the kitchen's air is found by the estimate, to the minute."""
    with night_ledger(tmp_path / "board.db") as ledger:
        feeding.place_probe(ledger, "m1", "sat-brisket", who="ines", at=at("03:50"), noted_at=NOW)
        feed(ledger, "m1", "04:01", 32, 83.0)
        feed(ledger, "m1", "04:33", 34, 22.0)
        feed(ledger, "m1", "05:07", 34, 90.0)
        app = board(ledger, of=probed())
        app.session.reviser = revised
        async with app.run_test(size=(80, 24)) as pilot:
            dialog = await open_strike(app, pilot)
            assert typed(dialog) == ("04:33", "05:06")


async def test_a_probe_that_hangs_out_of_the_meat_rings(tmp_path: Path) -> None:
    """The estimate knows it, the alarm says what to do and leads to the load, whose record has the reason."""
    with night_ledger(tmp_path / "board.db") as ledger:
        feeding.place_probe(ledger, "m1", "sat-brisket", who="ines", at=at("03:50"), noted_at=NOW)
        feed(ledger, "m1", "04:01", 72, 90.0)
        feed(ledger, "m1", "05:13", 29, 22.0)
        app = board(ledger, of=probed())
        app.session.reviser = revised
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(app, pilot)
            (alarm,) = [one for one in app.alarming.loud if one.key.startswith("out/")]
            assert alarm.says.startswith("meat 1 has read no core of the briskets since 05:13: near the room")
            await see_to(app, pilot, alarm.key)
            assert isinstance(app.screen, LoadScreen)
            await pilot.press("tab", "tab")
            await settled(app, pilot)
            assert "left out, last at 05:41: near the room" in " ".join(screen_text(app).split())
            await pilot.press("p", "delete")
            await pilot.pause()
            assert isinstance(app.screen, StrikeDialog)
            assert typed(app.screen) == ("05:13", "05:42")
            await pilot.press("enter")
            await pilot.pause()
            await pilot.press("1")
            await settled(app, pilot)
            assert "what it sends from now on counts" in " ".join(screen_text(app).split())
            assert [one for one in app.alarming.loud if one.key.startswith(("out/", "silent/"))] == []


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (60, 20)])
async def test_the_question_looks_as_kept(size: tuple[int, int], fallen: Ledger) -> None:
    """All of it is in sight on the smallest screen there may be."""
    app = board(fallen, of=probed())
    async with app.run_test(size=size) as pilot:
        await open_strike(app, pilot)
        compare(f"dialog-strike-{size[0]}x{size[1]}.txt", screen_text(app), size)


async def test_the_page_of_a_struck_load_looks_as_kept(fallen: Ledger) -> None:
    """The curve of a load some of whose readings were struck."""
    said = {"who": "odile", "at": at("05:40"), "noted_at": at("05:40")}
    feeding.strike_probe(fallen, "m1", at("04:52"), at("05:21"), "fell out", **said)  # type: ignore[arg-type]
    app = board(fallen, of=probed())
    async with app.run_test(size=(120, 36)) as pilot:
        await open_page(app, pilot)
        await pilot.press("tab", "tab")
        await settled(app, pilot)
        compare("load-struck-120x36.txt", screen_text(app), (120, 36))


@pytest.mark.parametrize("size", SIZES)
async def test_messages_set_aside_ring_and_are_listed(size: tuple[int, int], fallen: Ledger) -> None:
    """The alarm has the reason, Enter on it shows each message as plain text."""
    bad = [
        Bad(NOW - timedelta(minutes=n), "found no unit, allowed C or F", "m9 [b]61[/]\x1b[2J")
        for n in (9, 5, 1)
    ]
    feeding.note_feed(fallen, "stdin", noted_at=NOW, bad=bad)
    app = board(fallen, of=probed())
    async with app.run_test(size=size) as pilot:
        await settled(app, pilot)
        await pilot.press("a")
        await pilot.pause()
        text = " ".join(screen_text(app).replace("│", " ").split())
        assert "△ 05:33 3 messages of stdin set aside since 05:33: found no unit;" in text
        await pilot.press("escape")
        await see_to(app, pilot, f"aside/stdin/{DAY}")
        assert isinstance(app.screen, AsideDialog)
        text = screen_text(app)
        assert text.count("m9 [b]61[/]") == 3
        assert "found no unit, allowed C or F" in text
        assert "\x1b" not in text
        await pilot.press("escape")
        await settled(app, pilot)
        assert not isinstance(app.screen, AsideDialog)
