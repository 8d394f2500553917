"""Where a load waits from its pull until it is served, and for how long each likely cook of it does."""

import math

from board.cooking.cook import Rest
from board.house.model import House
from board.planning.plan import PlannedLoad

_HOTTEST_HOLD_C = 99.0  # the sums know no hotter one
_FOLLOWED = 60.0  # minutes: a hold is followed in whole hours, so that loads of like waits share one cook


def rest_of(house: House, load: PlannedLoad) -> Rest:
    """A planned load's rest in the room, then in a hold where it has one, up to a whole hour.

    A load spread over several holds is in the coolest of them.
    """
    held = _FOLLOWED * math.ceil((waits_minutes(house, load) - load.rest_minutes) / _FOLLOWED)
    setpoints = [
        hold.setpoint_c
        for name in (load.hold or "").split(", ")
        if (hold := house.holds.get(name)) and hold.setpoint_c is not None
    ]
    if held <= 0.0:
        return Rest("room", load.rest_minutes)
    kept = Rest("hold", held, hold_c=min(*setpoints, _HOTTEST_HOLD_C)) if setpoints else Rest("room", held)
    return Rest("room", load.rest_minutes, then=kept)


def waits_minutes(house: House, load: PlannedLoad) -> float:
    """Minutes from the likely pull to the first portion, its finishing left out."""
    return shortest_minutes(house, load) + max(0.0, load.spare_minutes_p50)


def shortest_minutes(house: House, load: PlannedLoad) -> float:
    """The rest that even a late load gets, minutes."""
    return min(load.rest_minutes, house.cuts[load.cut].rest_minutes[0])
