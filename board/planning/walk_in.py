"""What the walk-in must hold at each moment: raw meat between the steps of its preparation, and brines."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby, pairwise

from board.house.model import House
from board.house.spans import minutes_between
from board.house.units import format_mass
from board.house.wording import clock_and_day, count, in_list
from board.planning.batches.containers import fillings
from board.planning.plan import Draw, PlannedBatch, PlannedLoad, PlannedStep

# Under so many kg over it is only rounding.
_ROUNDS_KG = 1e-6


@dataclass(frozen=True)
class Stay:
    """Raw meat in the walk-in, from a step done until the next begins; or a batch beside it."""

    since: datetime
    until: datetime
    mass_kg: float
    load: str = ""
    batch: str = ""


@dataclass(frozen=True)
class Over:
    """A span in which the walk-in must hold more than it takes: by how much at most, and what is in it."""

    since: datetime
    until: datetime
    over_kg: float
    loads: tuple[str, ...]
    batches: tuple[str, ...] = ()


def stays(
    house: House,
    loads: Sequence[PlannedLoad],
    steps: Sequence[PlannedStep],
    batches: Sequence[PlannedBatch] = (),
    draws: Sequence[Draw] = (),
) -> Iterator[Stay]:
    """Every stay of these loads in the walk-in, by the gaps their cuts keep chilled, and of these batches."""
    for one in fillings(house, loads, steps, batches, draws):
        if one.room_kg > 0:
            yield Stay(one.since, one.until, one.room_kg, batch=one.batch)
    of_load: dict[str | None, list[PlannedStep]] = defaultdict(list)
    for step in steps:
        of_load[step.load].append(step)
    for load in loads:
        rules = house.cuts[load.cut].prep
        kinds = {rule.what for rule in rules}
        mine = (step for step in of_load[load.id] if step.what in kinds)
        done = sorted(mine, key=lambda step: step.at)[: len(rules)]
        for i, (rule, step) in enumerate(zip(rules, done, strict=False)):
            until = done[i + 1].at if i + 1 < len(done) else load.load_at
            if rule.chilled and step.ends_at < until:
                yield Stay(step.ends_at, until, load.mass_kg, load.id)


def overfull(
    house: House,
    loads: Sequence[PlannedLoad],
    steps: Sequence[PlannedStep],
    batches: Sequence[PlannedBatch] = (),
    draws: Sequence[Draw] = (),
) -> Iterator[Over]:
    """The spans in which the walk-in is asked to hold more than it takes."""
    here = list(stays(house, loads, steps, batches, draws))
    for full, levels in groupby(_levels(house, here), key=lambda level: level[2] > _ROUNDS_KG):
        if full:
            begins, ends, over_kg = zip(*levels, strict=True)
            since, until = begins[0], ends[-1]
            then = [stay for stay in here if stay.since < until and since < stay.until]
            meat = tuple(dict.fromkeys(stay.load for stay in then if stay.load))
            yield Over(
                since, until, max(over_kg), meat, tuple(dict.fromkeys(s.batch for s in then if s.batch))
            )


def _levels(house: House, here: Sequence[Stay]) -> Iterator[tuple[datetime, datetime, float]]:
    """Spans in order with how many kg too many are in the walk-in; below nought where it has room."""
    change_kg: dict[datetime, float] = defaultdict(float)
    for stay in here:
        change_kg[stay.since] += stay.mass_kg
        change_kg[stay.until] -= stay.mass_kg
    over = -house.walk_in_kg
    for begin, end in pairwise(sorted(change_kg)):
        over += change_kg[begin]
        yield begin, end, over


def over_kg_minutes(house: House, here: Sequence[Stay]) -> float:
    """How far and how long these stays overfill the walk-in: kilograms by minutes."""
    levels = _levels(house, here)
    return sum(over * minutes_between(begin, end) for begin, end, over in levels if over > _ROUNDS_KG)


def cautions(
    house: House,
    loads: Sequence[PlannedLoad],
    steps: Sequence[PlannedStep],
    batches: Sequence[PlannedBatch] = (),
    draws: Sequence[Draw] = (),
) -> tuple[str, ...]:
    """Each span in which the walk-in is over full, in a sentence."""
    found = overfull(house, loads, steps, batches, draws)
    return tuple(said(house, over, loads, batches) for over in found)


def said(house: House, over: Over, loads: Sequence[PlannedLoad], batches: Sequence[PlannedBatch] = ()) -> str:
    """A span in which the walk-in is over full, with the meat and the batches in it, in a sentence."""
    span = f"from {clock_and_day(over.since, house)} to {clock_and_day(over.until, house)}"
    kg = format_mass(over.over_kg, house.display)
    brines = _brines(house, [batch for batch in batches if batch.id in over.batches])
    what = in_list([*_meat(house, [load for load in loads if load.id in over.loads]), *brines])
    if house.walk_in_kg <= 0:
        raw = "raw meat and brine" if brines else "raw meat"
        return f"There is no walk-in for {kg} of {raw} {span}: {what} must be kept cold elsewhere."
    return f"The walk-in is {kg} over full {span}: some of {what} must be kept cold elsewhere."


def _brines(house: House, batches: Sequence[PlannedBatch]) -> list[str]:
    """Batches as what they are, one recipe after the other."""
    kg: dict[str, float] = {}
    for batch in batches:
        kg[batch.recipe] = kg.get(batch.recipe, 0.0) + batch.amount_kg
    return [f"{format_mass(mass, house.display)} of {house.recipes[id].name}" for id, mass in kg.items()]


def _meat(house: House, loads: Sequence[PlannedLoad]) -> list[str]:
    """Loads as the meat they are, one cut after the other."""
    pieces: dict[str, int] = {}
    for load in loads:
        pieces[load.cut] = pieces.get(load.cut, 0) + load.pieces
    return [count(number, house.cuts[cut].name) for cut, number in pieces.items()]
