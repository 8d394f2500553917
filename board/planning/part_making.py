"""A share as a part to place: its lengths in slots, when it must be ready, and every way it could cook."""

from dataclasses import replace

from board.batches.served import dose_kg
from board.house.model import Cut
from board.house.spans import minutes_between
from board.planning.area import cm2_needed
from board.planning.batches.stock import enough
from board.planning.demand import Need
from board.planning.finishing import finish_of
from board.planning.grid import SLOT_MINUTES, slots_down, slots_up, step_slots
from board.planning.mode_making import hot_from, lengths_of, modes_of, timely_starts
from board.planning.parts import Share
from board.planning.problem import Frame, Hopeless, Part
from board.planning.reasons import Stuck, no_pit, no_start
from board.planning.windows import Outset, prepared


def part_of(frame: Frame, share: Share, name: str) -> Part:
    """A share as a part to place, with every mode and start it could have; the name sets it apart."""
    need, cut = share.need, share.need.cut
    finish = finish_of(frame.house, need)
    finishing = sum(step_slots(rule.work.minutes(share.pieces)) for rule in finish)
    part = Part(
        id=f"{need.name}-{name}",
        share=share,
        worth=share.due * _plates(frame, need),
        area_cm2=cm2_needed(share.pieces * cut.area_m2),
        load=slots_up(cut.load_work.minutes(share.pieces)),
        wrap=slots_up(cut.wrap.work.minutes(share.pieces)) if cut.wrap else 0,
        pull=max(1, slots_up(cut.pull_work.minutes(share.pieces))),
        rest_min=slots_up(cut.rest_minutes[0]),
        rest_max=slots_down(max(cut.rest_minutes[1], slots_up(cut.rest_minutes[0]) * SLOT_MINUTES)),
        hold_max=_hold_max(cut),
        ready_by=frame.grid.floor(share.first.at) - finishing,
        wait_until=frame.grid.floor(share.last.at) - finishing,
        modes=(),
        quantile=max(frame.quantiles.get(due.occasion.id, need.chance) for due in share.serves),
        finish=finish,
        wait_points=_wait_points(frame, share),
    )
    asked = ("prepared", cut.id, part.pieces, share.made)
    ready = frame.once(asked, lambda: prepared(cut.prep, part.pieces, frame.crew, outset_for(frame, share)))
    return replace(part, modes=modes_of(frame, part, ready))


def _hold_max(cut: Cut) -> int:
    """Slots it may wait in the hold, whatever counting in slots hides.

    The usual pull may lie up to a slot before the slot it is planned in, the shortest rest be over sooner.
    """
    shortest = cut.rest_minutes[0]
    sooner = slots_up(shortest) * SLOT_MINUTES - shortest
    return max(0, slots_down(cut.hold_longest_minutes - sooner) - 1)


def _wait_points(frame: Frame, share: Share) -> float:
    """What it costs that some of a share waits for a later occasion than its first, beyond the easy hold."""
    rest, w = share.need.cut.rest_minutes, frame.weights
    easy = max(w.easy_hold_minutes, rest[1] - rest[0])
    waits = ((due, minutes_between(share.first.at, due.at)) for due in share.serves)
    waited = sum(due.portions * max(0.0, minutes - easy) for due, minutes in waits)
    return w.hold_portion_minute * _plates(frame, share.need) * waited


def _plates(frame: Frame, need: Need) -> float:
    """Plates of meat in one portion: one, but for a piece sold whole."""
    if need.item in frame.house.items:
        return 1.0
    served_kg = need.cut.mass_kg.usual * need.cut.yields.raw_to_served
    return max(1.0, served_kg / frame.weights.guest_kg)


def outset_for(frame: Frame, share: Share) -> Outset:
    """Where time begins for a share: batches made for it already, and enough for it, need no making."""
    recipes = {batch.recipe for batch in share.made if batch.recipe in frame.house.recipes}
    ready = {recipe: _ready_for(frame, share, recipe) for recipe in sorted(recipes)}
    return frame.outset.having({recipe: slot for recipe, slot in ready.items() if slot is not None})


def _ready_for(frame: Frame, share: Share, recipe: str) -> int | None:
    """The slot from which what was made of a recipe for a share is ready; None where that is too little."""
    made = [batch for batch in share.made if batch.recipe == recipe]
    cut = share.need.cut
    need_kg = dose_kg(frame.house.recipes[recipe], cut, share.pieces, cut.mass_kg.usual)
    if not enough(sum(sum(batch.each_kg) for batch in made), need_kg):
        return None
    return max(frame.grid.ceil(batch.ready_from) for batch in made)


def hopeless(frame: Frame, part: Part) -> Hopeless:
    """Why a part has no start at all, and what would give it one."""
    if not part.modes:
        return no_pit(frame.house, part.need.cut)
    quickest = min(part.modes, key=lambda m: (m.d90, m.pit, m.setpoint_c))
    room = frame.pits[quickest.pit]
    lengths = lengths_of(part, room, quickest.cook, quickest.turn)
    window = timely_starts(frame, part, lengths, hot_from(frame, room, quickest.setpoint_c))
    outset = outset_for(frame, part.share)
    return no_start(Stuck(frame.house, frame.grid, frame.crew, part, lengths, room, window, outset))
