"""Whether a record of the core shows that meat was cooked, by the rule its handling falls under.

The whole record counts, the rest included. A row of the rule is met by one unbroken stretch at or above
its temperature; rows are never added together nor read between. Lethality stands beside the answer.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from board.house.model import Handling
from board.safety.cautions import cautions
from board.safety.fsis import ONLY_BY_PLAN, cooked_by_table, warmed_slowly
from board.safety.lethality import lethality_by, lethality_log10
from board.safety.limits import CookRow, CookRule, cook_rule
from board.safety.log import Shown, TemperatureLog, held, slack_k, slack_s, trusted_minutes
from board.safety.ovens import WITHOUT_CHART, Oven, why_not_by_chart
from board.safety.tables import who_decides
from board.safety.verdict import Answer, Held, Verdict
from board.safety.wording import beside, degrees, degrees_off, seconds_long

_FEW_ROWS = 5
_LEVEL_K_A_MINUTE = 1e-6  # the noise of a line's slope


class Row(NamedTuple):
    """A row of the rule, its temperature in the record's scale, and what the record shows of it."""

    printed: CookRow
    at_c: float
    shown: Shown

    @property
    def may_be_met(self) -> bool:
        """Whether a stretch without readings may hold the time that is asked."""
        hidden = self.shown.most_s > self.shown.least_s
        return hidden and self.shown.most_s >= self.printed.seconds - slack_s()

    def is_met(self, hottest_c: float) -> bool:
        """Whether the record shows the time that is asked."""
        reached = hottest_c >= self.at_c - slack_k()
        return reached and self.shown.least_s >= self.printed.seconds - slack_s()


class Said(NamedTuple):
    """An answer, why, and what would settle it."""

    answer: Answer
    why: str
    settle: str = ""


def cooked(
    log: TemperatureLog, handling: Handling, *, place: str = "us", oven: Oven | None = None
) -> Verdict:
    """Whether the record shows meat so handled cooked; `oven` decides whether a roast may go by its chart."""
    rule, notes = _rule(handling, place, oven)
    rows = _rows(log, rule)
    said = _judged(log, rows)
    return Verdict(
        food=handling.value,
        rule=told(rule),
        answer=said.answer,
        why=said.why,
        source=rule.source,
        lethality_log10=round(lethality_log10(log, handling), 3) if log.readings else None,
        lethality_by=lethality_by(handling),
        held=tuple(Held(row.printed.at.c, round(row.shown.least_s, 3), row.printed.seconds) for row in rows),
        cautions=(*notes, *_beside(log, handling, said.answer, place), who_decides(place)),
        settle=said.settle,
    )


def told(rule: CookRule) -> str:
    """The rows of a rule in words, of a long chart its coolest and its hottest."""
    rows = [
        f"{row.at} for {seconds_long(row.seconds)}" if row.seconds else f"{row.at} at once"
        for row in rule.printed
    ]
    return f"{rows[0]}, by its chart to {rows[-1]}" if len(rows) > _FEW_ROWS else ", or ".join(rows)


def _rule(handling: Handling, place: str, oven: Oven | None) -> tuple[CookRule, tuple[str, ...]]:
    """The rule that applies and what to know of it; a roast in too cool a dry oven falls to other meat's."""
    rule = cook_rule(handling, place)
    if not rule.charted:
        return rule, rule.notes
    if oven is None:
        asked = (
            "The chart is for roasts cooked in an oven as hot as it asks for their weight, or in a humid "
            "one; no record of the core shows that."
        )
        return rule, (asked, *rule.notes)
    if cooler := why_not_by_chart(oven, place):
        other = cook_rule(WITHOUT_CHART[handling], place)
        return other, (cooler, *other.notes)
    return rule, rule.notes


def _rows(log: TemperatureLog, rule: CookRule) -> list[Row]:
    stretches = tuple(log.stretches(trusted_minutes("cooking")))
    ats = [row.at.least_c(in_fahrenheit=log.in_fahrenheit) for row in rule.printed]
    return [Row(row, at_c, held(stretches, at_c)) for row, at_c in zip(rule.printed, ats, strict=True)]


