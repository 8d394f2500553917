"""The demo's readings of what is kept: loads in the hold as the house asks, the walk-in in each shift."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from board.commands.night_told import Event, Night, awake, core_read, done_at, place_read
from board.house.calendar import on_shift
from board.house.units import parse_temperature_c
from board.planning.plan import PlannedLoad
from board.views.gather import WALK_IN
from board.views.off_pits import is_over
from board.views.watching import rested_at

_DAY = timedelta(days=1)


def held_warm(night: Night) -> Iterator[Event]:
    """Each load of the day read in the hold until its services are over, but for one forgotten."""
    told = night.told["holds"]
    every = timedelta(minutes=told["every_minutes"])
    warm = [parse_temperature_c(text) for text in told["at"]]
    forgotten = night.first_of(told["forgotten"])
    for load in night.plan.loads:
        since = _held_from(night, load)
        if since is None or load == forgotten:
            continue
        moment, turn = since + every, 0
        while not is_over(night.plan, load, moment):
            core_c = min(warm[min(turn, len(warm) - 1)], night.house.cuts[load.cut].end_core_c)
            yield Event(moment, awake(night, moment), core_read(load, core_c))
            moment, turn = moment + every, turn + 1


def _held_from(night: Night, load: PlannedLoad) -> datetime | None:
    """When a load had rested; None where its plan never pulls it."""
    pulls = [step for step in night.plan.steps if step.load == load.id and step.what == "pull"]
    return rested_at(load, done_at(night, pulls[0], load)) if pulls else None


def walk_in(night: Night, until: datetime) -> Iterator[Event]:
    """The walk-in read soon after each shift begins, from the day before on."""
    told = night.told["walk_in"]
    after, cold_c = timedelta(minutes=told["after_minutes"]), parse_temperature_c(told["at"])
    shifts = on_shift(night.house, night.moment(night.told["opens"]) - _DAY, until)
    for began in sorted({came for _, came, _, _ in shifts}):
        yield Event(began + after, awake(night, began + after), place_read(WALK_IN, cold_c))
