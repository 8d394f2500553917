"""What comes first on a day that has no load yet: its next service, its promises, or its plan."""

from datetime import date, timedelta

from board.house.calendar import services_on
from board.planning.plan import Occasion, Plan
from board.views.days import near_day
from board.views.facts import Facts, promised
from board.views.guidance import Key

AHEAD_DAYS = 21


def nothing_planned(facts: Facts, day: date) -> Plan:
    """A plan without loads that still knows the day's services."""
    served = tuple(Occasion(s.id, s.name, s.at, s.until, s.promises) for s in services_on(facts.house, day))
    house = facts.house
    return Plan(house.id, day, house.zone, "good", 0.0, 0.0, (), (), (), (), served)


def nothing_yet(facts: Facts, key: Key) -> str:
    """What a house does first that has no plan at all; empty once it has one."""
    if facts.plans:
        return ""
    days = (facts.today + timedelta(days=n) for n in range(1, AHEAD_DAYS))
    coming = next((day for day in days if services_on(facts.house, day)), None)
    if coming is None:
        return "No service is ahead: services.toml says when portions must be ready."
    far = coming != facts.today + timedelta(days=1)
    going = f", {key('tomorrow-day-after')} to {near_day(facts, coming)}" if far else ""
    then = f"{key('promises')} shows promises and {key('plan')} plans"
    return f"Nothing is planned yet: {key('view-tomorrow')}{going}, then {then}."


def what_first(facts: Facts, day: date, key: Key) -> str:
    """What to do first for a day without a load."""
    plan = nothing_planned(facts, day)
    if not plan.occasions:
        days = (day + timedelta(days=n) for n in range(1, AHEAD_DAYS))
        coming = next((later for later in days if services_on(facts.house, later)), None)
        goes_on = f"{key('tomorrow-day-after')} goes on"
        going = f": the next is on {near_day(facts, coming)}, {goes_on}" if coming else ""
        return f"No service is held on this day{going}."
    if not any(sum(promised(facts, plan, occasion).values()) for occasion in plan.occasions):
        shows = f"{key('promises')} shows promises, {key('tomorrow-likely')} changes one"
        return f"No promise yet for this day: {shows}, {key('plan')} plans."
    others = f"{key('tomorrow-day-before')} and {key('tomorrow-day-after')} change the day"
    return f"No load is planned for this day: {key('plan')} plans it, {others}."
