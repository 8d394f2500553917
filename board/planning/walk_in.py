"""What the walk-in must hold at each moment: raw meat waiting between the steps of its preparation."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby, pairwise

from board.house.calendar import local
from board.house.model import House
from board.house.spans import minutes_between
from board.house.units import format_mass
from board.house.wording import clock_time, count, in_list, short_day
from board.planning.plan import PlannedLoad, PlannedStep

# Under so many kg over it is only rounding.
_ROUNDS_KG = 1e-6


@dataclass(frozen=True)
class Stay:
    """Raw meat in the walk-in, from a step done until the next begins."""

    since: datetime
    until: datetime
    mass_kg: float
    load: str = ""


@dataclass(frozen=True)
class Over:
    """A span in which the walk-in must hold more than it takes: by how much at most, and which loads."""

    since: datetime
    until: datetime
    over_kg: float
    loads: tuple[str, ...]


def stays(house: House, loads: Sequence[PlannedLoad], steps: Sequence[PlannedStep]) -> Iterator[Stay]:
    """Every stay of these loads in the walk-in, by the gaps their cuts keep chilled."""
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


def overfull(house: House, loads: Sequence[PlannedLoad], steps: Sequence[PlannedStep]) -> Iterator[Over]:
    """The spans in which the walk-in is asked to hold more than it takes."""
    here = list(stays(house, loads, steps))
    for full, levels in groupby(_levels(house, here), key=lambda level: level[2] > _ROUNDS_KG):
        if full:
            begins, ends, over_kg = zip(*levels, strict=True)
            since, until = begins[0], ends[-1]
            ids = (stay.load for stay in here if stay.since < until and since < stay.until)
            yield Over(since, until, max(over_kg), tuple(dict.fromkeys(ids)))


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


def cautions(house: House, loads: Sequence[PlannedLoad], steps: Sequence[PlannedStep]) -> tuple[str, ...]:
    """Each span in which the walk-in is over full, in a sentence."""
    return tuple(said(house, over, loads) for over in overfull(house, loads, steps))


def said(house: House, over: Over, loads: Sequence[PlannedLoad]) -> str:
    """A span in which the walk-in is over full, with the meat in it, in a sentence."""
    span = f"from {_clock(house, over.since)} to {_clock(house, over.until)}"
    kg = format_mass(over.over_kg, house.display)
    meat = _meat(house, [load for load in loads if load.id in over.loads])
    if house.walk_in_kg <= 0:
        return f"There is no walk-in for {kg} of raw meat {span}: {meat} must be kept cold elsewhere."
    return f"The walk-in is {kg} over full {span}: some of {meat} must be kept cold elsewhere."


def _meat(house: House, loads: Sequence[PlannedLoad]) -> str:
    """Loads as the meat they are, one cut after the other."""
    pieces: dict[str, int] = {}
    for load in loads:
        pieces[load.cut] = pieces.get(load.cut, 0) + load.pieces
    return in_list([count(number, house.cuts[cut].name) for cut, number in pieces.items()])


def _clock(house: House, moment: datetime) -> str:
    return f"{clock_time(moment, house)} on {short_day(local(moment, house).date())}"
