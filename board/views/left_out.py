"""Readings left out of the sum, in words: what was read, and why it does not count."""

from typing import TYPE_CHECKING

from board.house.model import Display
from board.house.units import format_temperature
from board.views import names
from board.views.facts import Facts, all_loads
from board.views.progress import Revised, left_out_of

if TYPE_CHECKING:
    from board.cooking.readings.reasons import LeftOut

_AGAIN = "probe the middle again"
_SAYS = {
    "no reading": "nothing in a kitchen reads that",
    "before loading": "taken before it went on",
    "after the pull": "taken after it came off",
    "in the future": "its time has not come",
    "entered twice": "entered twice",
    "two at one moment": "two readings at one moment; the other fits the rest",
    "not the start": "not the core it went on with",
    "pit air": "near the pit's air: the probe was out of the meat",
    "room air": "near the room's air: the probe was out of the meat",
    "above boiling": "above boiling: no wet core is so hot",
    "below the start": "colder than it went on",
    "too fast": f"no such piece warms so fast: the probe may touch bone; {_AGAIN}",
    "not the coldest place": "lower ones follow: the probe was not in the coldest place",
    "jump": f"a jump no core makes: the probe may touch bone; {_AGAIN}",
    "drop": f"a core on the pit does not fall so far; {_AGAIN}",
    "stuck": "the same digits while it must rise: the probe may be stuck",
}


def why_left_out(one: "LeftOut", display: Display) -> str:
    """Why a reading does not count, in a few words; in the house's degrees."""
    if one.why == "fahrenheit as celsius" and one.meant_c is not None:
        return f"it reads like °F taken for °C: {one.core_c:.0f} °F is {one.meant_c:.0f} °C"
    if one.meant_c is not None:
        typed, meant = one.core_c * 1.8 + 32.0, format_temperature(one.meant_c, display)
        same = f"{typed:.0f} °C"
        return f"it reads like °C taken for °F: {same}" + ("" if meant == same else f" is {meant}")
    return _SAYS[one.why]


def says_left_out(one: "LeftOut", display: Display) -> str:
    """A reading that does not count, with its reason, as a line says it."""
    return (
        f"{format_temperature(one.core_c, display)} is left out of the estimate: {why_left_out(one, display)}"
    )


def all_left_out(revised: Revised | None) -> dict[int, str]:
    """Every load's readings that do not count, by their entry's number, each with its reason."""
    return {seq: why for load in revised or {} for seq, why in left_out_of(revised, load).items()}


def newly_left_out(facts: Facts, revised: Revised, known: Revised) -> str:
    """The last reading that has come to be left out since, in a sentence; empty where there is none."""
    fresh = all_left_out(revised).keys() - all_left_out(known).keys()
    found = [
        (reading.seq, load, reading.temperature_c)
        for plan, load in all_loads(facts)
        for reading in facts.readings.get((plan.day, load.id), ())
        if reading.seq in fresh
    ]
    if not found:
        return ""
    seq, load, celsius = max(found, key=lambda one: one[0])
    degrees = names.degrees(facts.house, celsius)
    return f"{names.the_pieces(facts.house, load)}: {degrees} not counted: {all_left_out(revised)[seq]}"