def _judged(log: TemperatureLog, rows: Sequence[Row]) -> Said:
    if not log.readings:
        return Said(Answer.NOT_SHOWN, "The record has no reading.", _a_reading(rows[-1].printed))
    hottest_c = max(c for _, c in log.readings)
    met = [row for row in rows if row.is_met(hottest_c)]
    if met:
        return Said(Answer.PASS, _why_met(met[-1], hottest_c))
    now_c = log.readings[-1][1]
    if any(row.may_be_met for row in rows):
        why = "It may have been cooked in a stretch without readings; none shows it."
        return Said(Answer.NOT_SHOWN, why, _next(rows, now_c))
    open_end = _open_end(log, rows[0].at_c - slack_k(), rows[-1].at_c)
    if open_end:
        return Said(Answer.NOT_SHOWN, open_end, _next(rows, now_c))
    return Said(Answer.FAIL, _why_not(rows, hottest_c))


def _open_end(log: TemperatureLog, least_c: float, surest_c: float) -> str:
    """Why the record may leave out what cooked the meat, before it or after it; empty where it does not.

    `least_c` and `surest_c` are the rule's coolest and hottest rows.
    """
    readings = log.readings
    (last_minute, last_c), before = readings[-1], readings[-2:-1]
    slope = (last_c - before[0][1]) / (last_minute - before[0][0]) if before else 0.0
    if log.has_lost_end:
        return "The record begins or ends with a reading that was lost."
    if last_c >= least_c:
        return f"The record ends at {degrees_off(last_c, surest_c)}, still hot, before the time is full."
    if not before:
        return f"One reading, {degrees(last_c)}, does not show what came before it or after it."
    if slope > _LEVEL_K_A_MINUTE:
        return f"The record ends at {degrees(last_c)}, while it still rises."
    if readings[0][1] >= least_c:
        return f"The record begins at {degrees(readings[0][1])}, hot already: what came before is not in it."
    return ""


def _why_met(row: Row, hottest_c: float) -> str:
    if row.printed.seconds == 0:
        return f"It reached {degrees(hottest_c)}; {row.printed.at} is enough at once."
    return (
        f"It stayed at or above {row.printed.at} for {seconds_long(row.shown.least_s)}; "
        f"{seconds_long(row.printed.seconds)} is asked."
    )


def _why_not(rows: Sequence[Row], hottest_c: float) -> str:
    reached = [row for row in rows if hottest_c >= row.at_c - slack_k()]
    if not reached:
        hottest = degrees_off(hottest_c, rows[0].at_c)
        return f"It never reached {rows[0].printed.at}: the hottest reading is {hottest}."
    nearest = max(reached, key=lambda row: row.shown.least_s / row.printed.seconds)
    stayed = beside(nearest.shown.least_s, nearest.printed.seconds)
    return (
        f"It stayed at or above {nearest.printed.at} for {stayed}, where "
        f"{seconds_long(nearest.printed.seconds)} is asked, and then was let go cooler."
    )


def _next(rows: Sequence[Row], now_c: float) -> str:
    """The readings that would settle it, from where the core is now."""
    hot = [row.printed for row in rows if now_c >= row.at_c - slack_k() and row.printed.seconds]
    still = (
        f", or readings that show it at {hot[-1].at} or hotter for {seconds_long(hot[-1].seconds)} on end"
        if hot and hot[-1] is not rows[-1].printed
        else ""
    )
    return _a_reading(rows[-1].printed) + still


def _a_reading(row: CookRow) -> str:
    if row.seconds:
        return f"readings in the coldest part at {row.at} or hotter for {seconds_long(row.seconds)} on end"
    return f"one reading in the coldest part of {row.at} or hotter"


def _beside(log: TemperatureLog, handling: Handling, answer: Answer, place: str) -> Iterator[str]:
    """What to mind beside the answer."""
    if place == "us" and answer is not Answer.PASS and cooked_by_table(log, handling):
        yield f"It meets the table of inspected plants (FSIS Appendix A, 7 decades); {ONLY_BY_PLAN}."
    if slow := warmed_slowly(log):
        yield slow
    yield from cautions("undercooked")[: 1 if answer is Answer.PASS else None]
    if handling is Handling.INJECTED:
        yield from cautions("injected")
