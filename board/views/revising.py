"""Pull times revised by the readings taken so far: the ensemble run again for what is on the pits."""

from collections.abc import Iterator
from datetime import timedelta
from typing import TYPE_CHECKING

from board.errors import BoardError
from board.house.model import House
from board.house.spans import Span, TimeSpan
from board.ledger.state import LoadStage, Reading
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts, all_loads, load_state

if TYPE_CHECKING:
    from board.cooking.cook import Cook

MEMBERS = 96
_COOKING = (LoadStage.ON, LoadStage.WRAPPED)
Fingerprint = tuple[tuple[str, int], ...]


def to_revise(facts: Facts) -> Iterator[tuple[Plan, PlannedLoad, tuple[Reading, ...]]]:
    """The loads cooking that have a reading of their core."""
    for plan, load in all_loads(facts):
        state = load_state(facts, load, plan.day)
        readings = facts.readings.get((plan.day, load.id), ())
        known = load.cut in facts.house.cuts and load.pit in facts.house.pits
        if state.stage in _COOKING and readings and known:
            yield plan, load, readings


def fingerprint(facts: Facts) -> Fingerprint:
    """What the revised times depend on: they need no new sum while this stays the same."""
    return tuple((load.id, reading.seq) for _, load, readings in to_revise(facts) for reading in readings)


def cook_of(house: House, load: PlannedLoad) -> "Cook":
    """The cook that the sums are asked about for a planned load."""
    from board.cooking.cook import Cook, PitAir  # noqa: PLC0415 - arrays load at the first reading

    cut = house.cuts[load.cut]
    return Cook(
        cut=cut,
        mass_kg=load.mass_kg / load.pieces,
        pieces=load.pieces,
        pit=PitAir.of(house.pits[load.pit]),
        setpoint_c=load.setpoint_c,
        until_core_c=cut.pull_core_c,
        start_c=cut.start_c,
        wrap=cut.wrap,
        rest=None,
        altitude_m=house.altitude_m,
    )


def revised(facts: Facts) -> dict[str, TimeSpan]:
    """The likely pull times of the loads being read, by load id; takes a second or so."""
    asked = list(to_revise(facts))
    if not asked:
        return {}
    from board.cooking.estimate import estimate, revise  # noqa: PLC0415 - arrays load at the first reading

    cooks = [cook_of(facts.house, load) for _, load, _ in asked]
    found = {}
    for (plan, load, readings), expected in zip(
        asked, estimate(cooks, members=MEMBERS, curves=True), strict=True
    ):
        on_at = load_state(facts, load, plan.day).on_at
        assert on_at is not None
        taken = [((r.at - on_at) / timedelta(minutes=1), r.temperature_c) for r in readings]
        try:
            answer = revise(expected, taken)
        except BoardError:
            continue
        found[load.id] = TimeSpan.after(on_at, Span(answer.p10, answer.p50, answer.p90))
    return found
