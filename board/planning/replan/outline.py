"""How a committed plan cuts the day's needs into loads, carried over to what is needed now."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from board.house.model import House
from board.planning.batches.made_for import kept_for
from board.planning.demand import Need, need_for
from board.planning.dues import Due
from board.planning.modes import takes
from board.planning.parts import Share, cut_into, shares_of
from board.planning.plan import Plan, PlannedBatch, PlannedLoad

Cut = tuple[Share, PlannedLoad | None]


@dataclass(frozen=True)
class Outline:
    """Shares as a committed plan cuts them, the committed load behind each, and its setpoints by pit."""

    shares: tuple[Share, ...]
    loads: tuple[PlannedLoad | None, ...]
    setpoints: Mapping[str, tuple[float, ...]]


@dataclass(frozen=True)
class Wishes:
    """What is to be cut, and how: the house, the chance that the pieces give the portions, and what stays.

    `begun` and `batches` are what stands, `fixed` the loads, by id, whose pieces may not change while others
    can, with how many of them where that is said; `grow` is whether more pieces join a committed load, or go
    in a load of their own.
    """

    house: House
    enough_chance: float
    begun: tuple[PlannedLoad, ...] = ()
    batches: tuple[PlannedBatch, ...] = ()
    fixed: Mapping[str, int | None] = field(default_factory=dict)
    grow: bool = True


def outline(needs: Sequence[Need], committed: Plan, wishes: Wishes) -> Outline:
    """Cut each need, of what is still to be cooked, as its committed loads are cut.

    More or fewer pieces only for what changed.
    """
    gone = {load.id for load in wishes.begun}
    left = [load for load in committed.loads if load.id not in gone]
    cuts: list[Cut] = []
    for need in _joined(needs, left, wishes):
        mine = [load for load in left if _serves(load, need)]
        left = [load for load in left if load not in mine]
        cuts += _cut(replace(need, pieces=_pieces(need, mine, committed, wishes)), mine, wishes)
    loads = tuple(load for _, load in cuts)
    setpoints = {
        pit: tuple(dict.fromkeys(load.setpoint_c for load in loads if load and load.pit == pit))
        for pit in wishes.house.pits
    }
    return Outline(tuple(share for share, _ in cuts), loads, setpoints)


def _joined(needs: Sequence[Need], loads: Sequence[PlannedLoad], wishes: Wishes) -> list[Need]:
    """The needs, those that one committed load serves together as one."""
    groups: list[list[Need]] = []
    for need in needs:
        shared = [g for g in groups if any(_serves(ld, need) and _serves(ld, n) for ld in loads for n in g)]
        groups = [g for g in groups if g not in shared]
        groups.append([*(n for g in shared for n in g), need])
    return [_as_one(group, wishes) for group in groups]


def _as_one(group: Sequence[Need], wishes: Wishes) -> Need:
    if len(group) == 1:
        return group[0]
    dues = sorted((due for need in group for due in need.serves), key=_moment)
    return need_for(wishes.house, group[0].item, dues, wishes.enough_chance, in_steps=True)


def _moment(due: Due) -> tuple[object, str]:
    return due.at, due.occasion.id


def _serves(load: PlannedLoad, need: Need) -> bool:
    """Whether a committed load is for something of this need."""
    if load.item != need.item or load.cut != need.cut.id:
        return False
    return any(due.occasion.id in load.services and due.at in _moments(load, due) for due in need.serves)


def _moments(load: PlannedLoad, due: Due) -> tuple[object, ...]:
    """The moments it is for; a load that names none is for the opening."""
    return load.waves or (due.occasion.at,)


def _pieces(need: Need, mine: Sequence[PlannedLoad], committed: Plan, wishes: Wishes) -> int:
    """Pieces still to cook: as committed where those still give what is due, and all together enough.

    Reckoned anew, the rest alone would ask for other spare pieces than all of it did together.
    """
    begun = any(load.item == need.item and _shares_with(load, need) for load in wishes.begun)
    kept = sum(load.pieces for load in mine)
    covered = math.floor(kept * need.portions_a_piece + 1e-9) >= need.portions
    if not covered or not _as_promised(need, committed):
        return need.pieces
    return kept if begun or _enough_together(need, committed, wishes) else need.pieces


def _enough_together(need: Need, committed: Plan, wishes: Wishes) -> bool:
    """Whether the committed loads of an item are enough pieces for all that the day promises of it."""
    pieces = sum(load.pieces for load in committed.loads if load.item == need.item)
    dues = [
        Due(occasion, occasion.at, occasion.promises[need.item])
        for occasion in committed.occasions
        if need.item in occasion.promises
    ]
    return need_for(wishes.house, need.item, dues, wishes.enough_chance).pieces <= pieces


def _shares_with(load: PlannedLoad, need: Need) -> bool:
    return any(due.occasion.id in load.services for due in need.serves)


def _as_promised(need: Need, committed: Plan) -> bool:
    """Whether its occasions were promised as much when the plan was committed."""
    before = {occasion.id: occasion.promises.get(need.item) for occasion in committed.occasions}
    return all(before.get(due.occasion.id) == due.occasion.promises.get(need.item) for due in need.serves)


def _cut(need: Need, loads: Sequence[PlannedLoad], wishes: Wishes) -> list[Cut]:
    pits = list(wishes.house.pits.values())
    if not loads:
        return [(share, None) for share in shares_of(need, pits)]
    ordered = sorted(
        loads, key=lambda ld: (ld.needed_at, max(ld.waves, default=ld.needed_at), ld.load_at, ld.id)
    )
    pieces, more = _changed(need, ordered, wishes)
    kept = [load for load in ordered if pieces[load.id] > 0]
    extra = [s.pieces for s in shares_of(replace(need, pieces=more, cuts=()), pits)] if more else []
    shares = cut_into(need, [*(pieces[load.id] for load in kept), *extra])
    same = [_as_before(share, load, wishes) for share, load in zip(shares, kept, strict=False)]
    return [*zip(same, kept, strict=True), *((share, None) for share in shares[len(kept) :])]


def _as_before(share: Share, load: PlannedLoad, wishes: Wishes) -> Share:
    """The share with the batches made for the load, its cook timed for no fewer pieces than that was."""
    timed_as = max(share.pieces, load.timed_as)
    return replace(share, made=_made_for(load, wishes), timed_as=timed_as)


def _made_for(load: PlannedLoad, wishes: Wishes) -> tuple[PlannedBatch, ...]:
    """The batches made for a load, each as what it holds for that load alone."""
    loads = {one.id: one for one in (load, *wishes.begun)}
    found = ((batch, kept_for(wishes.house, batch, loads)) for batch in wishes.batches)
    return tuple(
        replace(batch, loads=(load.id,), each_kg=(each[load.id],)) for batch, each in found if load.id in each
    )


def _changed(need: Need, loads: Sequence[PlannedLoad], wishes: Wishes) -> tuple[dict[str, int], int]:
    """The pieces each committed load has now, the last of them changed first, and what goes beside them."""
    pieces = {load.id: min(wishes.fixed.get(load.id) or load.pieces, load.pieces) for load in loads}
    more = need.pieces - sum(pieces.values())
    most = _most(need, wishes.house)
    last_first = [*loads][::-1]
    for load in sorted(last_first, key=lambda ld: ld.id in wishes.fixed):
        if more < 0:
            change = max(-pieces[load.id], more)
        elif wishes.grow and load.id not in wishes.fixed:
            change = min(more, max(0, most - pieces[load.id]))
        else:
            change = 0
        pieces[load.id] += change
        more -= change
    return pieces, more


def _most(need: Need, house: House) -> int:
    """The most pieces that still leave half the largest pit to others."""
    rooms = [pit.area_m2 for pit in house.pits.values() if takes(pit, need.cut)]
    return math.floor(max(rooms) / 2 / need.cut.area_m2) if rooms else need.pieces
