"""Readings left out of the sum, in words: what was read, and why it does not count."""

from board.cooking.readings.reasons import LeftOut, Why
from board.house.model import Display
from board.house.units import format_temperature

AGAIN = "probe the middle again"
_SAYS = {
    Why.NO_READING: "nothing in a kitchen reads that",
    Why.BEFORE: "taken before it went on",
    Why.AFTER: "taken after it came off",
    Why.AHEAD: "its time has not come",
    Why.TWICE: "entered twice",
    Why.TWO_AT_ONCE: "two readings at one moment; the other fits the rest",
    Why.NOT_THE_START: "not the core it went on with",
    Why.PIT_AIR: "near the pit's air: the probe was out of the meat",
    Why.ROOM_AIR: "near the room's air: the probe was out of the meat",
    Why.ABOVE_BOILING: "above boiling: no wet core is so hot",
    Why.BELOW_START: "colder than it went on",
    Why.TOO_FAST: f"no such piece warms so fast: the probe may touch bone; {AGAIN}",
    Why.NOT_COLDEST: "lower ones follow: the probe was not in the coldest place",
    Why.JUMP: f"a jump no core makes: the probe may touch bone; {AGAIN}",
    Why.DROP: f"a core on the pit does not fall so far; {AGAIN}",
    Why.STUCK: "the same digits while it must rise: the probe may be stuck",
}


def why_left_out(one: LeftOut, display: Display) -> str:
    """Why a reading does not count, in a few words; in the house's degrees."""
    if one.meant_c is None:
        return _SAYS[one.why]
    meant = format_temperature(one.meant_c, display)
    if one.why is Why.FAHRENHEIT:
        return f"it reads like °F taken for °C: {one.core_c:.0f} °F is {one.meant_c:.0f} °C"
    typed = one.core_c * 1.8 + 32.0
    return f"it reads like °C taken for °F: {typed:.0f} °C, here {meant}"


def says_left_out(one: LeftOut, display: Display) -> str:
    """A reading that does not count, with its reason, as a line says it."""
    return (
        f"{format_temperature(one.core_c, display)} is left out of the estimate: {why_left_out(one, display)}"
    )
