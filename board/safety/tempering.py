"""Food out of temperature for a time, as meat that tempers before the pit: time as the only control."""

from dataclasses import dataclass

from board.safety.falling import Window, came_down_to, left_above
from board.safety.log import Stretch, TemperatureLog, mirrored, slack_k, slack_s, trusted_minutes
from board.safety.tables import Limit, Rules, rules, whose
from board.safety.verdict import Answer, Checkpoint, Verdict
from board.safety.wording import between, degrees, minutes_long


@dataclass(frozen=True, slots=True)
class _Out:
    """How long food was out: minutes from passing the cold limit until it was hot, or to the record's end.

    `warmest_c` is its warmest reading before that.
    """

    least: float
    most: float
    warmest_c: float
    got_hot: bool


def checkpoints(place: str = "us") -> tuple[Checkpoint, ...]:
    """By when food out of the cold is cooked, served or thrown away."""
    rule = rules(place, "time_control")
    most = float(rule.rows["most_minutes"])
    return (
        Checkpoint(most, f"cooked, served or thrown away within {minutes_long(most)} of leaving the cold"),
    )


def tempered(log: TemperatureLog, *, place: str = "us") -> Verdict:
    """Whether food out of the cold was cooked or used in time; the clock never starts again.

    It ends as the food is hot again. Food that stays cool all the while may be out for longer.
    """
    rule = rules(place, "time_control")
    answer, why, settle = _judged(log, rule)
    return Verdict(
        food="out of the cold",
        rule=_told(rule),
        answer=answer,
        why=why,
        source=rule.source,
        cautions=(
            "Time as the only control needs a written procedure and a mark of the time; it never restarts.",
            *whose(rule, place),
        ),
        settle=settle,
    )


def _told(rule: Rules) -> str:
    most = minutes_long(float(rule.rows["most_minutes"]))
    told = f"from {rule.limit('starts_cold_most')} or colder, {most} at most"
    if "cool" not in rule.rows:
        return told
    cool = minutes_long(float(rule.rows["cool"]["most_minutes"]))
    return f"{told}, or {cool} if never above {rule.limit('cool', 'most')}"


def _cool_most(rule: Rules, out: _Out, *, in_fahrenheit: bool) -> float:
    """How long it may have been out at most, minutes: longer where the rule says so of cool food.

    Food that got hot may have been cool until it went on the fire, which no record of its core tells.
    """
    most = float(rule.rows["most_minutes"])
    if "cool" not in rule.rows:
        return most
    cool_c = rule.limit("cool", "most").most_c(in_fahrenheit=in_fahrenheit)
    may_be_cool = out.got_hot or out.warmest_c <= cool_c + slack_k()
    return float(rule.rows["cool"]["most_minutes"]) if may_be_cool else most


def _judged(log: TemperatureLog, rule: Rules) -> tuple[Answer, str, str]:
    """The answer, why, and what would settle it."""
    cold = rule.limit("starts_cold_most")
    if not log.readings:
        return Answer.NOT_SHOWN, "The record has no reading.", f"a reading of {cold} or colder, with its time"
    cold_c = cold.most_c(in_fahrenheit=log.in_fahrenheit)
    stretches = tuple(log.stretches(trusted_minutes("holding")))
    out = _out(log, stretches, rule, cold_c)
    if out is None:
        return _never_out(log, stretches, cold)
    most = float(rule.rows["most_minutes"])
    cool_most = _cool_most(rule, out, in_fahrenheit=log.in_fahrenheit)
    shown_most = cool_most if all(s.trusted for s in stretches) and not out.got_hot else most
    slack = slack_s() / 60.0
    lasted = between(60.0 * out.least, 60.0 * out.most)
    took = f"It was out for {lasted}, {degrees(out.warmest_c)} at the warmest; "
    took += f"{minutes_long(shown_most)} is allowed."
    if out.least > cool_most + slack:
        return Answer.FAIL, took, ""
    if log.readings[0][1] > cold_c + slack_k():
        return (
            Answer.NOT_SHOWN,
            f"The record begins above {cold}.",
            f"a reading of {cold} or colder from before",
        )
    if out.most > shown_most + slack or log.has_lost_end:
        return Answer.NOT_SHOWN, took, _settle(log, stretches, rule)
    return Answer.PASS, took, ""


def _settle(log: TemperatureLog, stretches: tuple[Stretch, ...], rule: Rules) -> str:
    """What would settle it: readings where there are none, or how cool food was that got hot late."""
    if log.has_lost_end or not all(s.trusted for s in stretches):
        return "readings in the stretch that has none"
    return f"readings that show it at or below {rule.limit('cool', 'most')} until it went on the fire"


def _never_out(log: TemperatureLog, stretches: tuple[Stretch, ...], cold: Limit) -> tuple[Answer, str, str]:
    if log.has_lost_end or not all(s.trusted for s in stretches):
        why = f"No reading is above {cold}, but a stretch is without readings."
        return Answer.NOT_SHOWN, why, "readings in the stretch that has none"
    return Answer.PASS, f"It never was above {cold}.", ""


def _out(log: TemperatureLog, stretches: tuple[Stretch, ...], rule: Rules, cold_c: float) -> _Out | None:
    """How long it was out and how warm it was; None where it never left the cold."""
    first, last = log.readings[0][0], log.readings[-1][0]
    began_warm = log.readings[0][1] > cold_c + slack_k()
    left = left_above(mirrored(stretches), -cold_c, log.unread_from)
    if not began_warm and left is None:
        return None
    earliest, latest = (first, first) if began_warm or left is None else left
    hot_c = rule.limit("starts_hot_least").least_c(in_fahrenheit=log.in_fahrenheit)
    hot = came_down_to(mirrored(stretches), -hot_c, Window(earliest, latest))
    if hot is None:
        return _Out(max(0.0, last - latest), last - earliest, max(c for _, c in log.readings), False)
    raw = [c for m, c in log.readings if m < hot.earliest]
    return _Out(max(0.0, hot.earliest - latest), hot.latest - earliest, max(raw, default=hot_c), True)
