"""The invented night: its crew reads what it keeps, so that the demo's alarms are few and true."""

from datetime import date
from pathlib import Path

import pytest

from board.commands.demo import HOUSE, demo_ledger
from board.house.files import read_house
from board.house.seeds import seed_house
from board.views.alarms import alarms
from board.views.checks import PREFIX, READ
from board.views.gather import gather
from board.views.opening_plan import opened

FORGOTTEN = ["2026-12-19/1219-spare-ribs-1"]


@pytest.mark.parametrize(
    ("at", "overdue"),
    [("05:40", []), ("09:30", []), ("12:15", FORGOTTEN), ("17:00", []), ("19:30", [])],
)
def test_the_invented_crew_reads_the_hold_and_the_walk_in(
    tmp_path: Path, at: str, overdue: list[str]
) -> None:
    """No reading is overdue all day but the one of the ribs that were forgotten, until they are sold."""
    folder = seed_house(HOUSE)
    house = read_house(folder)
    ledger, now = demo_ledger(tmp_path / "board.db", house, folder, at)
    with ledger:
        found = alarms(gather(ledger, house, now), None, None)
    assert [one.load for one in found if one.do.startswith(PREFIX + READ)] == overdue


@pytest.mark.parametrize("at", ["05:40", "14:30"])
def test_what_the_invented_cooks_teach_leaves_tomorrow_about_as_sure_as_planned(
    tmp_path: Path, at: str
) -> None:
    """A plan laid open in the demo is about as sure as when it was made, however many cooks have finished."""
    folder = seed_house(HOUSE)
    house = read_house(folder)
    ledger, now = demo_ledger(tmp_path / "board.db", house, folder, at)
    with ledger:
        facts = gather(ledger, house, now)
    plan = facts.plans[date(2026, 12, 20)]
    planned = {risk.service: risk.chance for risk in plan.risks}
    for risk in opened(facts, plan, {}).risks:
        assert abs(risk.chance - planned[risk.service]) < 0.1, (risk.service, risk.chance)
