"""What the guidelines for inspected plants say of a record, told beside the verdict and never as it.

A restaurant may cook or cool by them only under a plan that its authority has approved.
"""

from typing import Any

from board.house.model import Handling
from board.safety.falling import Window, came_down_to, down_for_good, left_above
from board.safety.handling import BIRDS
from board.safety.log import Stretch, TemperatureLog, held, mirrored, slack_k, slack_s, trusted_minutes
from board.safety.tables import limit, table
from board.safety.wording import minutes_long

ONLY_BY_PLAN = "a restaurant may go by that only under a plan its authority has approved"


def cooked_by_table(log: TemperatureLog, handling: Handling) -> bool:
    """Whether a row of the plants' tables for 7 decades is met: for birds, one of each table."""
    stretches = tuple(log.stretches(trusted_minutes("cooking")))
    parts = table("fsis")["poultry"].values() if handling in BIRDS else (table("fsis")["meat"],)
    return all(any(_is_met(log, stretches, row) for row in part["rows"]) for part in parts)


def warmed_slowly(log: TemperatureLog) -> str:
    """A word on meat that warmed more slowly than the guideline allows; empty where it did not."""
    rule = table("fsis")["come_up"]
    cold, warm = limit(rule["from"]), limit(rule["to"])
    from_c, to_c = (at.least_c(in_fahrenheit=log.in_fahrenheit) for at in (cold, warm))
    stretches = mirrored(tuple(log.stretches(trusted_minutes("cooking"))))
    began = left_above(stretches, -from_c, log.unread_from)
    there = came_down_to(stretches, -to_c, began) if began else None
    if began is None or there is None or there.earliest - began.latest <= rule["most_minutes"]:
        return ""
    took, allowed = minutes_long(there.earliest - began.latest), minutes_long(rule["most_minutes"])
    return (
        f"It took {took} from {cold} to {warm}; the guideline for plants (FSIS Appendix A) allows {allowed}, "
        "for germs grow meanwhile."
    )


def cooled_by_option(log: TemperatureLog) -> tuple[str, ...]:
    """The plants' ways of cooling that the record meets, each with what it is for.

    A way that also asks for what no record of one temperature shows is left out.
    """
    stretches = tuple(log.stretches(trusted_minutes("cooling")))
    return tuple(
        f"FSIS Appendix B, {way['name']} ({way['only']})"
        for way in table("fsis")["cooling"]
        if "also" not in way and _is_met_by(log, stretches, way["steps"])
    )


def _is_met(log: TemperatureLog, stretches: tuple[Stretch, ...], row: dict[str, Any]) -> bool:
    at_c = limit(row).least_c(in_fahrenheit=log.in_fahrenheit)
    reached = any(c >= at_c - slack_k() for _, c in log.readings)
    return reached and held(stretches, at_c).least_s >= float(row["log7_s"]) - slack_s()


def _is_met_by(log: TemperatureLog, stretches: tuple[Stretch, ...], steps: list[dict[str, Any]]) -> bool:
    """Whether the record shows each step of a way of cooling done in its time; after the last it is over."""
    from_c = limit(steps[0]["from"]).least_c(in_fahrenheit=log.in_fahrenheit)
    began = left_above(stretches, from_c, log.unread_from)
    last_c = limit(steps[-1]["to"]).most_c(in_fahrenheit=log.in_fahrenheit)
    cold = came_down_to(stretches, last_c, began) if began else None
    return cold is not None and all(_is_passed(log, stretches, step, cold.latest) for step in steps)


def _is_passed(
    log: TemperatureLog, stretches: tuple[Stretch, ...], step: dict[str, Any], over: float
) -> bool:
    """Whether the record shows one step of a way of cooling done in its time, and for good."""
    from_c = limit(step["from"]).least_c(in_fahrenheit=log.in_fahrenheit)
    to_c = limit(step["to"]).most_c(in_fahrenheit=log.in_fahrenheit)
    began = left_above(stretches, from_c, log.unread_from)
    first: Window | None = came_down_to(stretches, to_c, began) if began else None
    there = down_for_good(stretches, to_c, first, over) if first else None
    if began is None or there is None:
        return False
    return there.latest - began.earliest <= float(step["most_minutes"]) + slack_s() / 60.0
