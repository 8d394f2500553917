"""Which loads of a plan can be split or joined, and why not."""

from collections.abc import Sequence
from math import floor

from board.errors import PlanError
from board.house.model import Cut, House
from board.house.wording import count, duration
from board.planning.joining import reach
from board.planning.modes import takes
from board.planning.names import Names
from board.planning.plan import Plan
from board.planning.problem import SAME_SETPOINT_K
from board.planning.replan.regroup import Join, Split, find, moments


def split_of(house: House, plan: Plan, load_id: str, pieces: int) -> Split:
    """The wish to split a load, its new load named.

    Raises:
        PlanError: the load has no two pieces, or not so many as are to go.
    """
    load = find(plan, load_id)
    called = house.cuts[load.cut].name
    if load.pieces < 2:
        raise PlanError(f"{count(load.pieces, called)} cannot be split: whole pieces only")
    if not 1 <= pieces < load.pieces:
        allowed = f"1 to {load.pieces - 1} can go, one at least stays"
        raise PlanError(f"{pieces} of {count(load.pieces, called)}: {allowed}")
    new = Names({one.id for one in plan.loads}).new(f"{plan.day:%m%d}-{load.cut}")
    return Split(load_id, pieces, new)


def join_of(house: House, plan: Plan, load_id: str, other_id: str) -> Join:
    """The wish to join two loads.

    Raises:
        PlanError: they are of different cuts, items or setpoints, or the last of one waits too long.
    """
    load, other = find(plan, load_id), find(plan, other_id)
    one, two = house.cuts[load.cut], house.cuts[other.cut]
    if (load.cut, load.item) != (other.cut, other.item):
        raise PlanError(f"{one.name} and {two.name} are not one load: cut and item must be the same")
    if abs(load.setpoint_c - other.setpoint_c) > SAME_SETPOINT_K or load.then_c != other.then_c:
        raise PlanError("their pits are at different setpoints: move one of them first")
    dues = sorted({*moments(load), *moments(other)})
    waits = dues[-1] - dues[0]
    if waits > reach(one):
        longest = duration(reach(one).total_seconds() / 60)
        told = duration(waits.total_seconds() / 60)
        raise PlanError(
            f"the last would wait {told} after the first is served; {longest} is the most for {one.name}"
        )
    most = _most(house, one)
    if load.pieces + other.pieces > most:
        raise PlanError(
            f"no pit has room for {load.pieces + other.pieces} at once: {count(most, one.name)} at most"
        )
    return Join(load_id, other_id)


def _most(house: House, cut: Cut) -> int:
    """The most pieces of a cut that one pit, or the largest zone of one, has room for."""
    pits = [pit for pit in house.pits.values() if takes(pit, cut)]
    rooms = [max((zone.area_m2 for zone in pit.zones), default=pit.area_m2) for pit in pits]
    return floor(max(rooms, default=0.0) / cut.area_m2 + 1e-9)


def joinable(house: House, plan: Plan, load_id: str, open_loads: Sequence[str]) -> tuple[str, ...]:
    """The loads that can be joined with a load, of those that have not begun."""
    found = []
    for other in plan.loads:
        if other.id == load_id or other.id not in open_loads:
            continue
        try:
            join_of(house, plan, load_id, other.id)
        except PlanError:
            continue
        found.append(other.id)
    return tuple(found)


def why_alone(house: House, plan: Plan, load_id: str, open_loads: Sequence[str]) -> str:
    """Why a load can be joined with no other."""
    load = find(plan, load_id)
    alike = [one.id for one in plan.loads if (one.cut, one.item) == (load.cut, load.item)]
    others = [id for id in alike if id in open_loads and id != load_id]
    if not others:
        return f"no other load of {house.cuts[load.cut].name} that has not begun: it can be joined with none"
    try:
        join_of(house, plan, load_id, others[0])
    except PlanError as error:
        return str(error)
    return ""
