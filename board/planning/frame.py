"""The house on a grid: pits and their zones, people, room to rest and hold, and where time begins."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

import numpy as np

from board.batches.served import dose_kg
from board.house.calendar import occurrences
from board.house.model import House, Pit, StepRule
from board.house.spans import minutes_between
from board.planning.area import cm2, cm2_within
from board.planning.batches.stock import enough, spare_kg
from board.planning.cook_times import CookQuestion, CookTime
from board.planning.crew import crew_on
from board.planning.finishing import finish_minutes, finish_of
from board.planning.grid import SLOT_MINUTES, Grid, slots_up
from board.planning.parts import Share
from board.planning.problem import Frame, PitRoom, Spot
from board.planning.risk import load_quantiles
from board.planning.standing import Standing, spot_id, taken_on
from board.planning.weights import Weights
from board.planning.windows import Outset, lead_slots
from board.safety.limits import hot_hold_least_c

_MARGIN = timedelta(hours=2)
_SHIFT_MINUTES = 24 * 60.0

Offers = Mapping[str, tuple[float, ...]]


def frame_of(
    house: House,
    shares: Sequence[Share],
    *,
    grid: Grid,
    times: dict[CookQuestion, CookTime],
    offers: dict[str, tuple[float, ...]],
    weights: Weights,
    now: datetime | None,
    standing: Standing,
) -> Frame:
    """What all parts of a day share, and are built against."""
    taken = taken_on(grid, house, standing)
    pits = {pit.id: pit_room(house, pit, grid) for pit in house.pits.values()}
    return Frame(
        house=house,
        grid=grid,
        crew=crew_on(house, grid, taken.busy, taken.at_pits),
        pits=pits,
        spots={spot.id: spot for room in pits.values() for spot in spots_of(room)},
        times=times,
        offers=offers,
        weights=weights,
        outset=_with_spare(house, grid, shares, standing, _outset(house, grid, now)),
        bench_cm2=_bench_cm2(house),
        hold_cm2=_hold_cm2(house),
        taken=taken,
        quantiles=load_quantiles(shares, list(house.pits.values())),
    )


def grid_of(
    house: House, shares: Sequence[Share], times: dict[CookQuestion, CookTime], now: datetime | None
) -> Grid:
    """Slots from the first moment at which something for these shares could begin, until all are served."""
    longest: dict[str, float] = {}
    for asked, time in times.items():
        longest[asked.cut] = max(longest.get(asked.cut, 0.0), time.minutes.p90)
    warm = max((pit.warm_up_minutes for pit in house.pits.values()), default=0.0)
    begins = [s.need.occasion.at - _reach(house, s, longest.get(s.need.cut.id, 0.0) + warm) for s in shares]
    ends = [due.occasion.until for s in shares for due in s.need.serves]
    # long before anything could begin, now is of no interest
    start = min([*begins, max(now, min(begins) - _MARGIN)] if now else begins)
    start -= timedelta(
        minutes=start.minute % SLOT_MINUTES, seconds=start.second, microseconds=start.microsecond
    )
    stop = max(ends) + _MARGIN + timedelta(hours=2)
    return Grid(start, slots_up(minutes_between(start, stop)))


def _reach(house: House, share: Share, cook_minutes: float) -> timedelta:
    cut = share.need.cut
    lead = float(lead_slots(cut.prep, share.pieces)[1] * SLOT_MINUTES)
    lead += max((_making(house, rule) for rule in cut.prep), default=0.0)
    after = cut.rest_minutes[1] + cut.hold_longest_minutes + finish_minutes(finish_of(house, share.need), 1)
    return timedelta(minutes=lead + cook_minutes + after + cut.load_work.minutes(share.pieces)) + _MARGIN


def _making(house: House, rule: StepRule) -> float:
    """Minutes before a step in which its batch may have to be made: a shift to do it, and its cooling."""
    if rule.recipe is None:
        return 0.0
    recipe = house.recipes[rule.recipe]
    return recipe.make_work.minutes(1) + recipe.ready_after_minutes + _SHIFT_MINUTES


def pit_room(house: House, pit: Pit, grid: Grid) -> PitRoom:
    """A pit on the grid, with the slots in which it is out of use."""
    shut = np.zeros(grid.slots, dtype=np.bool_)
    for rule in pit.out_of_use:
        for start, end in occurrences(rule, house.zone, grid.moment(0), grid.moment(grid.slots)):
            shut[max(0, grid.floor(start)) : max(0, grid.ceil(end))] = True
    tending = pit.tend_fraction * house.wage_per_hour
    burning = max(1, _slot_points(pit.fuel_kg_per_hour * pit.fuel_price_per_kg + tending))
    return PitRoom(
        pit=pit,
        area_cm2=cm2_within(pit.area_m2),
        warm=slots_up(pit.warm_up_minutes),
        change_over=slots_up(pit.change_over_minutes),
        light=max(1, slots_up(pit.light_work.fixed_minutes)),
        fuel_points=burning,
        tend_percent=round(pit.tend_fraction * 100),
        shut=shut,
        tend_points=min(burning, _slot_points(tending)),
    )


def _slot_points(money_per_hour: float) -> int:
    """Points a slot; one is a hundredth of the house's money."""
    return round(money_per_hour * 100 * SLOT_MINUTES / 60)


def spots_of(room: PitRoom) -> tuple[Spot, ...]:
    """The spots of a pit: its zones, or all of it."""
    if not room.pit.zones:
        return (Spot(room.pit.id, room.pit.id, room.area_cm2),)
    return tuple(
        Spot(spot_id(room.pit.id, z.id), room.pit.id, cm2_within(z.area_m2), z.warmer_k, z.level)
        for z in room.pit.zones
    )


def _bench_cm2(house: House) -> int:
    return cm2(sum(hold.area_m2 for hold in house.holds.values() if hold.setpoint_c is None))


def _hold_cm2(house: House) -> int:
    """Room in the holds that are hot enough to be safe; the others hold nothing."""
    hot = [hold for hold in house.holds.values() if hold.setpoint_c is not None]
    least_c = hot_hold_least_c(place=house.jurisdiction)
    return cm2(sum(hold.area_m2 for hold in hot if (hold.setpoint_c or 0.0) >= least_c))


def _outset(house: House, grid: Grid, now: datetime | None) -> Outset:
    waits = {
        recipe.id: slots_up(recipe.make_work.minutes(1)) + slots_up(recipe.ready_after_minutes)
        for recipe in house.recipes.values()
    }
    return Outset(0 if now is None else max(0, grid.ceil(now)), waits)


def _with_spare(
    house: House, grid: Grid, shares: Sequence[Share], standing: Standing, outset: Outset
) -> Outset:
    """The outset with what batches have left over: one that is enough for all that ask for its recipe.

    It must keep until a making from now on would be ready, so that whatever comes later can have that.
    """
    if outset.earliest <= 0 or not standing.batches:
        return outset
    need_kg: dict[str, float] = defaultdict(float)
    for share in shares:
        for rule in (*share.need.cut.prep, *finish_of(house, share.need)):
            if rule.recipe is not None:
                cut, recipe = share.need.cut, house.recipes[rule.recipe]
                need_kg[recipe.id] += dose_kg(recipe, cut, share.pieces, cut.mass_kg.usual)
    ready = {
        batch.recipe: grid.ceil(batch.ready_from)
        for batch, left_kg in spare_kg(house, standing)
        if batch.recipe in need_kg and enough(left_kg, need_kg[batch.recipe])
        if grid.floor(batch.use_by) >= outset.earliest + outset.batch_slots[batch.recipe]
    }
    return outset.having(ready)
