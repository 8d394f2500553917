"""The last day that food kept cold may be used: the day it is made is day 1, and frozen days do not count."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from board.errors import BoardError
from board.safety.tables import rules


@dataclass(frozen=True, slots=True)
class DateRule:
    """How many days food is kept, at what cold, and what food the rule is about."""

    most_days: int
    cold_most_c: float
    kept_over_hours: float
    source: str
    borrowed: str


def date_rule(place: str = "us") -> DateRule:
    """The date marking rule of a place."""
    rule = rules(place, "date_marks")
    return DateRule(
        most_days=int(rule.rows["most_days"]),
        cold_most_c=rule.limit("cold_most").most_c(),
        kept_over_hours=float(rule.rows["kept_over_hours"]),
        source=rule.source,
        borrowed=rule.borrowed,
    )


def last_day(made: date, frozen: Sequence[tuple[date, date]] = (), *, place: str = "us") -> date:
    """The last day it may be used; food made of several takes the earliest `made` of them.

    `frozen` are pairs of the day it was frozen and the day it was thawed: the count stops on the first and
    goes on with the second. Raises BoardError where a thaw comes before its freezing.
    """
    for into, out in frozen:
        if out < into:
            raise BoardError(
                f"date mark: found thawed on {out}, allowed a day from its freezing on {into} on"
            )
    day, counted = made, 1
    most = date_rule(place).most_days
    while counted < most:
        day = _next_counted(day, frozen)
        counted += 1
    return day


def _next_counted(day: date, frozen: Sequence[tuple[date, date]]) -> date:
    day += timedelta(days=1)
    while thawed := [out for into, out in frozen if into <= day < out]:
        day = max(thawed)
    return day
