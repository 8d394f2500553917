"""The time zone that a house's files name now, for who needs no more of them."""

from pathlib import Path
from zoneinfo import ZoneInfo

from board.errors import HouseFileError
from board.house.calendar import named_zone
from board.house.tables import read_toml


def told_zone(folder: Path) -> ZoneInfo | None:
    """The zone that a house's folder names; None where it cannot be read there, or is none there is."""
    try:
        return named_zone(read_toml(folder / "house.toml").text("zone"))
    except HouseFileError:
        return None
