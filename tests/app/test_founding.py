"""`board` where there is no house: one is made by keys alone, nothing written before the end."""

import os
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from board.app.dialogs.ask import Ask
from board.app.dialogs.pick import Pick
from board.app.founding.app import FoundingApp
from board.app.founding.place import usual_folder, writable
from board.cli import run
from board.commands.first_run import machine_zone
from board.errors import HouseFileError
from board.house.files import read_house
from board.house.founding import begun
from board.house.starter import write_starter
from board.views.founding import CREW, HOUSE, LOOK, START, Standing
from tests.app.pictures import screen_text

TODAY = date(2026, 11, 30)
SIZES = [(60, 20), (80, 24), (120, 36), (200, 60)]


def founding(here: Path, page: int = START, name: str = "") -> FoundingApp:
    """The pages, on a machine in Denver."""
    house = replace(begun("America/Denver", "US"), name=name)
    return FoundingApp(Standing(page, house, str(usual_folder(here, name))), here, TODAY)


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """An empty folder to stand in."""
    folder = tmp_path / "here"
    folder.mkdir()
    return folder


async def looked_over(app: FoundingApp, pilot: Pilot) -> None:
    """Wait until the check has answered."""
    for _ in range(600):
        if app.standing.found is not None:
            break
        await pilot.pause(0.05)
    await pilot.pause()


async def typed(pilot: Pilot, *keys: str) -> None:
    """Press keys; a text of more than one word is typed letter by letter."""
    for key in keys:
        letters = [{" ": "space", ",": "comma"}.get(c, c) for c in key[1:]] if key.startswith("=") else [key]
        await pilot.press(*letters)
        await pilot.pause()


@pytest.mark.parametrize("size", SIZES)
async def test_a_new_house_is_made_by_keys_alone(size, here):
    """Name, crew, and Enter through the rest: the files are there, and say what was typed."""
    app = founding(here)
    async with app.run_test(size=size) as pilot:
        await typed(pilot, "enter", "enter", "=Juniper Yard", "enter")
        await typed(pilot, "enter", "enter", "end", "enter", "enter")
        assert app.standing.page == CREW
        await typed(pilot, "enter", "=Ann, Bo", "enter", "enter", "enter", "enter", "enter")
        await typed(pilot, "enter", "=Cy", "enter", "enter", "enter", "enter", "enter", "enter")
        await looked_over(app, pilot)
        assert "2 p promises" in " ".join(screen_text(app).replace("then ", "").split())
        assert list(here.iterdir()) == []
        await typed(pilot, "end", "enter")
    house = read_house(here)
    assert house.name == "Juniper Yard"
    assert [person.name for person in house.people.values()] == ["Ann", "Bo", "Cy"]
    assert app.return_value is not None
    assert app.return_value.folder == here


@pytest.mark.parametrize("keys", [["q"], ["enter", "q"], ["ctrl+c"], ["enter", "enter", "escape", "ctrl+c"]])
async def test_leaving_writes_nothing(keys, here):
    """From any page, by q or by ctrl+c."""
    app = founding(here)
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, *keys)
    assert list(here.iterdir()) == []
    assert app.return_value is not None
    assert app.return_value.folder is None


async def test_answers_that_would_be_lost_are_asked_about(here):
    """q on a house that has a name asks once; staying keeps every answer."""
    app = founding(here, HOUSE, "Juniper Yard")
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, "q")
        assert isinstance(app.screen, Pick)
        await typed(pilot, "enter")
        assert app.standing.house.name == "Juniper Yard"
        await typed(pilot, "q", "down", "enter")
    assert app.return_value is not None
    assert app.return_value.what == ""


async def test_the_zone_is_found_by_a_town_or_a_country(here):
    """Units, clock and rules follow the country while nobody has said otherwise."""
    app = founding(here, HOUSE, "Juniper Yard")
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, "home", "down", "down", "enter", "=ireland", "enter")
        house = app.standing.house
        assert (house.zone, house.jurisdiction, house.display.mass) == ("Europe/Dublin", "eu", "kg")
        assert house.pits[0].area == "2.4 m2"
        await typed(pilot, "home", "down", "down", "down", "enter")
        assert app.standing.house.display.mass == "lb"
        await typed(pilot, "home", "down", "down", "enter", "=denver", "enter")
        assert (app.standing.house.display.temperature, app.standing.house.display.mass) == ("degC", "lb")


