"""Until when an item lasts in a service, and what that leans on, in words."""

from dataclasses import dataclass

from board.house.calendar import local
from board.house.spans import minutes_between
from board.house.wording import plural
from board.planning.plan import Occasion, Plan
from board.planning.selling import Pace, Selling, Serving, pace_of, runs_out, soon_minutes
from board.views import names
from board.views.facts import Facts, promised
from board.views.stock import Stock, Where
from board.views.text import inert

_MOSTLY = 2 / 3


@dataclass(frozen=True, slots=True)
class Lasting:
    """Until when an item lasts, whether that is too soon, and what pace it was reckoned with."""

    says: str
    soon: bool = False
    leans: str = ""
    per_hour: float = 0.0


def serving_of(facts: Facts, plan: Plan, occasion: Occasion) -> Serving:
    """A serving time in the house's zone."""
    at, until = local(occasion.at, facts.house), local(occasion.until, facts.house)
    return Serving(occasion.id, plan.day, at, until)


def pace(facts: Facts, plan: Plan, occasion: Occasion, item: str) -> Pace:
    """The pace of an item in a service."""
    sold = facts.sold.get((plan.day, occasion.id, item), 0)
    selling = Selling(item, promised(facts, plan, occasion).get(item, 0), sold)
    return pace_of(facts.house.sales, serving_of(facts, plan, occasion), selling, facts.now)


def lasting(facts: Facts, plan: Plan, occasion: Occasion, stock: Stock) -> Lasting:
    """How far what is ready goes, and what comes on the way."""
    found = pace(facts, plan, occasion, stock.item)
    is_promised = promised(facts, plan, occasion).get(stock.item, 0) > 0
    start = max(facts.now, occasion.at)
    coming = stock.arrivals(facts.now)
    there = stock.portions(Where.READY)
    if found.per_minute <= 0 or start >= occasion.until or not (there or coming) or not is_promised:
        return Lasting("")
    out = runs_out(there, coming, found.per_minute, start, occasion.until)
    leans, hourly = _leans(plan, occasion, found), found.per_minute * 60
    if out is None:
        return Lasting("to the end", False, leans, hourly)
    soon = minutes_between(start, out) < soon_minutes()
    later = [at for at, _ in sorted(coming) if at > start]
    if out <= start:
        again = f"none until {names.clock(facts.house, later[0])}" if later else "none left"
        return Lasting(again, True, leans, hourly)
    return Lasting(f"until {names.clock(facts.house, out)}", soon, leans, hourly)


def _leans(plan: Plan, occasion: Occasion, found: Pace) -> str:
    """What a pace leans on: today's sales, past days, or both."""
    if found.services == 0:
        before = "as promised"
    elif found.same_weekday:
        before = f"as on other {plan.day:%A}s"
    else:
        before = f"as at other {plural(inert(occasion.name))}"
    if found.today >= _MOSTLY:
        return "at today's pace"
    return before if found.today <= 1 - _MOSTLY else f"at today's pace and {before}"
