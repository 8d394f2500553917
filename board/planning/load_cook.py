"""The cook that the sums are asked about for a planned load."""

from board.cooking.cook import AirCurve, Cook
from board.cooking.learning.learn import learn
from board.house.model import House
from board.house.spans import minutes_between
from board.planning.cook_times import AirChange, changed_air
from board.planning.modes import warmer_here_k
from board.planning.plan import PlannedLoad


def cook_of(house: House, load: PlannedLoad) -> Cook:
    """A planned load's cook, without its rest: in its zone, with its change of setpoint."""
    cut = house.cuts[load.cut]
    return Cook(
        cut=cut,
        mass_kg=load.mass_kg / load.pieces,
        pieces=load.pieces,
        pit=learn(house).air(house.pits[load.pit], cut.id),
        setpoint_c=load.setpoint_c + warmer_here_k(house, load.pit, load.zone),
        until_core_c=cut.end_core_c,
        tender_minutes=cut.tender_minutes,
        start_c=cut.start_c,
        wrap=cut.wrap,
        rest=None,
        altitude_m=house.altitude_m,
        air=_planned_air(house, load),
    )


def _planned_air(house: House, load: PlannedLoad) -> AirCurve | None:
    """The air of a load whose pit is planned to change its setpoint; None where it is one throughout."""
    if load.turn_at is None or load.then_c is None:
        return None
    more, within = warmer_here_k(house, load.pit, load.zone), house.pits[load.pit].change_over_minutes
    then = AirChange(minutes_between(load.load_at, load.turn_at), within, load.then_c + more)
    return changed_air(load.setpoint_c + more, then)
