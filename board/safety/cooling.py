"""Whether a record shows that cooked food was cooled in time, and the checkpoints to write on the board.

The clock starts as the food falls below the rule's first temperature; how long it was hotter does not count.
"""

from collections.abc import Sequence

from board.safety.cautions import cautions
from board.safety.falling import Window, left_above
from board.safety.fsis import ONLY_BY_PLAN, cooled_by_option
from board.safety.log import Stretch, TemperatureLog, bent_minutes, slack_s, trusted_minutes
from board.safety.stages import Demands, Stage, stages_of
from board.safety.tables import Limit, Rules, rules, whose
from board.safety.verdict import Answer, CameTo, Checkpoint, Verdict
from board.safety.wording import beside, degrees_off, minutes_long


def checkpoints(place: str = "us", *, from_room_temperature: bool = False) -> tuple[Checkpoint, ...]:
    """The checkpoints of cooling, the earliest first."""
    rule = rules(place, "cooling")
    start = rule.limit("starts")
    from_what = "it was made" if from_room_temperature else f"it passed {start}"
    return tuple(
        Checkpoint(
            within, f"at or below {to} within {minutes_long(within)} after {from_what}", most_c=to.most_c()
        )
        for to, within in _demands(rule, from_room_temperature)
    )


def cooled(log: TemperatureLog, *, place: str = "us", from_room_temperature: bool = False) -> Verdict:
    """Whether the record shows food cooled in time.

    `from_room_temperature` is food made of ingredients at room temperature: its clock starts with the record.
    """
    rule = rules(place, "cooling")
    stretches = tuple(log.stretches(trusted_minutes("cooling")))
    starts = rule.limit("starts")
    began = _began(log, stretches, starts.least_c(in_fahrenheit=log.in_fahrenheit), from_room_temperature)
    stages = stages_of(log, stretches, began, _demands(rule, from_room_temperature))
    answer = _worst([stage.answer for stage in stages])
    why, settle = _told(log, began, stages, starts)
    return Verdict(
        food="made cold" if from_room_temperature else "cooling",
        rule=_rule(starts, stages, from_room_temperature),
        answer=answer,
        why=why,
        source=rule.source,
        cautions=(
            *_other_ways(log, answer, place),
            *cautions("cooling"),
            *whose(rule, place),
        ),
        settle=settle if answer is Answer.NOT_SHOWN else "",
        came_to=tuple(CameTo(stage.most_c, _rounded(stage.most), stage.within) for stage in stages),
    )


def _other_ways(log: TemperatureLog, answer: Answer, place: str) -> tuple[str, ...]:
    """What inspected plants may cool by, where the record meets that and not the rule."""
    if place != "us" or answer is Answer.PASS:
        return ()
    return tuple(f"It meets {way}; {ONLY_BY_PLAN}." for way in cooled_by_option(log))


def _demands(rule: Rules, from_room_temperature: bool) -> Demands:
    keys = ("made_from_room_temperature",) if from_room_temperature else ("first", "all")
    return [(rule.limit(key), float(rule.rows[key]["within_minutes"])) for key in keys]


def _began(
    log: TemperatureLog, stretches: Sequence[Stretch], starts_c: float, with_record: bool
) -> Window | None:
    """When the clock started; None while the food is still hot. Before the record where it begins cooler."""
    if not log.readings:
        return None
    first = log.readings[0][0]
    if with_record:
        return Window(log.minutes[0], first)
    passed = left_above(stretches, starts_c, log.unread_from)
    if passed is None and max(c for _, c in log.readings) < starts_c:
        return Window(float("-inf"), first)
    return None if passed is None else _along_a_curve(stretches, passed)


def _along_a_curve(stretches: Sequence[Stretch], passed: Window) -> Window:
    """The clock's start on a long stretch opened to where that begins: food cools fastest at first."""
    for stretch in stretches:
        is_long = stretch.to_minute - stretch.from_minute > bent_minutes() + slack_s() / 60.0
        if is_long and stretch.from_minute < passed.latest < stretch.to_minute:
            return Window(min(passed.earliest, stretch.from_minute), passed.latest)
    return passed


def _rounded(minutes: float | None) -> float | None:
    """Minutes to a tenth of a second, which is finer than any clock they are read by."""
    return None if minutes is None else round(minutes, 3)


def _worst(answers: Sequence[Answer]) -> Answer:
    for answer in (Answer.FAIL, Answer.NOT_SHOWN):
        if answer in answers:
            return answer
    return Answer.PASS


def _rule(starts: Limit, stages: Sequence[Stage], from_room_temperature: bool) -> str:
    asked = ", and ".join(f"to {stage.to} within {minutes_long(stage.within)}" for stage in stages)
    return f"made at room temperature, {asked}" if from_room_temperature else f"from {starts} {asked} in all"


def _told(
    log: TemperatureLog, began: Window | None, stages: Sequence[Stage], starts: Limit
) -> tuple[str, str]:
    """Why, and what would settle it, from the first stage that is not met."""
    if began is None:
        hot = "It is still hot: the clock has not started."
        return (
            hot if log.readings else "The record has no reading.",
            f"readings from when it passes {starts} on",
        )
    for stage in stages:
        if stage.answer is Answer.FAIL:
            return _why_late(stage, log), ""
    for stage in stages:
        if stage.answer is Answer.NOT_SHOWN:
            return _why_not_shown(stage, began, log, starts)
    took = " and ".join(f"{minutes_long(stage.most or 0.0)} to {stage.to}" for stage in stages)
    return f"It took {took}.", ""


def _why_late(stage: Stage, log: TemperatureLog) -> str:
    took = beside(60.0 * stage.least, 60.0 * stage.within)
    if stage.still_above:
        again = "again above" if stage.warmed else "still above"
        now = f"{degrees_off(log.readings[-1][1], stage.most_c)}, {again}"
        said = f"After {took} it was at {now} {stage.to}"
    else:
        again = "It was warmer again in between: it" if stage.warmed else "It"
        said = f"{again} took {took} to {stage.to}"
    return f"{said}; {minutes_long(stage.within)} is allowed."


def _why_not_shown(stage: Stage, began: Window, log: TemperatureLog, starts: Limit) -> tuple[str, str]:
    if began.earliest == float("-inf"):
        why = f"The record begins below {starts}: when it passed that is not in it."
        return why, f"a reading of {starts} or hotter from before, with its time"
    by = began.earliest + stage.within - log.readings[0][0]
    reading = f"a reading of {stage.to} or colder by {minutes_long(by)} after the first reading"
    if stage.most is None:
        return f"The record ends before it is at {stage.to}.", reading
    within = minutes_long(stage.within)
    return f"Its readings are too far apart to say whether it came to {stage.to} in {within}.", reading
