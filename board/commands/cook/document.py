"""The answer as the promised JSON document."""

from collections.abc import Sequence
from typing import Any

from board.commands.cook.spans import span_document
from board.commands.cook.taken import Taken
from board.cooking.cook import Cook, Curve, Estimate, ThinEnd
from board.cooking.readings.left_out import LeftOut


def document(cook: Cook, found: Estimate, taken: Taken) -> dict[str, Any]:
    """The promised document."""
    stall, revised = found.stall, taken.revision
    assert found.curve is not None
    assert found.peak_after_pull_c is not None
    return {
        "cut": cook.cut.id,
        "weight_kg": round(cook.mass_kg, 3),
        "count": cook.pieces,
        "pit": cook.pit.kind.value,
        "setpoint_c": round(cook.setpoint_c, 2),
        "until_c": round(cook.until_core_c, 2),
        "tender_minutes": round(cook.tender_minutes, 1) if cook.tender_minutes else None,
        "pulled_core_c": span_document(found.pulled_core_c),
        "minutes": span_document(revised or found.minutes),
        "wrap_minutes": span_document(found.wrap_minutes) if found.wrap_minutes else None,
        "warning": revised.warning if revised else None,
        "readings": {
            "core": {"counted": len(taken.core.kept), "left_out": _left_out(taken.core.left_out)},
            "air": {"counted": taken.air_kept, "left_out": _left_out(taken.air_left_out)},
        },
        "stall": stall
        and {
            "from_minute": round(stall.from_minute, 1),
            "to_minute": round(stall.to_minute, 1),
            "core_c": round(stall.core_c, 1),
        },
        "loss_percent": span_document(found.loss_percent),
        "peak_after_pull_c": span_document(found.peak_after_pull_c),
        "thin_end": _thin(found.thin_end) if found.thin_end else None,
        "curve": _curve(found.curve),
    }


def _curve(curve: Curve) -> list[dict[str, Any]]:
    """The course over the minutes."""
    rows = zip(
        curve.minutes.tolist(),
        curve.core_p10.tolist(),
        curve.core_p50.tolist(),
        curve.core_p90.tolist(),
        curve.surface_p50.tolist(),
        curve.loss_percent_p50.tolist(),
        strict=True,
    )
    return [
        {
            "minute": round(float(minute), 1),
            "core_c": {"p10": round(p10, 1), "p50": round(p50, 1), "p90": round(p90, 1)},
            "surface_c": {"p50": round(surface, 1)},
            "loss_percent": {"p50": round(loss, 1)},
        }
        for minute, p10, p50, p90, surface, loss in rows
    ]


def _left_out(readings: Sequence[LeftOut]) -> list[dict[str, Any]]:
    """The readings that do not count, each with its reason."""
    return [
        {"minute": round(one.minute, 1), "celsius": round(one.core_c, 1), "why": one.why.value}
        for one in readings
    ]


def _thin(thin: ThinEnd) -> dict[str, Any]:
    """The thin end: when it is at the core asked, and its core at the pull."""
    return {
        "minutes": thin.minutes and span_document(thin.minutes),
        "core_at_pull_c": span_document(thin.core_c),
    }
