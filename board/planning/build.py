"""Put a day's needs, the pits and the crew onto one grid: the problem the solvers share."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from board.cooking.learning.learn import learn
from board.house.calendar import occurrences
from board.house.model import Cut, House, Item, Pit, StepRule
from board.house.spans import minutes_between
from board.planning.area import cm2, cm2_needed, cm2_within
from board.planning.cook_times import CookQuestion, CookTime, cook_times, counted
from board.planning.crew import Flags, crew_on
from board.planning.demand import Need
from board.planning.grid import SLOT_MINUTES, Grid, slots_down, slots_up, step_slots
from board.planning.joining import gatherings
from board.planning.modes import palette, settings
from board.planning.parts import Share, shares_of
from board.planning.problem import Frame, Hopeless, Mode, Part, PitRoom, Problem, Spot
from board.planning.reasons import Stuck, no_pit, no_start
from board.planning.risk import load_quantiles
from board.planning.standing import NOTHING, Standing, spot_id, taken_on
from board.planning.weights import Weights
from board.planning.windows import Lengths, Outset, lead_slots, prepared, staffed, timely

_MARGIN = timedelta(hours=2)
_SHIFT_MINUTES = 24 * 60.0


def build(
    house: House,
    needs: Sequence[Need],
    weights: Weights,
    *,
    seed: int,
    now: datetime | None,
    standing: Standing = NOTHING,
    shares: Sequence[Share] = (),
    also: Mapping[str, tuple[float, ...]] | None = None,
) -> Problem:
    """The planning problem of a day: parts with their modes and starts, pits, people and room.

    Args:
        shares: the needs as they are cut already; without any they are cut here.
        also: more setpoints in °C to offer, by pit.
    """
    rooms = list(house.pits.values())
    others = () if shares else gatherings(house, needs, weights.enough_chance)
    shares = shares or [share for need in needs for share in shares_of(need, rooms)]
    asked = [
        *shares,
        *(share for other in others for need in other.instead for share in shares_of(need, rooms)),
    ]
    cuts = list({need.cut.id: need.cut for need in needs}.values())
    wanted = also or {}
    offers = {
        pit.id: tuple(dict.fromkeys((*palette(pit, cuts), *wanted.get(pit.id, ()))))
        for pit in house.pits.values()
    }
    times = _times(house, asked, offers, seed)
    grid = _grid(house, asked, times, now)
    taken = taken_on(grid, house, standing)
    pits = {pit.id: pit_room(house, pit, grid) for pit in house.pits.values()}
    frame = Frame(
        house=house,
        grid=grid,
        crew=crew_on(house, grid, taken.busy),
        pits=pits,
        spots={spot.id: spot for room in pits.values() for spot in spots_of(room)},
        times=times,
        offers=offers,
        weights=weights,
        outset=_outset(house, grid, now),
        bench_cm2=_room(house, hot=False),
        hold_cm2=_room(house, hot=True),
        taken=taken,
        quantiles=load_quantiles(shares, rooms),
    )
    parts = [part_of(frame, share, f"{share.number}") for share in shares]
    hopeless = {part.id: _hopeless(frame, part) for part in parts if not any(m.starts for m in part.modes)}
    return Problem(frame, tuple(parts), hopeless, others)


def question(cut: Cut, pit: Pit, setpoint_c: float, pieces: int) -> CookQuestion:
    """The cook-time question of so many pieces of a cut on a pit."""
    return CookQuestion(cut.id, pit.id, setpoint_c, counted(pieces))


def _times(
    house: House, shares: Sequence[Share], offers: dict[str, tuple[float, ...]], seed: int
) -> dict[CookQuestion, CookTime]:
    asked = [
        question(share.need.cut, pit, setpoint, share.timed_as)
        for share in shares
        for pit in house.pits.values()
        for setpoint in settings(share.need.cut, pit, offers[pit.id])
    ]
    return cook_times(
        asked, house.cuts, house.pits, altitude_m=house.altitude_m, seed=seed, learned=learn(house)
    )


def _grid(
    house: House, shares: Sequence[Share], times: dict[CookQuestion, CookTime], now: datetime | None
) -> Grid:
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


def _room(house: House, *, hot: bool) -> int:
    return cm2(sum(h.area_m2 for h in house.holds.values() if (h.setpoint_c is not None) == hot))


def finish_of(house: House, need: Need) -> tuple[StepRule, ...]:
    """The work between the hold and the plate for a need; none for a piece sold whole."""
    item: Item | None = house.items.get(need.item)
    return item.finish if item else ()


def finish_minutes(finish: Sequence[StepRule], pieces: int) -> float:
    """Hands-on minutes between the hold and the plate."""
    return sum(rule.work.minutes(pieces) for rule in finish)


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
        # the usual pull may lie up to a slot before the slot it is planned in
        hold_max=max(0, slots_down(cut.hold_longest_minutes) - 1),
        ready_by=frame.grid.floor(share.first.at) - finishing,
        wait_until=frame.grid.floor(share.last.at) - finishing,
        modes=(),
        quantile=max(frame.quantiles.get(due.occasion.id, need.chance) for due in share.serves),
        finish=finish,
        wait_points=_wait_points(frame, share),
    )
    return replace(part, modes=tuple(_modes(frame, part)))


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


def _modes(frame: Frame, part: Part) -> list[Mode]:
    cut = part.need.cut
    found = []
    ready = prepared(cut.prep, part.pieces, frame.crew, outset_for(frame, part.share))
    for room in frame.pits.values():
        for setpoint in settings(cut, room.pit, frame.offers[room.pit.id]):
            time = frame.times[question(cut, room.pit, setpoint, part.share.timed_as)]
            found.append(_mode(frame, part, room, setpoint_c=setpoint, time=time, ready=ready))
    return found


def outset_for(frame: Frame, share: Share) -> Outset:
    """Where time begins for a share: batches made for it already need no making."""
    return frame.outset.having({batch.recipe: frame.grid.ceil(batch.ready_from) for batch in share.made})


def _outset(house: House, grid: Grid, now: datetime | None) -> Outset:
    waits = {
        recipe.id: slots_up(recipe.make_work.minutes(1)) + slots_up(recipe.ready_after_minutes)
        for recipe in house.recipes.values()
    }
    return Outset(0 if now is None else max(0, grid.ceil(now)), waits)


def _mode(
    frame: Frame, part: Part, room: PitRoom, *, setpoint_c: float, time: CookTime, ready: Flags
) -> Mode:
    lengths = lengths_of(part, room, time)
    allowed = ready & staffed(lengths, frame.crew, room.shut)
    window = [s for s in timely_starts(frame, part, lengths) if 0 <= s < frame.grid.slots and allowed[s]]
    return Mode(
        pit=room.pit.id,
        spot=room.pit.id,
        setpoint_c=setpoint_c,
        cook=time,
        d10=lengths.d10,
        d50=lengths.d50,
        d90=lengths.d90,
        dq=slots_up(time.quantile(part.quantile)),
        wrap=lengths.wrap_at,
        starts=tuple(window),
        work_points=_work_points(frame, lengths),
    )


def _work_points(frame: Frame, lengths: Lengths) -> float:
    """Hands on the pit at the house's wage, in points."""
    slots = lengths.load + lengths.pull + (lengths.wrap if lengths.wrap_at is not None else 0)
    return 100 * frame.house.wage_per_hour * slots * SLOT_MINUTES / 60


