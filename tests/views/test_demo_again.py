"""The demo's next day planned again from its own ledger."""

from datetime import timedelta
from pathlib import Path

from board.commands.demo import demo_ledger
from board.house.files import read_house
from board.house.seeds import seed_house
from board.planning.planner import plan_day
from board.planning.replan.differences import moved
from board.views.gather import gather
from board.views.pinning import plan_to_keep
from board.views.standing import standing_for


def test_with_nothing_changed_no_load_of_the_next_day_moves(tmp_path: Path) -> None:
    """Work in the kitchen for loads that have begun counts as it did when the day was planned: all stay."""
    folder = seed_house("tallow_row")
    house = read_house(folder)
    ledger, now = demo_ledger(tmp_path / "board.db", house, folder, None)
    with ledger:
        facts = gather(ledger, house, now)
    day = facts.today + timedelta(days=1)
    kept = plan_to_keep(facts, day, None)
    assert kept is not None
    again = plan_day(house, day, now=now, standing=standing_for(facts, day), committed=kept, seconds=0)
    assert moved(kept, again) == ()
    assert {load.id for load in again.loads} == {load.id for load in kept.loads}
