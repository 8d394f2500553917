"""What a plan's batches leave to the crew, a sentence each: cooling too slowly, late, without a pot."""

from collections.abc import Collection, Iterator, Sequence
from datetime import timedelta

from board.batches.chill import chilled, too_slow
from board.house.model import House
from board.house.units import format_mass
from board.house.wording import clock_and_day, count, in_list
from board.planning.batches.containers import Lacking, fillings, lacking, uses_of
from board.planning.grid import SLOT_MINUTES
from board.planning.plan import Draw, PlannedBatch, PlannedLoad, PlannedStep
from board.safety.limits import cooling

_SLACK = timedelta(minutes=SLOT_MINUTES)


def batch_cautions(
    house: House,
    loads: Sequence[PlannedLoad],
    steps: Sequence[PlannedStep],
    batches: Sequence[PlannedBatch],
    draws: Sequence[Draw] = (),
    *,
    mine: Collection[str],
) -> tuple[str, ...]:
    """Everything of these batches that the crew must see to, a sentence each.

    Args:
        mine: ids of the batches to tell of when they cool too slowly or are late; the others only fill pots.
    """
    own = [batch for batch in batches if batch.id in mine]
    short = lacking(house, fillings(house, loads, steps, batches, draws))
    return (
        *_slow(house, own),
        *_late(house, loads, steps, own),
        *(_said(house, one, loads, batches) for one in short),
    )


def _slow(house: House, batches: Sequence[PlannedBatch]) -> Iterator[str]:
    """Brines that miss a limit of cooling as they are planned."""
    for batch in batches:
        recipe = house.recipes.get(batch.recipe)
        if recipe is not None and recipe.chill is not None and batch.amount_kg > 0:
            pot = house.pot_of(recipe)
            cooled = chilled(recipe, batch.amount_kg, pot, cooling(house.jurisdiction))
            says = too_slow(recipe, cooled, cooling(house.jurisdiction), house.display) if cooled else None
            if says is not None:
                yield says


def _late(
    house: House,
    loads: Sequence[PlannedLoad],
    steps: Sequence[PlannedStep],
    batches: Sequence[PlannedBatch],
) -> Iterator[str]:
    """Batches that are not fit for use when a load needs them."""
    known = {load.id: load for load in loads}
    for batch, load, at in uses_of(house, loads, steps, batches):
        if batch.ready_from - _SLACK <= at <= batch.use_by + _SLACK:
            continue
        name = house.recipes[batch.recipe].name
        meat = count(known[load].pieces, house.cuts[known[load].cut].name)
        wrong, moment = (
            ("is ready only at", batch.ready_from)
            if at < batch.ready_from
            else ("is good until", batch.use_by)
        )
        when, needed = clock_and_day(moment, house), clock_and_day(at, house)
        yield f"The {name} for {meat} {wrong} {when}; they need it at {needed}."


def _said(house: House, one: Lacking, loads: Sequence[PlannedLoad], batches: Sequence[PlannedBatch]) -> str:
    """A span in which more of a container are asked for than there are, with what asks for them."""
    tub = house.containers[one.container]
    brines = [batch for batch in batches if batch.id in one.batches]
    meat = [load for load in loads if load.id in one.loads]
    what = [f"{format_mass(b.amount_kg, house.display)} of {house.recipes[b.recipe].name}" for b in brines]
    what += [f"{count(ld.pieces, house.cuts[ld.cut].name)} in brine" for ld in meat]
    span = f"from {clock_and_day(one.since, house)} to {clock_and_day(one.until, house)}"
    return (
        f"{count(one.asked, tub.name)} would be full {span} and the house has {tub.count}: "
        f"find more for some of {in_list(what)}."
    )