async def test_pits_are_added_changed_and_taken_away(here):
    """A size without a unit is refused with a right one; two of a kind get names of their own."""
    app = founding(here, HOUSE, "Juniper Yard")
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, "right", "a", "=cabinet", "enter", "=2", "enter", "=20", "enter")
        assert "20 sq ft" in screen_text(app)
        await typed(pilot, *["backspace"] * 2, "=24 x 36 in", "enter")
        pits = app.standing.house.pits
        assert [pit.name for pit in pits] == ["Offset", "Cabinet", "Cabinet 2", "Cabinet 3"]
        assert pits[-1].area == "24 x 36 in"
        await typed(pilot, "home", "x", "enter", "=Cabinet 2", "enter")
        assert "there already" in screen_text(app)
        await typed(pilot, "escape", "home", "enter", "=Big [b]", "enter", "enter")
        assert [pit.name for pit in app.standing.house.pits] == ["Big [b]", "Cabinet 2", "Cabinet 3"]
        assert "Big [b]" in screen_text(app)


@pytest.mark.parametrize("size", [(80, 24), (120, 36)])
async def test_what_is_missing_is_said_before_anything_is_written(size, here):
    """Without a pit and without a name there is no line that writes."""
    app = founding(here, HOUSE)
    async with app.run_test(size=size) as pilot:
        await typed(pilot, "right", "home", "x", "x", *["right"] * 4)
        assert app.standing.page == LOOK
        text = screen_text(app)
        assert "still to answer: a name and a pit" in text
        assert "write it" not in text


async def test_every_word_at_the_foot_can_be_pressed(here):
    """The mouse does what the keys do: a double click goes on, the foot's word goes back."""
    app = founding(here)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.click("#page", offset=(5, 1), times=2)
        assert app.standing.page == HOUSE
        foot = screen_text(app).splitlines()[-1]
        await pilot.click("#foot", offset=(foot.index("Esc") + 1, 0))
        assert app.standing.page == START


async def test_the_invented_house_is_a_choice_and_answers_wait_for_the_way_back(here):
    """The demo is left for with the answers kept beside it."""
    app = founding(here, START, "Juniper Yard")
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, "down", "enter")
    assert app.return_value is not None
    assert (app.return_value.what, app.return_value.standing.house.name) == ("demo", "Juniper Yard")


async def test_another_folder_must_hold_a_house(here, tmp_path):
    """A folder without one is told in place; one with a house is opened."""
    write_starter(tmp_path / "there")
    app = founding(here)
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, "down", "down", "enter", "=nowhere", "enter")
        assert "found no folder" in " ".join(screen_text(app).split())
        await typed(pilot, "escape", "enter", "=../there", "enter")
    assert app.return_value is not None
    assert app.return_value.folder is not None
    assert app.return_value.folder.resolve() == tmp_path / "there"


def test_a_house_goes_beside_what_is_there(here):
    """An empty folder is taken itself; one with anything in it gets a folder of the house's name."""
    assert usual_folder(here, "Juniper Yard") == here
    (here / "notes.txt").write_text("")
    assert usual_folder(here, "Juniper Yard") == here / "juniper-yard"
    assert usual_folder(here, "炉") == here / "my-house"


def test_a_folder_that_cannot_be_written_is_told_in_a_line(here, monkeypatch):
    """One that the system gives no leave to write into, as root it gives everywhere."""
    monkeypatch.setattr(os, "access", lambda path, _: Path(path) != here)
    with pytest.raises(HouseFileError, match="cannot be written"):
        writable(here / "new")


@pytest.mark.parametrize("folder", ["x" * 300, "~nobody-of-that-name/house"])
async def test_a_folder_that_cannot_be_is_told_in_a_line(folder, here):
    """Its name stays to be put right; a new house can be written into none of a name that no disk takes."""
    app = founding(here)
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, "down", "down", "enter")
        app.screen.query_one(Input).value = folder
        await typed(pilot, "enter")
        assert isinstance(app.screen, Ask)
        assert app.screen.query_one(Input).value == folder
        assert "house" in str(app.screen.query_one(".wrong").render())
    with pytest.raises(HouseFileError, match="cannot be written"):
        writable(here / ("x" * 300))


def test_a_file_in_the_folders_place_is_told_in_a_line(here):
    """Neither the file itself nor anything under it can be a house's folder."""
    (here / "file").write_text("")
    for path in (here / "file", here / "file" / "house"):
        with pytest.raises(HouseFileError, match=r"found a file|cannot be written"):
            writable(path)


def test_the_machines_zone_is_a_place_or_nothing():
    """Universal time is no kitchen's."""
    assert machine_zone({"TZ": "America/Denver"}) == "America/Denver"
    assert machine_zone({"TZ": ":Europe/Dublin"}) == "Europe/Dublin"
    assert machine_zone({"TZ": "Etc/UTC"}) != "Etc/UTC"
    assert machine_zone({"TZ": "Neverland/Nowhere"}) != "Neverland/Nowhere"


def test_off_a_terminal_nothing_is_asked(here, monkeypatch, capsys):
    """Into a pipe it is an error that says how to start, as ever, and no file appears."""
    monkeypatch.chdir(here)
    assert run([]) == 2
    assert "board house new" in capsys.readouterr().err
    assert list(here.iterdir()) == []
