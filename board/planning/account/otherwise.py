"""What a load would cost at another time or elsewhere, everything else of the plan staying where it is."""

from collections.abc import Iterator
from dataclasses import replace

from board.house.units import format_temperature
from board.planning.account.hindered import fitted, hindrance
from board.planning.account.told import Told
from board.planning.grid import SLOT_MINUTES
from board.planning.problem import Mode, Placed
from board.planning.risk import chance_by
from board.planning.search.insertion import cheapest_fit
from board.planning.search.occupancy import Fit

_HOUR = 60 // SLOT_MINUTES
# Other places told of a load: the rest would be more of the same.
_PLACES_MOST = 4


def at_other_times(told: Told) -> Iterator[str]:
    """An hour earlier and an hour later on the same pit."""
    for word, by in (("earlier", -_HOUR), ("later", _HOUR)):
        at = replace(told.at, start=told.at.start + by)
        found = fitted(told, at) if at.start in at.mode.starts else None
        if isinstance(found, Fit):
            yield f"An hour {word}: {_worth(told, found)}."
        else:
            yield f"An hour {word}: {hindrance(told, at)}."


def elsewhere(told: Told) -> Iterator[str]:
    """Each other place and setpoint at its cheapest start, or what is in the way nearest to this one."""
    own = (told.at.mode.spot, told.at.mode.setpoint_c)
    places = dict.fromkeys((mode.spot, mode.setpoint_c) for mode in told.part.modes)
    for place in [place for place in places if place != own][:_PLACES_MOST]:
        modes = tuple(m for m in told.part.modes if (m.spot, m.setpoint_c) == place)
        found = cheapest_fit(told.others, replace(told.part, modes=modes))
        name = _place(told, modes[0])
        if found is not None:
            yield f"{name} from {told.slot(found.placed.start)}: {_worth(told, found)}."
        else:
            yield f"{name}: {_in_the_way(told, modes[0])}."


def _in_the_way(told: Told, mode: Mode) -> str:
    if not mode.starts:
        return "no start has the crew and the time"
    done = told.at.start + told.at.mode.d50
    start = min(mode.starts, key=lambda s: (abs(s + mode.d50 - done), s))
    why = hindrance(told, Placed(mode, start, told.part.rest_min))
    return f"loaded at {told.slot(start)}, {why}" if why else "dearer than not cooking it"


def _place(told: Told, mode: Mode) -> str:
    pit = told.problem.frame.pits[mode.pit].pit
    zone = next((z.name for z in pit.zones if mode.spot.endswith(z.id)), "") if mode.spot != pit.id else ""
    at = format_temperature(mode.setpoint_c, told.house.display)
    return f"On {pit.name}{f' ({zone})' if zone else ''} at {at}"


def _worth(told: Told, fit: Fit) -> str:
    chance = chance_by(told.problem, told.part, fit.placed, told.load.needed_at)
    return f"{told.worth(told.dearer(fit))}, in time {min(99, round(100 * chance))} times in 100"
