"""Changes of the house or its promises worth trying against a shortage, from what binds."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from board.house.model import Cut, Hold, House, Pit
from board.house.units import format_temperature
from board.house.wording import clock_time, count
from board.planning.area import CM2_A_M2
from board.planning.modes import palette, settings
from board.planning.plan import Occasion
from board.planning.shortfall.binding import Lifted, metres, overdrawn, place
from board.planning.shortfall.case import Case
from board.planning.shortfall.cures import Cure
from board.safety.limits import hot_hold_least_c

# Room is asked for in steps of so many m²: nobody buys a cabinet to the square centimetre.
_STEP_M2 = 0.05


# The limits that more people, and another pit, can lift.
PEOPLE = frozenset({"hands", "attention"})
_PITS = frozenset({"pit room", "level", "setpoint"})


def may_bind(case: Case, bound: Sequence[Lifted], limits: frozenset[str]) -> bool:
    """Whether any of these limits may keep something out: they bind, or it is not known what does."""
    unknown = not bound or any(part.id in case.problem.hopeless for part in case.parts)
    return unknown or any(limits & lifted.limits for lifted in bound)


def changes(case: Case, bound: Sequence[Lifted], occasions: Sequence[Occasion]) -> Iterator[Cure]:
    """Every change worth trying for one need that is short, each once."""
    if may_bind(case, bound, _PITS):
        yield from _pits_in_use(case)
        yield from _pits_that_would_take_it(case)
    if may_bind(case, bound, frozenset({"hold"})):
        yield from _warmer_holds(case)
    for lifted in bound:
        yield from _more_room(case, lifted)
    yield from _served_elsewhere(case, occasions)


def _pits_in_use(case: Case) -> Iterator[Cure]:
    for pit in case.house.pits.values():
        if pit.out_of_use and case.problem.frame.pits[pit.id].shut.any():
            pits = {**case.house.pits, pit.id: replace(pit, out_of_use=())}
            yield Cure(pit.name, f"{pit.name} in use after all", replace(case.house, pits=pits))


def _pits_that_would_take_it(case: Case) -> Iterator[Cure]:
    cut = case.need.cut
    for pit in case.house.pits.values():
        if cut.id not in pit.takes and _could_take(pit, cut):
            pits = {**case.house.pits, pit.id: replace(pit, takes=pit.takes | {cut.id})}
            yield Cure(pit.name, f"let {pit.name} take {cut.name} too", replace(case.house, pits=pits))


def _could_take(pit: Pit, cut: Cut) -> bool:
    """Whether it does not take the cut only because the house says so."""
    anything = replace(pit, takes=frozenset())
    return bool(pit.takes and settings(cut, anything, palette(anything, [cut])))


def _warmer_holds(case: Case) -> Iterator[Cure]:
    least = hot_hold_least_c(place=case.house.jurisdiction)
    for hold in case.house.holds.values():
        if hold.setpoint_c is not None and hold.setpoint_c < least:
            warm = format_temperature(least, case.house.display)
            house = _with_hold(case.house, replace(hold, setpoint_c=least))
            yield Cure(hold.name, f"{hold.name} set to {warm} or more", house)


def _more_room(case: Case, lifted: Lifted) -> Iterator[Cure]:
    free = lifted.occupancy
    if "pit room" in lifted.limits:
        for spot, left in free.pit_left.items():
            if span := overdrawn(case, left):
                words = f"{metres(case, left)} more on {place(case, spot)} {span}"
                yield Cure(spot, words, _wider(case, spot, int(left.min())))
    for limit, left in (("bench", free.bench_left), ("hold", free.hold_left)):
        if limit in lifted.limits and (span := overdrawn(case, left)):
            wanted = _new_hold(limit, -int(left.min()) / CM2_A_M2, case.house.jurisdiction)
            house = _with_hold(case.house, wanted)
            yield Cure(limit, f"{metres(case, left)} more {limit} {span}", house)


def _wider(case: Case, spot_id: str, left_cm2: int) -> House:
    spot, more = case.problem.frame.spots[spot_id], -int(left_cm2) / CM2_A_M2
    pit = case.house.pits[spot.pit]
    zones = tuple(
        replace(z, area_m2=z.area_m2 + more) if spot_id.endswith(f"/{z.id}") else z for z in pit.zones
    )
    wide: Pit = replace(pit, area_m2=pit.area_m2 + more, zones=zones)
    return replace(case.house, pits={**case.house.pits, pit.id: wide})


def _new_hold(limit: str, area_m2: float, place: str) -> Hold:
    name = f"one more {limit}"
    return Hold(name, name, area_m2 + _STEP_M2, hot_hold_least_c(place=place) if limit == "hold" else None)


def _with_hold(house: House, hold: Hold) -> House:
    return replace(house, holds={**house.holds, hold.id: hold})


def _served_elsewhere(case: Case, occasions: Sequence[Occasion]) -> Iterator[Cure]:
    """The missing portions promised at the day's other services that sell the item, instead."""
    item, here = case.need.item, case.need.occasion
    missing = sum(part.due for part in case.parts)
    for other in occasions:
        if other.id == here.id or other.is_order or here.is_order or item not in other.promises:
            continue
        left = max(0, here.promises.get(item, 0) - missing)
        promises = {(here.id, item): left, (other.id, item): other.promises[item] + missing}
        pieces = count(sum(part.pieces for part in case.parts), case.need.cut.name)
        words = f"move {pieces} to {other.name} at {clock_time(other.at, case.house)}"
        yield Cure(words, words, case.house, promises)
