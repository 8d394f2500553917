"""How long an item lasts in a service: its pace today and on past days, against what there is."""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import cache
from importlib.resources import files
from typing import Any

from board.house.past import Sale
from board.house.spans import minutes_between

_MINUTE = timedelta(minutes=1)


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("board.planning").joinpath("data/selling.toml").read_text(encoding="utf-8"))


def soon_minutes() -> float:
    """An item that lasts no longer than this is to be acted on now."""
    return float(_table()["pace"]["soon_minutes"])


def past_days() -> int:
    """How many days back sales are counted."""
    return int(_table()["pace"]["past_days"])


def near_share() -> float:
    """The part of its longest hold from which on food is near it."""
    return float(_table()["holding"]["near"])


@dataclass(frozen=True, slots=True)
class Pace:
    """Portions a minute; `today` is the share of it that today's sales make up.

    `services` past ones were leaned on, `same_weekday` tells that all of them fell on this day of the week;
    none means that the promise stands in their place.
    """

    per_minute: float
    today: float
    services: int
    same_weekday: bool


@dataclass(frozen=True, slots=True)
class Serving:
    """A serving time of a day: its id and from when to when."""

    id: str
    day: date
    at: datetime
    until: datetime

    @property
    def minutes(self) -> float:
        """How long it lasts; at least one, so that a rate can be taken."""
        return max(1.0, minutes_between(self.at.astimezone(UTC), self.until))


def alike(sales: Sequence[Sale], serving: Serving, item: str) -> tuple[list[Sale], bool]:
    """Past services to go by, and whether all are of this day of the week: such where there are enough."""
    first = serving.day - timedelta(days=past_days())
    own = [
        sale
        for sale in sales
        if sale.item == item and sale.service == serving.id and first <= sale.day < serving.day
    ]
    same = [sale for sale in own if sale.day.weekday() == serving.day.weekday()]
    if len(same) >= int(_table()["pace"]["enough"]) or len(same) == len(own):
        return same, True
    return own, False


def rate_of(sale: Sale, serving: Serving) -> float:
    """Portions a minute of a past service, evenly until its end, or until it was sold out."""
    if sale.sold_out_at is None:
        return sale.sold / serving.minutes
    out = serving.at.replace(hour=sale.sold_out_at.hour, minute=sale.sold_out_at.minute)
    if out < serving.at:  # past midnight
        out += timedelta(days=1)
    lasted = minutes_between(serving.at, out)  # by the clock: a change of today's was none of that day's
    return sale.sold / (lasted if 0 < lasted < serving.minutes else serving.minutes)


@dataclass(frozen=True, slots=True)
class Selling:
    """An item in a service: how many portions are promised, and sold so far."""

    item: str
    promised: int
    sold: int


def pace_of(sales: Sequence[Sale], serving: Serving, selling: Selling, now: datetime) -> Pace:
    """The pace to reckon with: past services weigh as an hour of today, and the promise where there is none.

    `serving.at` is in the house's zone, since past services tell when they sold out by its clock.
    """
    past, same = alike(sales, serving, selling.item)
    rates = [rate_of(sale, serving) for sale in past]
    before = sum(rates) / len(rates) if rates else selling.promised / serving.minutes
    prior = float(_table()["pace"]["past_minutes"])
    served = max(0.0, minutes_between(serving.at.astimezone(UTC), min(now, serving.until)))
    rate = (before * prior + selling.sold) / (prior + served)
    return Pace(rate, served / (prior + served), len(past), same)


def runs_out(
    stock: int, coming: Sequence[tuple[datetime, int]], per_minute: float, now: datetime, until: datetime
) -> datetime | None:
    """When nothing is left to serve, what comes on the way counted; None where it lasts to the end."""
    left, moment = float(stock), now
    for at, portions in sorted(coming):
        arrives = max(at, now)
        if arrives >= until:
            break
        sold = per_minute * (minutes_between(moment, arrives))
        if sold > left or (left <= 0 and arrives > moment):
            break
        left, moment = left - sold + portions, arrives
    if left > 0 and left >= per_minute * minutes_between(moment, until):
        return None
    return moment + _MINUTE * (left / per_minute) if left > 0 else moment
