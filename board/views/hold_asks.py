"""What the rule of the place leaves to do with food that is off its pit, by when it was last read hot."""

from datetime import datetime, timedelta

from board.ledger.state import Reading
from board.planning.plan import Plan, PlannedLoad
from board.safety.holding import out_of_heat_minutes
from board.safety.limits import hot_hold_least_c
from board.views import names
from board.views.days import when
from board.views.facts import Facts, load_state
from board.views.watching import Kept, holding_since, kept_hot


def last_read(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """What a load was last read while it was held: `read 63° at 11:05`; `not read` where nobody did."""
    readings = held_readings(facts, plan, load)
    if not readings:
        return "not read"
    return f"read {names.degrees(facts.house, readings[-1].temperature_c)} at {when(facts, readings[-1].at)}"


def what_to_do(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """To serve, cool or discard it, after a reading where one is due.

    Food that nobody can show to have been hot within the time that the rule gives it out of the heat is
    discarded where it is then read too cool.
    """
    standing = _standing(facts, plan, load)
    discard_at = _discard_at(facts, standing)
    if standing.is_out:
        is_late = facts.now >= discard_at
        return "discard it" if is_late else f"reheat or discard it by {when(facts, discard_at)}"
    if facts.now >= discard_at:
        hot = names.degrees(facts.house, hot_hold_least_c(place=facts.house.jurisdiction))
        return f"read it; at {hot} or hotter serve or cool it, else discard it"
    is_due = facts.now >= standing.good_at + timedelta(minutes=facts.house.checks.hot_minutes)
    return f"{'read it, then ' if is_due else ''}serve, cool or discard it"


def is_unproved(facts: Facts, plan: Plan, load: PlannedLoad) -> bool:
    """Whether a load was last known to be hot longer ago than its rule lets it be out of the heat."""
    return facts.now >= _discard_at(facts, _standing(facts, plan, load))


def _standing(facts: Facts, plan: Plan, load: PlannedLoad) -> Kept:
    return kept_hot(facts, off_since(facts, plan, load), held_readings(facts, plan, load))


def _discard_at(facts: Facts, standing: Kept) -> datetime:
    return standing.good_at + timedelta(minutes=out_of_heat_minutes(facts.house.jurisdiction))


def held_readings(facts: Facts, plan: Plan, load: PlannedLoad) -> list[Reading]:
    """The temperatures of a load since it is held."""
    since = off_since(facts, plan, load)
    return [one for one in facts.readings.get((plan.day, load.id), ()) if one.at >= since]


def off_since(facts: Facts, plan: Plan, load: PlannedLoad) -> datetime:
    """Since when a load is held; while it rests, since it came off."""
    state = load_state(facts, load, plan.day)
    return holding_since(facts, plan, load) or state.pulled_at or facts.now
