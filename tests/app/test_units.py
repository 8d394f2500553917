"""A house reads its own clock and degrees on every view, and none of either is cut."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from board.house.model import Display
from tests.app.boards import WHY, board, night_ledger
from tests.app.house_fixture import house, plan, sunday
from tests.app.pictures import VIEWS, drawn

HOUSES = {
    "12-hour, lb, °F": Display(mass="lb", temperature="degF", volume="gal", clock_hours=12),
    "24-hour, kg, °C": Display(),
}
TIME = re.compile(r"\b\d{1,2}:\d\d(?: ?[ap](?:m\b|\b))?")
DIALOGS = [("temperature", "t"), ("temperatures", "T"), ("time-right", "y"), ("many", "m")]
OPENINGS = [*VIEWS.items(), *DIALOGS, ("record-line", "5,k,enter"), ("weighing", "4,enter")]
CELSIUS_ALONE = ("91°", "98°", "107°", "118°", "121°", "135°")  # of the fixture's readings and setpoints
FAHRENHEIT_ALONE = ("196°", "208°", "225°", "244°", "250°", "275°")
WRITTEN = set(TIME.findall(repr((plan(), sunday(), WHY))))  # by hand, in the fixture's accounts


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize(("view", "keys"), OPENINGS, ids=[view for view, _ in OPENINGS])
@pytest.mark.parametrize("called", HOUSES)
async def test_every_view_reads_as_its_house_does(
    called: str, view: str, keys: str, size: tuple[int, int], tmp_path: Path
) -> None:
    """No time in the other clock, no temperature in the other degrees, and no time cut off."""
    display = HOUSES[called]
    with night_ledger(tmp_path / "board.db") as ledger:
        app = board(ledger, of=replace(house(), display=display))
        found = await drawn(app, size, keys.split(","))
    times = [time for time in TIME.findall(found) if time not in WRITTEN]
    halves = [time for time in times if time[-1] in "apm"]
    assert halves == (times if display.clock_hours == 12 else [])
    foreign = CELSIUS_ALONE if display.temperature == "degF" else FAHRENHEIT_ALONE
    said = re.sub(r" on North at 118°", "", found)  # by hand too
    assert [one for one in foreign if re.search(rf"(?<!\d){one}", said)] == []
    assert re.findall(r"\d:\d?…" if display.clock_hours == 24 else r"\d:\d{0,2} ?[ap]?…", found) == []
