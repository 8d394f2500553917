"""Cinder Lane with shelves told apart on South, and North turned hotter under the wrapped briskets."""

from dataclasses import replace
from datetime import datetime

from board.house.model import House, Zone
from board.planning.plan import Plan, PlannedLoad, Risk
from tests.app import house_fixture as plain
from tests.app.house_fixture import at, step

WARMER_K = 14.0
THEN_C = 130.0
TURN = at("02:10")
CAUTION = "The walk-in is 40 kg over full from 18:00 on Fri 18 Dec to 20:00: raw meat has no room kept cold."


def house(*, door_minutes: float = 0.0) -> House:
    """Upper shelves on South run 14 K over its setpoint, and lie over the lower ones."""
    shelves = (
        Zone("lower", "lower shelves", 1.2, 0.0, 0),
        Zone("upper", "upper shelves", 1.2, WARMER_K, 1),
    )
    known = plain.house()
    south = replace(known.pits["south"], zones=shelves, door_minutes=door_minutes)
    return replace(known, pits={**known.pits, "south": south})


def _zoned(load: PlannedLoad) -> PlannedLoad:
    if load.id == "sat-brisket":
        return replace(load, turn_at=TURN, then_c=THEN_C)
    zones = {"sat-shoulder": "upper", "sat-ribs": "lower"}
    return replace(load, zone=zones.get(load.id))


def plan() -> Plan:
    """Saturday's plan with its zones and its turn, a caution, and a lunch less sure than wanted."""
    saturday = plain.plan()
    turn = step("s-set-north", TURN, "set", 0, "ines", pit="north")
    return replace(
        saturday,
        loads=tuple(_zoned(load) for load in saturday.loads),
        steps=tuple(sorted((*saturday.steps, turn), key=lambda one: one.at)),
        cautions=(CAUTION,),
        risks=(risk("lunch", at("11:00"), 0.82), risk("dinner", at("17:00"), 0.95)),
    )


def risk(service: str, moment: datetime, chance: float) -> Risk:
    """A service that should be in time nine times in ten."""
    return Risk(service, moment, chance, 0.9, 4.0)
