"""What was learned from past cooks as JSON: the key `learned`."""

from typing import Any

from board.commands.cook.spans import span_document
from board.cooking.learning.lesson import Lesson


def lesson_document(of: Lesson) -> dict[str, Any]:
    """The lesson for a JSON document."""
    return {
        "cooks": of.cooks,
        "cooks_of_pit": of.cooks_of_pit,
        "cooks_of_cut": of.cooks_of_cut,
        "cooks_of_both": of.cooks_of_both,
        "h_ratio": span_document(of.h_ratio, 3),
        "offset_c": span_document(of.offset_c, 1),
        "unevenness_c": None if of.evenness is None else span_document(of.evenness.kelvin, 1),
        "unevenness_cooks": 0 if of.evenness is None else of.evenness.cooks,
        "left_out": [
            {"day": each.cook.day.isoformat(), "cut": each.cook.cut, "pit": each.cook.pit, "why": each.why}
            for each in of.left_out
        ],
    }
