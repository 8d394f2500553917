"""Whether a record shows food reheated for hot holding: hot enough, long enough, and soon enough."""

from dataclasses import dataclass

from board.safety.falling import Window, left_above
from board.safety.log import (
    Stretch,
    TemperatureLog,
    held,
    mirrored,
    since,
    slack_k,
    slack_s,
    trusted_minutes,
    until,
)
from board.safety.tables import Limit, rules, whose
from board.safety.verdict import Answer, Checkpoint, Held, Verdict
from board.safety.wording import degrees, minutes_long, seconds_long

NOT_IN_IT = float("-inf")


@dataclass(frozen=True, slots=True)
class _Asked:
    """What reheating asks: how hot, for how long, how soon after passing the cold limit."""

    to: Limit
    hold_s: float
    within: float
    starts: Limit

    @property
    def told(self) -> str:
        return f"{self.to} for {seconds_long(self.hold_s)}" if self.hold_s else f"{self.to} at once"

    def deadline(self, began: float) -> float:
        """By which minute it is hot and has been so for long enough."""
        return began + self.within + self.hold_s / 60.0


def checkpoints(place: str = "us", *, commercial: bool = False) -> tuple[Checkpoint, ...]:
    """The one checkpoint of reheating: by when the food must be how hot."""
    asked = _asked(place, commercial)
    says = f"at {asked.told} within {minutes_long(asked.within)} of passing {asked.starts}"
    return (Checkpoint(asked.within, says, least_c=asked.to.least_c()),)


def reheated(log: TemperatureLog, *, place: str = "us", commercial: bool = False) -> Verdict:
    """Whether the record shows food reheated; `commercial` for food ready to eat from an inspected plant."""
    rule, asked = rules(place, "reheating"), _asked(place, commercial)
    to_c = asked.to.least_c(in_fahrenheit=log.in_fahrenheit)
    stretches = tuple(log.stretches(trusted_minutes("cooking")))
    answer, why = _judged(log, stretches, asked, to_c)
    settle = (
        f"readings that show it at {asked.told} within {minutes_long(asked.within)} of passing {asked.starts}"
    )
    return Verdict(
        food="reheated",
        rule=f"{asked.told}, within {minutes_long(asked.within)} of passing {asked.starts}",
        answer=answer,
        why=why,
        source=rule.source,
        held=(Held(asked.to.c, round(held(stretches, to_c).least_s, 3), asked.hold_s),),
        cautions=whose(rule, place),
        settle=settle if answer is Answer.NOT_SHOWN else "",
    )


def _asked(place: str, commercial: bool) -> _Asked:
    rule = rules(place, "reheating")
    key = "commercial" if commercial else "least"
    hold_s = float(rule.rows[key]["hold_s"])
    return _Asked(rule.limit(key), hold_s, float(rule.rows["within_minutes"]), rule.limit("starts"))


def _judged(
    log: TemperatureLog, stretches: tuple[Stretch, ...], asked: _Asked, to_c: float
) -> tuple[Answer, str]:
    if not log.readings:
        return Answer.NOT_SHOWN, "The record has no reading."
    began = _began(log, stretches, asked.starts)
    if began is None:
        return Answer.NOT_SHOWN, "The record ends while it is still cold."
    hottest = degrees(max(c for _, c in log.readings))
    shown, _ = _is_hot(_between(stretches, began.latest, asked.deadline(began.earliest)), to_c, asked.hold_s)
    if shown:
        return Answer.PASS, f"It was at {asked.told} in time; the hottest reading is {hottest}."
    latest = asked.deadline(began.latest)
    _, may_be = _is_hot(_between(stretches, began.earliest, latest), to_c, asked.hold_s)
    if log.readings[-1][0] >= latest - slack_s() / 60.0 and not may_be:
        return Answer.FAIL, f"It was not at {asked.told} within {minutes_long(asked.within)}."
    if began.earliest == NOT_IN_IT:
        return Answer.NOT_SHOWN, "The record begins when it is warm already: how long it took is not in it."
    return Answer.NOT_SHOWN, f"It is not shown at {asked.told} in time; the hottest reading is {hottest}."


def _between(stretches: tuple[Stretch, ...], begin: float, end: float) -> tuple[Stretch, ...]:
    """What the record shows from a minute to another: heat before food was cold again does not count."""
    return until(since(stretches, begin), end)


def _began(log: TemperatureLog, stretches: tuple[Stretch, ...], starts: Limit) -> Window | None:
    """When it passed the cold limit on its way up; before the record where it begins warmer."""
    starts_c = starts.most_c(in_fahrenheit=log.in_fahrenheit)
    if min(c for _, c in log.readings) > starts_c + slack_k():
        return Window(NOT_IN_IT, log.readings[0][0])
    return left_above(mirrored(stretches), -starts_c, log.unread_from)


def _is_hot(stretches: tuple[Stretch, ...], to_c: float, hold_s: float) -> tuple[bool, bool]:
    """Whether it is shown hot for long enough, and whether it may have been where nobody read it."""
    at = held(stretches, to_c)
    reached = any(max(s.from_c, s.to_c) >= to_c - slack_k() for s in stretches)
    hidden = any(not s.trusted for s in stretches)
    shown = reached and at.least_s >= hold_s - slack_s()
    return shown, (reached or hidden) and at.most_s >= hold_s - slack_s()
