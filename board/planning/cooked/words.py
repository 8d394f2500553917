"""What is said of how a load is cooked safe as planned: in its account, and as a caution where it is not."""

import math
from collections.abc import Iterator, Mapping, Sequence

from board.house.degrees import is_fahrenheit, to_fahrenheit
from board.house.model import Display, Handling, House
from board.house.wording import clock_time, count, duration, in_list
from board.planning.plan import Cooked, CookedBy, PlannedLoad

_NOISE = 1e-6  # of turning one scale into the other
_MEAT = {
    Handling.INTACT_ROAST: "a whole roast",
    Handling.INTACT_CUT: "whole meat",
    Handling.INJECTED: "injected meat",
    Handling.GROUND: "ground meat",
    Handling.POULTRY: "poultry",
    Handling.STUFFED: "stuffed meat",
    Handling.CURED_HAM: "cured ham",
}


def said(house: House, load: PlannedLoad, cooked: Cooked) -> str:
    """How a load is cooked safe, in a sentence or three."""
    if cooked.by is CookedBy.PULL:
        return f"Cooked at its pull: {_rule(house, cooked)}."
    if cooked.by is CookedBy.REST:
        return f"Relies on its rest: {_by_rest(house, load, cooked)}"
    return f"Not cooked safe as planned: {_not_met(house, load, cooked)}"


def reading(house: House, load: PlannedLoad, cooked: Cooked) -> str:
    """The reading that shows a load cooked that relies on its rest, in a sentence."""
    meat = count(load.pieces, house.cuts[load.cut].name)
    return f"Before serving {meat}: the core must {_read(house, cooked)}."


def not_met(house: House, loads: Sequence[PlannedLoad], cooked: Mapping[str, Cooked]) -> Iterator[str]:
    """A caution for each load that does not meet its rule as planned, the first on the pit first."""
    for load in sorted(loads, key=lambda load: (load.load_at, load.id)):
        found = cooked.get(load.id)
        if found is not None and found.by is CookedBy.NOT_MET:
            meat = f"{count(load.pieces, house.cuts[load.cut].name)} for {clock_time(load.needed_at, house)}"
            yield f"{meat}, not cooked safe as planned: {_not_met(house, load, found)}"


def never(house: House, load: PlannedLoad, cooked: Cooked) -> str:
    """What is doubtful of a pull that no rest or hold makes good."""
    cure = f"; pull at {_printed(house, cooked.pull_c, cooked.pull_f)}" if cooked.pull_c is not None else ""
    return (
        f"pulled at {_pull(house, load)}, while {_rule(house, cooked)}: "
        f"no rest or hold here surely does that{cure}"
    )


def degrees(celsius: float, display: Display) -> str:
    """A limit in the house's scale, in °C to the tenth and never below itself: `62.8 °C`, `145 °F`."""
    if is_fahrenheit(display):
        return f"{math.ceil(to_fahrenheit(celsius) - _NOISE):d} °F"
    return f"{math.ceil(celsius * 10 - _NOISE) / 10:g} °C"


def _printed(house: House, celsius: float, fahrenheit: float | None) -> str:
    """The core a rule asks, as it prints it in the house's scale."""
    if is_fahrenheit(house.display) and fahrenheit is not None:
        return f"{fahrenheit:g} °F"
    return degrees(celsius, house.display)


def stay(minutes: float) -> str:
    """How long a core must stay: `15 s`, `134 s`, `3 min`; nothing for no time at all."""
    seconds = round(60.0 * minutes)
    return duration(minutes) if seconds % 60 == 0 else f"{seconds} s"


def _rule(house: House, cooked: Cooked) -> str:
    """`poultry is cooked at 74 °C`, `injected meat is cooked after 3 min at 63 °C or more`."""
    meat, core = _MEAT[Handling(cooked.rule)], _printed(house, cooked.stay_c, cooked.stay_f)
    meat += " in a pit too cool for the roast chart" if cooked.cool_pit else ""
    how = f"after {stay(cooked.stay_minutes)} at {core} or more" if cooked.stay_minutes else f"at {core}"
    return f"{meat} is cooked {how}"


def _by_rest(house: House, load: PlannedLoad, cooked: Cooked) -> str:
    """What the rest has to do, where and how surely, and the reading to take before serving."""
    rest = duration(math.ceil(cooked.rest_minutes or 0.0))
    return (
        f"pulled at {_pull(house, load)}, and {_rule(house, cooked)}. It needs {rest} "
        f"{_where(house, load, cooked)} for that, and gets there {_times(cooked.when_served)}. "
        f"Before it is served its core must {_read(house, cooked)}."
    )


def _read(house: House, cooked: Cooked) -> str:
    """`read 63 °C or more, and again 3 min later`."""
    later = f", and again {stay(cooked.stay_minutes)} later" if cooked.stay_minutes >= 1.0 else ""
    return f"read {_printed(house, cooked.stay_c, cooked.stay_f)} or more{later}"


def _not_met(house: House, load: PlannedLoad, cooked: Cooked) -> str:
    """How far short of its rule it falls, and what would do."""
    share = cooked.when_served
    surely = f"its rest does that only {_times(share)}" if share else "its rest never does that"
    cure = f" Pull at {_printed(house, cooked.pull_c, cooked.pull_f)}." if cooked.pull_c is not None else ""
    return f"pulled at {_pull(house, load)}, and {_rule(house, cooked)}; {surely}.{cure}"


def _pull(house: House, load: PlannedLoad) -> str:
    return degrees(house.cuts[load.cut].end_core_c, house.display)


def _where(house: House, load: PlannedLoad, cooked: Cooked) -> str:
    """Where it rests until the rule is met."""
    bench, held = (
        in_list([house.holds[id].name for id in (ids or "").split(", ") if id in house.holds])
        for ids in (load.bench, load.hold)
    )
    places = [f"on {bench}" if bench else "at rest"]
    if held and (cooked.rest_minutes or 0.0) > load.rest_minutes:
        places.append(f"in {held}")
    return " and ".join(places)


def _times(share: float) -> str:
    """A chance; never a certainty."""
    return f"{min(99, round(100 * share))} times in 100"
