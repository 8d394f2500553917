"""Loads of a plan split in two or joined to one: the next plan is made from it so, and keeps it so."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from board.errors import PlanError
from board.planning.plan import Plan, PlannedBatch, PlannedLoad


@dataclass(frozen=True, slots=True)
class Split:
    """So many pieces of a load are cooked as a load of their own, named `into`."""

    load: str
    pieces: int
    into: str


@dataclass(frozen=True, slots=True)
class Join:
    """Another load is cooked with a load, where and when that is."""

    load: str
    other: str


Wish = Split | Join


def regrouped(plan: Plan, wishes: Iterable[Wish]) -> Plan:
    """The plan with each wish in it, in turn; one that its loads no longer allow is left out.

    Loads only: the steps of what was regrouped are those of the plan that is made from it.
    """
    for wish in wishes:
        if _can(plan, wish):
            plan = _split(plan, wish) if isinstance(wish, Split) else _joined(plan, wish)
    return plan


def find(plan: Plan, id: str) -> PlannedLoad:
    """A load of a plan.

    Raises:
        PlanError: there is none of that id.
    """
    found = next((load for load in plan.loads if load.id == id), None)
    if found is None:
        raise PlanError(f"no load {id!r} in this plan: plan the day again")
    return found


def _can(plan: Plan, wish: Wish) -> bool:
    loads = {load.id: load for load in plan.loads}
    if wish.load not in loads:
        return False
    if isinstance(wish, Split):
        return wish.into not in loads and wish.pieces < loads[wish.load].pieces
    return wish.other in loads and loads[wish.other].cut == loads[wish.load].cut


def _split(plan: Plan, wish: Split) -> Plan:
    load = find(plan, wish.load)
    stays = _of(load, load.pieces - wish.pieces, load.portions * (load.pieces - wish.pieces) // load.pieces)
    goes = replace(_of(load, wish.pieces, load.portions - stays.portions), id=wish.into)
    loads = [one for old in plan.loads for one in ((stays, goes) if old.id == load.id else (old,))]
    share = wish.pieces / load.pieces
    batches = tuple(_shared(batch, load.id, wish.into, share) for batch in plan.batches)
    return replace(plan, loads=tuple(loads), batches=batches)


def _of(load: PlannedLoad, pieces: int, portions: int) -> PlannedLoad:
    """The load with another number of pieces; how long so many cook is reckoned anew."""
    part = pieces / load.pieces
    return replace(
        load,
        pieces=pieces,
        portions=portions,
        mass_kg=load.mass_kg * part,
        area_m2=load.area_m2 * part,
        timed_as=0,
    )


def _shared(batch: PlannedBatch, load: str, into: str, share: float) -> PlannedBatch:
    """A batch made for a load, for both that it became."""
    if load not in batch.loads:
        return batch
    loads = (*batch.loads, into)
    if not batch.each_kg:
        return replace(batch, loads=loads)
    each = dict(zip(batch.loads, batch.each_kg, strict=True))
    goes = share * each[load]
    kept = {**each, load: each[load] - goes, into: goes}
    return replace(batch, loads=loads, each_kg=tuple(kept[id] for id in loads))


def _joined(plan: Plan, wish: Join) -> Plan:
    load, other = find(plan, wish.load), find(plan, wish.other)
    both = _of(load, load.pieces + other.pieces, load.portions + other.portions)
    dues = sorted({*moments(load), *moments(other)})
    together = replace(
        both,
        needed_at=dues[0],
        services=tuple(dict.fromkeys((*load.services, *other.services))),
        waves=() if len(dues) == 1 and not (load.waves or other.waves) else tuple(dues),
    )
    loads = tuple(together if one.id == load.id else one for one in plan.loads if one.id != other.id)
    batches = tuple(_merged(batch, load.id, other.id) for batch in plan.batches)
    return replace(plan, loads=loads, batches=batches)


def moments(load: PlannedLoad) -> tuple[datetime, ...]:
    """The moments a load is due at."""
    return load.waves or (load.needed_at,)


def _merged(batch: PlannedBatch, load: str, other: str) -> PlannedBatch:
    """A batch made for another load, for the one it is joined with."""
    if other not in batch.loads:
        return batch
    each = dict(zip(batch.loads, batch.each_kg, strict=True)) if batch.each_kg else {}
    loads = tuple(dict.fromkeys(load if id == other else id for id in batch.loads))
    if not each:
        return replace(batch, loads=loads)
    each[load] = each.get(load, 0.0) + each.pop(other)
    return replace(batch, loads=loads, each_kg=tuple(each[id] for id in loads))
