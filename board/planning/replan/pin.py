"""A load that a person puts somewhere: pinned, only that pit, zone, setpoint and start is open to it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from board.errors import PlanError
from board.house.model import House
from board.house.wording import in_list, nearest
from board.planning.plan import Plan, PlannedLoad
from board.planning.problem import SAME_SETPOINT_K, Kept, Mode, Part
from board.planning.standing import spot_id


@dataclass(frozen=True, slots=True)
class Pin:
    """A load by its id, and where it is to cook: pit, zone where the pit has them, setpoint, loading time.

    Without a setpoint it keeps its own where the pit is offered it, else takes the one nearest its cut's
    usual that can start then. `pieces` is how many of it, where the rest is to cook somewhere else.
    """

    load: str
    pit: str
    at: datetime
    zone: str | None = None
    setpoint_c: float | None = None
    pieces: int | None = None


def pin_of(load: PlannedLoad) -> Pin:
    """A load pinned where it is."""
    return Pin(load.id, load.pit, load.load_at, load.zone, load.setpoint_c)


def check_known(house: House, committed: Plan | None, begun: Iterable[str], pins: Sequence[Pin]) -> None:
    """Refuse pins of loads that there are not, that have begun, or on pits that there are not.

    Raises:
        PlanError: names what was found and what is allowed.
    """
    on = set(begun)
    open_loads = {load.id: load for load in committed.loads if load.id not in on} if committed else {}
    ids = list(open_loads)
    for pin in pins:
        if pin.load in on:
            others = f"may be pinned: {nearest(pin.load, ids)}" if ids else "no load may be pinned any more"
            raise PlanError(f"{pin.load} has begun: it stays where it is; {others}")
        if pin.load not in ids:
            known = nearest(pin.load, ids)
            raise PlanError(f"no load {pin.load!r} in the plan that is kept; its loads are {known}")
        check_place(house, pin)
        _check_pieces(open_loads[pin.load], pin)


def _check_pieces(load: PlannedLoad, pin: Pin) -> None:
    if pin.pieces is not None and not 1 <= pin.pieces <= load.pieces:
        allowed = f"1 to {load.pieces}, the pieces it has: change what is promised for more"
        raise PlanError(f"{pin.load}: found {pin.pieces} pieces, allowed is {allowed}")


def check_place(house: House, pin: Pin) -> None:
    """Refuse a pit or a zone that there is not.

    Raises:
        PlanError: names what was found and what is allowed.
    """
    if pin.pit not in house.pits:
        raise PlanError(f"no pit {pin.pit!r} in this house; its pits are {in_list(list(house.pits))}")
    zones = [zone.id for zone in house.pits[pin.pit].zones]
    if pin.zone is not None and pin.zone not in zones:
        known = f"its zones are {in_list(zones)}" if zones else "it is one space"
        raise PlanError(f"{pin.pit} has no zone {pin.zone!r}; {known}")


def modes_at(part: Part, pin: Pin, setpoint_c: float | None) -> list[Mode]:
    """The ways a part could cook at a pin's place, the likeliest wanted first.

    Args:
        setpoint_c: the one it has now, wanted where the pin names none.
    """
    wanted = pin.setpoint_c if pin.setpoint_c is not None else setpoint_c
    here = [mode for mode in part.modes if mode.pit == pin.pit]
    if pin.zone is not None:
        here = [mode for mode in here if mode.spot == spot_id(pin.pit, pin.zone)]
    exact = [mode for mode in here if wanted is not None and _same(mode.setpoint_c, wanted)]
    return exact if exact or pin.setpoint_c is not None else here


def pinned(part: Part, mode: Mode, start: int, load_id: str) -> Part:
    """The part with this place only; what a committed plan said of it is overruled."""
    only = replace(mode, starts=(start,))
    return replace(part, modes=(only,), kept=Kept(mode.pit, mode.setpoint_c, start, load_id), pinned=True)


def _same(one: float, other: float) -> bool:
    # setpoints read back from paper are rounded to a tenth
    return abs(one - other) <= SAME_SETPOINT_K + 0.05
