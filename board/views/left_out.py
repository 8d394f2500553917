"""Readings left out of the sum, in words: what was read, and why it does not count."""

from collections.abc import Iterator

from board.cooking.readings.left_out import LeftOut, Why
from board.house.degrees import to_fahrenheit
from board.house.model import Display
from board.house.units import format_temperature
from board.ledger.state import Entry, ReadingKey
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.facts import Facts, all_loads, load_state
from board.views.pit_history import pit_of
from board.views.progress import Revised, left_out_of

_AGAIN = "probe the middle again"
_SAYS = {
    Why.NO_READING: "nothing in a kitchen reads that",
    Why.BEFORE: "taken before it went on",
    Why.AFTER: "taken after it came off",
    Why.AHEAD: "its time has not come",
    Why.CLOCK: "a wrong clock wrote its time, and nobody has put that right",
    Why.TWICE: "entered twice",
    Why.TWO_AT_ONCE: "two readings at one moment; the other fits the rest",
    Why.NOT_THE_START: "not the core it went on with",
    Why.PIT_AIR: "near the pit's air: the probe was out of the meat",
    Why.ROOM_AIR: "near the room's air: the probe was out of the meat",
    Why.ABOVE_BOILING: "above boiling: no wet core is so hot",
    Why.BELOW_START: "colder than it went on",
    Why.TOO_FAST: f"no such piece warms so fast: the probe may touch bone; {_AGAIN}",
    Why.NOT_COLDEST: "lower ones follow: the probe was not in the coldest place",
    Why.JUMP: f"a jump no core makes: the probe may touch bone; {_AGAIN}",
    Why.DROP: f"a core on the pit does not fall so far; {_AGAIN}",
    Why.STUCK: "the same digits while it must rise: the probe may be stuck",
}


def why_left_out(one: LeftOut, display: Display) -> str:
    """Why a reading does not count, in a few words; in the house's degrees."""
    if one.why is Why.FAHRENHEIT and one.meant_c is not None:
        return f"it reads like °F taken for °C: {one.core_c:.0f} °F is {one.meant_c:.0f} °C"
    if one.meant_c is not None:
        typed, meant = to_fahrenheit(one.core_c), format_temperature(one.meant_c, display)
        same = f"{typed:.0f} °C"
        return f"it reads like °C taken for °F: {same}" + ("" if meant == same else f" is {meant}")
    return _SAYS[one.why]


def says_left_out(one: LeftOut, display: Display) -> str:
    """A reading that does not count, with its reason, as a line says it."""
    return (
        f"{format_temperature(one.core_c, display)} is left out of the estimate: {why_left_out(one, display)}"
    )


def all_left_out(revised: Revised | None) -> dict[ReadingKey, str]:
    """Every load's readings that do not count, by their key, each with its reason."""
    return {key: why for load in revised or {} for key, why in left_out_of(revised, load).items()}


def newly_left_out(facts: Facts, revised: Revised, known: Revised) -> str:
    """The last reading by hand that has come to be left out since, in a sentence; empty for none."""
    why = all_left_out(revised)
    fresh = why.keys() - all_left_out(known).keys()
    found = [(seq, what, celsius) for seq, what, celsius in _read(facts) if seq in fresh]
    if not found:
        return ""
    seq, what, celsius = max(found)
    return f"{what}: {names.degrees(facts.house, celsius)} not counted: {why[seq]}"


def why_not_counted(facts: Facts, entry: Entry) -> str:
    """Why a new reading of a load or a pit is left out of what cooks; empty where it counts.

    Only the loads it bears on are estimated.
    """
    from board.views.revising import is_cooking, revised_loads  # noqa: PLC0415 - it asks for these words

    pairs = [
        (plan, load)
        for plan, load in all_loads(facts)
        if is_cooking(facts, plan, load) and _bears_on(facts, plan, load, entry)
    ]
    return all_left_out(revised_loads(facts, pairs)).get(entry.seq, "")


def _bears_on(facts: Facts, plan: Plan, load: PlannedLoad, entry: Entry) -> bool:
    """Whether a reading is of a load, or of the pit it is on."""
    if entry.data.get("day"):
        return (plan.day.isoformat(), load.id) == (entry.data["day"], entry.subject)
    return pit_of(facts, load, load_state(facts, load, plan.day)) == entry.subject


def _read(facts: Facts) -> Iterator[tuple[int, str, float]]:
    """Every reading by hand of a load and of a pit that the views know: its entry, of what, and °C."""
    for plan, load in all_loads(facts):
        for r in facts.readings.get((plan.day, load.id), ()):
            if r.probe is None:
                yield r.seq, names.the_pieces(facts.house, load), r.temperature_c
    for pit, readings in facts.air.items():
        name = names.pit_name(facts.house, pit)
        yield from ((r.seq, name, r.temperature_c) for r in readings if r.probe is None)
