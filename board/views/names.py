"""The house's names for things, as they are said on a screen; an unknown id is said as it is."""

from collections.abc import Iterable, Mapping
from datetime import datetime, time
from typing import Protocol

from board.house.model import House
from board.house.units import format_temperature
from board.house.wording import clock_time, count, in_list, plural, time_shown
from board.planning.dues import WHOLE
from board.planning.plan import PlannedLoad
from board.views.text import inert


class _Named(Protocol):
    @property
    def name(self) -> str: ...


def _name(things: Mapping[str, _Named], id: str | None) -> str:
    if id is None:
        return ""
    return inert(things[id].name if id in things else id)


def pit_name(house: House, id: str | None) -> str:
    """A pit's name."""
    return _name(house.pits, id)


def person_name(house: House, id: str | None) -> str:
    """A person's name, or that of a probe that read by itself."""
    return _name(house.people if id in house.people else house.probes, id)


def item_name(house: House, id: str) -> str:
    """An item's name; whole pieces ordered ahead are called by their cut."""
    cut = id.removeprefix(WHOLE)
    if id not in house.items and id.startswith(WHOLE) and cut in house.cuts:
        return f"whole {cut_name(house, cut)}"
    return _name(house.items, id)


def portions(house: House, item: str, number: int) -> str:
    """Portions of an item as they are ordered: `40 pulled pork`, `2 whole hams`."""
    name = item_name(house, item)
    return count(number, name) if item.startswith(WHOLE) else f"{number} {name}"


def own_load(number: int, of: str = "") -> str:
    """Pieces split off: `1 goes in a load of its own`, `2 of them go in a load of their own`."""
    verb, whose = ("goes", "its") if number == 1 else ("go", "their")
    return f"{number} {of}{verb} in a load of {whose} own"


def recipe_name(house: House, id: str) -> str:
    """A recipe's name."""
    return _name(house.recipes, id)


def cut_name(house: House, id: str) -> str:
    """A cut's name."""
    return _name(house.cuts, id)


def spot_name(house: House, pit_id: str, zone_id: str | None) -> str:
    """Where on a pit a load lies: `North`, or `South, top` where the pit has zones."""
    name = zone_name(house, pit_id, zone_id)
    return f"{pit_name(house, pit_id)}, {name}" if name else pit_name(house, pit_id)


def zone_name(house: House, pit_id: str, zone_id: str | None) -> str:
    """A zone's name; nothing where the pit has no such zone."""
    pit = house.pits.get(pit_id)
    return next((inert(zone.name) for zone in (pit.zones if pit else ()) if zone.id == zone_id), "")


def load_spot(house: House, load: PlannedLoad) -> str:
    """Where on its pit a load is planned."""
    return spot_name(house, load.pit, load.zone)


def place_name(house: House, id: str) -> str:
    """The name of a pit, a bench or a hold."""
    return pit_name(house, id) if id in house.pits else _name(house.holds, id)


def pieces(house: House, load: PlannedLoad) -> str:
    """A load as it is counted: `12 briskets`."""
    return of_cut(house, load.cut, load.pieces)


def of_cut(house: House, cut: str, number: int) -> str:
    """So many pieces of a cut: `1 brisket`."""
    return count(number, cut_name(house, cut))


def all_pieces(house: House, loads: Iterable[PlannedLoad]) -> str:
    """Several loads counted by cut: `4 turkeys and 61 chicken halves`."""
    counts: dict[str, int] = {}
    for load in loads:
        counts[load.cut] = counts.get(load.cut, 0) + load.pieces
    return listed([of_cut(house, cut, number) for cut, number in counts.items()])


def the_pieces(house: House, load: PlannedLoad) -> str:
    """A load already spoken of: `the briskets`."""
    name = cut_name(house, load.cut)
    return f"the {name if load.pieces == 1 else plural(name)}"


def degrees(house: House, celsius: float) -> str:
    """A temperature in the house's degrees: `118°`."""
    return format_temperature(celsius, house.display, unit=False)


def clock(house: House, moment: datetime) -> str:
    """A time of day on the house's clock."""
    return clock_time(moment, house)


def example_clock(house: House) -> str:
    """A time of day as somebody may type it there: `05:30`, or `5:30 am`."""
    return time_shown(time(5, 30), house.display.clock_hours)


def listed(names: list[str]) -> str:
    """Names in a sentence."""
    return in_list([name for name in names if name])
