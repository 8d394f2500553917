"""How long meat thaws, and whether a record of its warmest part shows it thawed within the rule."""

from dataclasses import dataclass
from enum import StrEnum

from board.safety.log import Shown, TemperatureLog, slack_k, slack_s, total, trusted_minutes
from board.safety.tables import Limit, rules, whose
from board.safety.verdict import Answer, Verdict
from board.safety.wording import between, degrees, minutes_long


class Way(StrEnum):
    """How meat is thawed for which a time is published."""

    FRIDGE = "fridge"
    WATER = "water"


@dataclass(frozen=True, slots=True)
class ThawTime:
    """How long a piece thaws, minutes, by the quicker and the slower of the published rules."""

    least_minutes: float
    most_minutes: float
    source: str


def thaw_minutes(mass_kg: float, way: Way, *, place: str = "us") -> ThawTime:
    """How long one piece of so many kg thaws, by rules of thumb of so long for each kilogram."""
    row = rules(place, "thawing").rows["minutes_a_kg"][way]
    return ThawTime(mass_kg * float(row["least"]), mass_kg * float(row["most"]), str(row["source"]))


def raw_warm_most_minutes(place: str = "us") -> float:
    """How long the warmest part of raw meat may be above the cold limit in all, minutes."""
    return float(rules(place, "thawing").rows["raw_above_minutes"])


def thawed(log: TemperatureLog, *, place: str = "us", ready_to_eat: bool = False) -> Verdict:
    """Whether a record of the warmest part shows it thawed within the rule.

    Raw meat may be above the cold limit for a time in all; food `ready_to_eat` not at all.
    """
    rule = rules(place, "thawing")
    cold = rule.limit("cold_most")
    most = 0.0 if ready_to_eat else raw_warm_most_minutes(place)
    answer, why, settle = _judged(log, cold, most)
    long = f"above {cold} for {minutes_long(most)} in all at most"
    return Verdict(
        food="thawed, ready to eat" if ready_to_eat else "thawed raw",
        rule=f"no part above {cold}"
        if ready_to_eat
        else f"{long}, {rule.rows['raw_above_includes']} included",
        answer=answer,
        why=why,
        source=rule.source,
        cautions=whose(rule, place),
        settle=settle,
    )


def _judged(log: TemperatureLog, cold: Limit, most: float) -> tuple[Answer, str, str]:
    """The answer, why, and what would settle it."""
    if not log.readings:
        return Answer.NOT_SHOWN, "The record has no reading.", f"readings of its warmest part beside {cold}"
    cold_c = cold.most_c(in_fahrenheit=log.in_fahrenheit)
    stretches = tuple(log.stretches(trusted_minutes("holding")))
    above = total(stretches, cold_c + 2 * slack_k())
    warmest = max(c for _, c in log.readings)
    limit_s = 60.0 * most + slack_s()
    if above.least_s > limit_s or (most == 0.0 and warmest > cold_c + slack_k()):
        return Answer.FAIL, f"{_above(above, cold)}, the warmest reading {degrees(warmest)}.", ""
    if log.readings[0][1] > cold_c + slack_k():
        why = f"The record begins above {cold}: how long it was so before is not in it."
        return Answer.NOT_SHOWN, why, f"a reading of {cold} or colder from before, with its time"
    if above.most_s > limit_s or log.has_lost_end:
        return Answer.NOT_SHOWN, f"{_above(above, cold)}.", "readings in the stretch that has none"
    return Answer.PASS, f"{_above(above, cold)}, the warmest reading {degrees(warmest)}.", ""


def _above(above: Shown, cold: Limit) -> str:
    return f"It was above {cold} for {between(*above)} in all"
