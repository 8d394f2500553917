"""What a house's finished cooks teach of a cut on a pit, in plain sentences."""

from typing import TYPE_CHECKING

from board.house.degrees import is_fahrenheit, shown_step
from board.house.model import Display
from board.house.wording import count, short_day

if TYPE_CHECKING:
    from board.cooking.learning.lesson import Lesson

AT_ITS_DIAL_K = 1.0
AS_USUAL = 0.02  # a ratio nearer to one is not worth a word
SHOWN = 3  # of the cooks left out


def sentences(of: "Lesson", display: Display) -> list[str]:
    """The lesson as a cook would say it."""
    if not of.cooks:
        nothing = f"No finished cook teaches anything of {of.pit} yet: the span is that of any {of.kind} pit."
        return [nothing, *_left_out(of)]
    lines = [f"Learned from {_from(of)}: {_dial(of, display)}; {_heat(of)}."]
    if of.evenness is not None:
        apart = _degrees(of.evenness.kelvin.p50, display)
        told = count(of.evenness.cooks, "cook")
        lines.append(f"Its hottest and its coldest place lie about {apart} apart, from {told}.")
    return [*lines, *_left_out(of)]


def _from(of: "Lesson") -> str:
    """How many cooks it is from."""
    if not of.cooks_of_pit:
        return f"{count(of.cooks, 'cook')}, none of them on {of.pit} and {of.cooks_of_cut} of {of.cut}"
    here = f"{count(of.cooks_of_pit, 'cook')} on {of.pit}, {of.cooks_of_both} of {of.cut}"
    elsewhere = of.cooks - of.cooks_of_pit
    return f"{here}, and {elsewhere} on other pits" if elsewhere else here


def _dial(of: "Lesson", display: Display) -> str:
    """How far the air lies from the setpoint."""
    if not of.is_dial_told:
        return f"how far {of.pit} runs from its dial, times alone do not tell (read its air)"
    middle = of.offset_c.p50
    if abs(middle) < AT_ITS_DIAL_K:
        return f"{of.pit} runs at its dial"
    return f"{of.pit} runs {_degrees(abs(middle), display)} {'over' if middle > 0 else 'under'} its dial"


def _heat(of: "Lesson") -> str:
    """How it heats, with its range."""
    ratio = of.h_ratio
    within = f"({_harder(ratio.p10)} to {_harder(ratio.p90)})"
    if abs(ratio.p50 - 1.0) < AS_USUAL:
        return f"it heats as {of.kind} pits usually do {within}"
    return f"it heats {_harder(ratio.p50)} than {of.kind} pits usually do {within}"


def _harder(ratio: float) -> str:
    """A ratio of heat transfer in words."""
    return f"{round(100 * abs(ratio - 1.0))} % {'harder' if ratio >= 1.0 else 'softer'}"


def _left_out(of: "Lesson") -> list[str]:
    """The cooks that were not counted, and why; the first few of them."""
    shown = of.left_out[:SHOWN]
    called = [of.cut_names.get(each.cook.cut, each.cook.cut) for each in shown]
    lines = [
        f"Left out: {name} of {short_day(each.cook.day)}: {each.why}."
        for name, each in zip(called, shown, strict=True)
    ]
    more = len(of.left_out) - len(shown)
    return [*lines, f"And {more} more left out."] if more else lines


def _degrees(kelvin: float, display: Display) -> str:
    """A difference of temperature in the house's degrees."""
    letter = "F" if is_fahrenheit(display) else "C"
    return f"{round(shown_step(kelvin, display))} °{letter}"