def lengths_of(part: Part, room: PitRoom, time: CookTime) -> Lengths:
    """A part's lengths in slots on one pit."""
    d50 = slots_up(time.minutes.p50)
    wrapping = time.wrap_minutes is not None and part.need.cut.wrap is not None
    return Lengths(
        load=part.load,
        d10=slots_down(time.minutes.p10),
        d50=d50,
        d90=max(d50 + part.pull, slots_up(time.minutes.p90)),
        wrap_at=min(slots_up(time.wrap_minutes or 0.0), d50) if wrapping else None,
        wrap=part.wrap,
        pull=part.pull,
        warm=room.warm,
        tended=room.pit.tend_fraction > 0,
    )


def timely_starts(frame: Frame, part: Part, lengths: Lengths) -> range:
    """Starts that meet the need and lie no earlier than a pit can be hot from now."""
    tardy = slots_down(frame.weights.tardy_minutes_most)
    starts = timely(
        lengths,
        part.ready_by,
        part.wait_until,
        rest=(part.rest_min, part.rest_max),
        hold_max=part.hold_max,
        tardy=tardy,
    )
    first = max(starts.start, frame.outset.earliest + lengths.warm)
    return range(first, max(first, starts.stop))


def _hopeless(frame: Frame, part: Part) -> Hopeless:
    if not part.modes:
        return no_pit(frame.house, part.need.cut)
    quickest = min(part.modes, key=lambda m: (m.d90, m.pit, m.setpoint_c))
    room = frame.pits[quickest.pit]
    lengths = lengths_of(part, room, quickest.cook)
    window = timely_starts(frame, part, lengths)
    outset = outset_for(frame, part.share)
    return no_start(Stuck(frame.house, frame.grid, frame.crew, part, lengths, room, window, outset))
