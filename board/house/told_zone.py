"""The zone, the clock and the crew that a house's files name now, for who needs no more of them."""

from collections.abc import Mapping
from pathlib import Path
from zoneinfo import ZoneInfo

from board.errors import HouseFileError
from board.house.calendar import named_zone
from board.house.model import Display, Person
from board.house.read_calendar import read_crew
from board.house.tables import read_toml


def told_zone(folder: Path) -> ZoneInfo | None:
    """The zone that a house's folder names; None where it cannot be read there, or is none there is."""
    try:
        return named_zone(read_toml(folder / "house.toml").text("zone"))
    except HouseFileError:
        return None


def told_clock_hours(folder: Path) -> int:
    """Whether a house's clock shows 12 hours or 24; the usual where it cannot be read."""
    usual = Display().clock_hours
    try:
        display = read_toml(folder / "house.toml").table("display")
        return display.whole("clock_hours", usual) if display else usual
    except HouseFileError:
        return usual


def told_crew(folder: Path) -> Mapping[str, Person]:
    """The people of a house by id; nobody where they cannot be read."""
    try:
        return read_crew(read_toml(folder / "crew.toml"))[0]
    except HouseFileError:
        return {}
