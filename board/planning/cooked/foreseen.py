"""Cuts that no pit, rest and hold of their house would cook safe, pulled as its files say."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime

from board.house.model import Cut, House, Pit
from board.house.spans import TimeSpan
from board.planning.cooked.judge import cooked_as_planned
from board.planning.cooked.words import never
from board.planning.modes import takes
from board.planning.plan import CookedBy, PlannedLoad
from board.planning.shelves import warm_holds_of

_ANY_DAY = datetime(2026, 1, 1, tzinfo=UTC)  # a cook takes as long on any


def never_met(house: House, cuts: Sequence[Cut]) -> Iterator[tuple[Cut, str]]:
    """Each cut that meets its rule on no pit that takes it, with why: at its usual heat, held its longest.

    Rested as short as may be, for it cools on a bench, and as long.
    """
    loads = {
        cut.id: [
            _load(house, cut, pit, rest)
            for pit in _pits(house, cut)
            for rest in dict.fromkeys(cut.rest_minutes)
        ]
        for cut in cuts
    }
    found = cooked_as_planned(house, [load for its in loads.values() for load in its])
    for cut in cuts:
        told = [(load, found[load.id]) for load in loads[cut.id]]
        if told and all(cooked.by is CookedBy.NOT_MET for _, cooked in told):
            load, cooked = max(told, key=lambda pair: pair[1].when_served)
            yield cut, never(house, load, cooked)


def _pits(house: House, cut: Cut) -> list[Pit]:
    """The pits that take a cut and come to a heat it cooks in, above its pull."""
    return [
        pit for pit in house.pits.values() if takes(pit, cut) and _heat_c(pit, cut) > cut.end_core_c + 1.0
    ]


def _heat_c(pit: Pit, cut: Cut) -> float:
    return min(max(cut.pit_c.usual, pit.setpoint_c[0]), pit.setpoint_c[1])


def _load(house: House, cut: Cut, pit: Pit, rest: float) -> PlannedLoad:
    """One usual piece on a pit, rested so many minutes, then held as long as its cut may."""
    holds = sorted(warm_holds_of(house), key=lambda hold: hold.setpoint_c or 0.0)
    held = cut.hold_longest_minutes if holds else 0.0
    then = TimeSpan(_ANY_DAY, _ANY_DAY, _ANY_DAY)
    return PlannedLoad(
        id=f"{cut.id}/{pit.id}/{rest:g}",
        cut=cut.id,
        item=cut.id,
        pieces=1,
        mass_kg=cut.mass_kg.usual,
        pit=pit.id,
        setpoint_c=_heat_c(pit, cut),
        light_at=_ANY_DAY,
        load_at=_ANY_DAY,
        wrap_at=None,
        pull_at=then,
        ready_at=then,
        needed_at=_ANY_DAY,
        services=(),
        portions=1,
        area_m2=cut.area_m2,
        rest_minutes=rest,
        hold_minutes_p50=held,
        spare_minutes_p50=rest - cut.rest_minutes[0] + held,
        chance=1.0,
        hold=holds[-1].id if holds else None,
    )
