"""What the walk-in must hold at each moment: raw meat waiting between the steps of its preparation."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from board.house.calendar import local
from board.house.model import House
from board.house.units import format_mass
from board.house.wording import clock_time, short_day
from board.planning.plan import PlannedLoad, PlannedStep


@dataclass(frozen=True)
class Stay:
    """Raw meat in the walk-in, from a step done until the next begins."""

    since: datetime
    until: datetime
    mass_kg: float


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
                yield Stay(step.ends_at, until, load.mass_kg)


def overfull(
    house: House, loads: Sequence[PlannedLoad], steps: Sequence[PlannedStep]
) -> Iterator[tuple[datetime, datetime, float]]:
    """The spans in which the walk-in is asked to hold more than it takes, and by how many kg at most."""
    change_kg: dict[datetime, float] = defaultdict(float)
    for stay in stays(house, loads, steps):
        change_kg[stay.since] += stay.mass_kg
        change_kg[stay.until] -= stay.mass_kg
    edges = sorted(change_kg)
    since, most, over = None, 0.0, -house.walk_in_kg
    for moment, after in pairwise(edges):
        over += change_kg[moment]
        if over > 1e-6:
            since, most = since or moment, max(most, over)
        if since is not None and (over <= 1e-6 or after == edges[-1]):
            yield since, moment if over <= 1e-6 else after, most
            since, most = None, 0.0


def cautions(house: House, loads: Sequence[PlannedLoad], steps: Sequence[PlannedStep]) -> tuple[str, ...]:
    """Each span in which the walk-in is over full, in a sentence."""
    return tuple(said(house, *span) for span in overfull(house, loads, steps))


def said(house: House, since: datetime, until: datetime, over_kg: float) -> str:
    """A span in which the walk-in is over full, in a sentence."""
    begin, end = (f"{clock_time(m, house)} on {short_day(local(m, house).date())}" for m in (since, until))
    over = format_mass(over_kg, house.display)
    return f"The walk-in is {over} over full from {begin} to {end}: raw meat for it has no room kept cold."
