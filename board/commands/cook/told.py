"""The answer in plain sentences."""

from board.commands.cook.plot import plot
from board.commands.cook.taken import Taken
from board.cooking.cook import Cook, Estimate, ThinEnd
from board.house.model import Display
from board.house.units import format_mass, format_temperature
from board.house.wording import count, duration
from board.sheets.page import WIDTH, sentences
from board.views.left_out import says_left_out


def told(cook: Cook, found: Estimate, taken: Taken, display: Display) -> str:
    """The answer in plain sentences."""
    revised = taken.revision
    span = revised or found.minutes
    lines = [
        _asked(cook, display),
        f"{duration(span.p50)} most likely; between {duration(span.p10)} and {duration(span.p90)} "
        "in eight cooks of ten.",
    ]
    if cook.pieces > 1:
        lines.append("That is when the slowest piece is there.")
    if revised:
        lines.append(f"The whole cook's time, after your readings{_but(revised.warning)}.")
    lines += _measured(taken, display)
    lines += _events(cook, found, display)
    return "\n".join([*sentences(lines, WIDTH), "", *plot(cook, found, taken, display, WIDTH)])


def _measured(taken: Taken, display: Display) -> list[str]:
    """What was left out of the sum and why, and where nothing was read."""
    lines = [f"At {duration(one.minute)} {says_left_out(one, display)}." for one in taken.core.left_out]
    lines += [f"Air at {duration(one.minute)}: {says_left_out(one, display)}." for one in taken.air_left_out]
    if taken.air_kept:
        lines.append(f"The pit's air is counted as it was read ({count(taken.air_kept, 'reading')}).")
    if gaps := taken.core.gaps:
        stretches = (f"{_from(start)} to {duration(end)}" for start, end in gaps)
        lines.append(f"Nothing was read from {', '.join(stretches)}.")
    return lines


def _from(minute: float) -> str:
    """The start of a stretch."""
    return duration(minute) if minute else "loading"


def _asked(cook: Cook, display: Display) -> str:
    """The cook, as it was understood."""
    parts = [
        f"{count(cook.pieces, cook.cut.name)} of {format_mass(cook.mass_kg, display)}"
        + (" each" if cook.pieces > 1 else ""),
        f"{cook.pit.kind} pit at {format_temperature(cook.setpoint_c, display)}",
    ]
    if cook.wrap:
        parts.append(f"wrapped in {cook.wrap.material} at {format_temperature(cook.wrap.at_core_c, display)}")
    least = format_temperature(cook.until_core_c, display)
    parts.append(f"until tender, at {least} or more:" if cook.tender_minutes else f"to {least} in the core:")
    return ", ".join(parts)


def _events(cook: Cook, found: Estimate, display: Display) -> list[str]:
    """Wrap, stall, loss and rest, a sentence each."""
    lines = []
    if wrap := found.wrap_minutes:
        lines.append(f"Wrap after {duration(wrap.p50)} ({duration(wrap.p10)} to {duration(wrap.p90)}).")
    if stall := found.stall:
        when = f"from {duration(stall.from_minute)} to {duration(stall.to_minute)}"
        lines.append(f"The core hardly rises {when}, near {format_temperature(stall.core_c, display)}.")
    if cook.tender_minutes:
        low, high = (
            format_temperature(c, display) for c in (found.pulled_core_c.p10, found.pulled_core_c.p90)
        )
        lines.append(f"The core stands between {low} and {high} by then.")
    if thin := found.thin_end:
        lines.append(_thin(thin, cook, display))
    loss = found.loss_percent
    lines.append(
        f"It loses {loss.p50:.0f} % of its mass in juice and fat ({loss.p10:.0f} to {loss.p90:.0f} %)."
    )
    if (peak := found.peak_after_pull_c) and cook.rest:
        rest = f"{duration(cook.rest.minutes)} of rest in the {cook.rest.place}"
        lines.append(f"In {rest} the core peaks at {format_temperature(peak.p50, display)}.")
    return lines


def _thin(thin: ThinEnd, cook: Cook, display: Display) -> str:
    """What the thin end does while the thick one decides."""
    there = (
        f"is at {format_temperature(cook.until_core_c, display)} after {duration(thin.minutes.p50)} and "
        if thin.minutes
        else ""
    )
    return (
        f"That is the thick end: probe it. The thin end, were it by itself, {there}"
        f"stands at {format_temperature(thin.core_c.p50, display)} when the thick one is there."
    )


def _but(warning: str | None) -> str:
    """A warning at the end of a sentence."""
    return f"; but {warning}" if warning else ""
