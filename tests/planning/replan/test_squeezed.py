"""A committed load that finds no room whole is cut: its first pieces stay that load, the rest are another."""

from dataclasses import replace

import pytest

from board.planning.planner import plan_day
from board.planning.replan.differences import differences
from tests.planning.checker import faults
from tests.planning.conftest import DAY


def test_the_rest_of_a_cut_load_has_an_id_of_its_own(two_fires, plain_plan):
    """With pits of a third of the room, briskets go on in bits: one keeps the id, none takes another's."""
    pits = {key: replace(pit, area_m2=0.3) for key, pit in two_fires.pits.items()}
    house = replace(two_fires, pits=pits)
    again = plan_day(house, DAY, seconds=0, committed=plain_plan)
    before = {load.id: load for load in plain_plan.loads}
    ids = [load.id for load in again.loads]
    cut = [ld for ld in again.loads if ld.id in before and ld.pieces < before[ld.id].pieces]
    assert cut
    assert len(set(ids)) == len(ids)
    assert all(
        (ld.cut, ld.item) == (before[ld.id].cut, before[ld.id].item) for ld in again.loads if ld.id in before
    )
    assert faults(again, house) == []


@pytest.mark.parametrize("seed", [0, 1])
def test_loads_cut_to_fit_are_kept_as_they_are(two_fires, seed):
    """Bits of a lot stay timed as all of it, so that with nothing changed none gives way to another."""
    pits = {key: replace(pit, area_m2=0.35) for key, pit in two_fires.pits.items()}
    house, promises = replace(two_fires, pits=pits), {("lunch", "sliced"): 150}
    plan = plan_day(house, DAY, seconds=0.3, seed=seed, promises=promises)
    assert any(load.timed_as > load.pieces for load in plan.loads)
    again = plan_day(house, DAY, seconds=0, seed=seed, promises=promises, committed=plan)
    assert differences(plan, again, house) == ()
