"""A verdict on a record as sentences and as one JSON document."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from board.house.wording import count
from board.safety.log import TemperatureLog
from board.safety.tables import edition, place_name
from board.safety.verdict import Verdict
from board.safety.wording import minutes_long

MOST_DECADES_TOLD = 12.0


@dataclass(frozen=True, slots=True)
class Report:
    """A record by its file's name, what it proves, and by whose rules."""

    file: str
    log: TemperatureLog
    verdict: Verdict
    place: str


def document(report: Report) -> dict[str, Any]:
    """The verdict as JSON; the keys of the contract first, temperatures °C."""
    verdict = report.verdict
    return {
        "food": verdict.food,
        "rule": verdict.rule,
        "verdict": verdict.answer.value,
        "why": verdict.why,
        "held": [asdict(row) for row in verdict.held],
        "lethality_log10": verdict.lethality_log10,
        "source": verdict.source,
        "cautions": list(verdict.cautions),
        "settle": verdict.settle,
        "came_to": [asdict(row) for row in verdict.came_to],
        "readings": len(report.log.readings),
        "jurisdiction": report.place,
        "edition": edition(report.place),
    }


def sentences(report: Report) -> Iterator[str]:
    """The verdict as a cook reads it."""
    verdict = report.verdict
    yield f"{verdict.answer.value.capitalize()}: {verdict.food.replace('-', ' ')}, {_record(report)}."
    yield verdict.why
    if verdict.settle:
        yield f"It would be settled by {verdict.settle}."
    yield f"The rule: {verdict.rule}."
    yield from _lethality(verdict)
    yield ""
    yield "Mind"
    yield from (f"  {caution}" for caution in verdict.cautions)
    yield ""
    yield f"{verdict.source}. {place_name(report.place)}: {edition(report.place)}."
    yield "This is what the record shows. It advises; it does not certify."


def _record(report: Report) -> str:
    readings = report.log.readings
    lost = len(report.log.minutes) - len(readings)
    gaps = f" and {count(lost, 'gap')}" if lost else ""
    over = f" over {minutes_long(readings[-1][0] - readings[0][0])}" if len(readings) > 1 else ""
    return f"by {count(len(readings), 'reading')}{gaps}{over} in {report.file}"


def _lethality(verdict: Verdict) -> Iterator[str]:
    if verdict.lethality_log10 is None:
        return
    decades = verdict.lethality_log10
    shown = f"over {MOST_DECADES_TOLD:.0f}" if decades > MOST_DECADES_TOLD else f"{decades:.1f}"
    yield f"Lethality {shown} log10, by {verdict.lethality_by}: beside the rule, never instead of it."
