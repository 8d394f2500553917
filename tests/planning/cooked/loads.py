"""One load of a cut on a pit, planned by hand, in a house that has that cut."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from board.house.library import library_cut
from board.house.model import Cut, House, StepRule, Work
from board.house.spans import TimeSpan
from board.planning.plan import PlannedLoad

ON = datetime(2026, 6, 10, 12, tzinfo=UTC)
NEEDLED = StepRule("inject", Work(), (60.0, 2880.0), chilled=True)


def cut_of(id: str, pull_c: float, **changes) -> Cut:
    """A library cut pulled at a core."""
    return replace(library_cut(id), pull_core_c=pull_c, tender_minutes=0.0, wrap=None, **changes)


def injected(id: str, pull_c: float) -> Cut:
    """A library cut with brine driven into it."""
    return cut_of(id, pull_c, prep=(NEEDLED,))


def house_with(house: House, cut: Cut) -> House:
    """The house with that cut."""
    return replace(house, cuts={**house.cuts, cut.id: cut})


def planned(cut: Cut, *, rest: float = 15.0, spare: float = 0.0, **changes) -> PlannedLoad:
    """Two pieces of it on the cabinet pit at 121.5 °C, rested on the bench, held for the spare (minutes)."""
    shortest = min(rest, cut.rest_minutes[0])
    off = ON + timedelta(hours=5)
    ready = off + timedelta(minutes=shortest)
    load = PlannedLoad(
        id="one",
        cut=cut.id,
        item=cut.id,
        pieces=2,
        mass_kg=2 * cut.mass_kg.usual,
        pit="box",
        setpoint_c=121.5,
        light_at=ON - timedelta(hours=1),
        load_at=ON,
        wrap_at=None,
        pull_at=TimeSpan(off, off, off),
        ready_at=TimeSpan(ready, ready, ready),
        needed_at=off + timedelta(minutes=rest + spare),
        services=("lunch",),
        portions=20,
        area_m2=2 * cut.area_m2,
        rest_minutes=rest,
        hold_minutes_p50=spare,
        spare_minutes_p50=rest - shortest + spare,
        chance=0.9,
        bench="bench",
        hold="cabinet" if spare else None,
    )
    return replace(load, **changes)
