"""The files of a new house: commented, in the house's own units, with what was answered in them."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence

from board.house.founding import Dish, NewHouse, NewPit, Times, in_units, offered, piece_of, setpoints_of
from board.house.library import library_cuts

FIRST_OF_ALL = "house.toml"
_EMPTY = {
    "orders.csv": "order,name,collect,item,portions,cut,pieces,note\n",
    "sales.csv": "day,service,item,sold,left,sold_out_at\n",
}


def house_files(house: NewHouse) -> Mapping[str, str]:
    """Every file of the house by its name, the one to read first at the head."""
    return {
        FIRST_OF_ALL: _house(house),
        "pits.toml": _pits(house),
        "holds.toml": _holds(house),
        "cuts.toml": _cuts(house),
        "items.toml": _items(house),
        "crew.toml": _crew(house),
        "services.toml": _services(house),
        **_EMPTY,
    }


def slug(name: str) -> str:
    """A folder's name from a house's."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40].strip("-")


def ids(names: Sequence[str], otherwise: str) -> dict[str, str]:
    """An id for each name: its letters and digits, with a number behind it where two would be the same."""
    found: dict[str, str] = {}
    for name in names:
        base = slug(name)[:30].strip("-") or otherwise
        free = (base, *(f"{base}-{n}" for n in range(2, len(names) + 2)))
        found[name] = next(each for each in free if each not in found.values())
    return found


def _quoted(text: str) -> str:
    """A TOML basic string; names have no control characters (TOML 1.0, string)."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _house(house: NewHouse) -> str:
    display, walk_in = house.display, in_units(offered()["holds"]["walk_in"], house)
    return f"""\
# The house as a whole. Every quantity is written with its unit: "590 ft", "180 m".
name = {_quoted(house.name)}
zone = {_quoted(house.zone)}
altitude = "0 m"               # height above the sea; water boils cooler higher up
jurisdiction = "{house.jurisdiction}"            # whose rules: us, eu or uk; the local code decides
chance = "90 %"                # how surely each service is to be ready when it opens
wage_per_hour = 0.0            # an hour of a person, in your money; 0 leaves labour out of a plan's cost
walk_in = "{walk_in}"            # raw meat the walk-in keeps cold; a guess, put it right

[display]                      # what the screens show; files may use any unit
mass = "{display.mass}"                    # kg or lb
temperature = "{display.temperature}"           # degC or degF
volume = "{display.volume}"                   # L or gal
clock_hours = {display.clock_hours}               # 24 or 12
"""


def _pits(house: NewHouse) -> str:
    head = """\
# One table a pit. Kinds: offset, cabinet, rotisserie, direct, oven. What a pit does not say
# (setpoint, warm_up, fuel, fuel_rate, tend) comes from its kind until you know better.
"""
    names = ids([pit.name for pit in house.pits], "pit")
    return head + "".join(f"\n[{names[pit.name]}]\n{_pit(house, pit)}" for pit in house.pits)


def _pit(house: NewHouse, pit: NewPit) -> str:
    return f"""\
name = {_quoted(pit.name)}
kind = "{pit.kind.value}"
area = {_quoted(pit.area)}  # cooking area over all shelves; two sides such as "24 x 36 in" work too
# setpoint = [...]             # lowest and highest it holds; its kind's: {setpoints_of(house, pit.kind)}
# takes = ["chicken-half"]     # the only cuts that go in; leave out for any
"""


def _holds(house: NewHouse) -> str:
    told = offered()["holds"]
    return f"""\
# Places off the fire. Without a setpoint it is a bench to rest on; with one, a hot hold.
# Nobody asked you about these yet: put their sizes right.
[bench]
name = "Bench"
area = "{in_units(told["bench"], house)}"

[hot-box]
name = "Hot box"
area = "{in_units(told["box"], house)}"
setpoint = "{in_units(told["setpoint"], house)}"
"""


def _cuts(house: NewHouse) -> str:
    names = ", ".join(library_cuts())
    head = f"""\
# A cut starts from the library's cut of the same name and overrides it: mass, pit, pull, wrap, rest, prep.
# Cuts you leave out are there all the same, as the library has them:
# {names}
"""
    return head + "".join(
        f"\n[{dish.cut}]\n"
        + (f"mass = {_quoted(dish.piece)}\n" if dish.piece else f'# mass = "{piece_of(house, dish)}"\n')
        for dish in house.dishes
    )


def _items(house: NewHouse) -> str:
    head = """\
# What the guest buys: `portion` of served meat, or `portions_a_piece` for what is sold by the piece.
# Write a price to have a sell-out weighed against waste.
"""
    names = ids([dish.name for dish in house.dishes], "item")
    return head + "".join(f"\n[{names[dish.name]}]\n{_item(names[dish.name], dish)}" for dish in house.dishes)


def _item(id: str, dish: Dish) -> str:
    sold = (
        f"portion = {_quoted(dish.portion)}"
        if dish.portion
        else f"portions_a_piece = {dish.portions_a_piece}"
    )
    text = f'name = {_quoted(dish.name)}\ncut = "{dish.cut}"\n{sold}\n# price = 0.0\n'
    finish = offered()["sold"][dish.cut].get("finish")
    if finish:
        work = offered()["finish"]["work"]
        hands = f'{{ fixed = "{work["fixed"]}", each = "{work["each"]}" }}'
        text += (
            f'\n[[{id}.finish]]  # work between the hold and the plate\nwhat = "{finish}"\nwork = {hands}\n'
        )
    return text


def _crew(house: NewHouse) -> str:
    people = ids(house.people, "cook")
    text = "# Who works, and when. Shifts repeat by RFC 5545 rules of days; `lasts` is true hours.\n"
    text += "# An id, as in [people.ann], stays once the ledger knows it; the name may change.\n"
    for name, id in people.items():
        text += f"\n[people.{id}]\nname = {_quoted(name)}\n"

    def working(shift: Times) -> str:
        listed = ", ".join(f'"{people[person]}"' for person in shift.people)
        return f"people = [{listed}]\n"

    return text + _tables(house.shifts, "shift", "shifts.", working)


def _services(house: NewHouse) -> str:
    items = ids([dish.name for dish in house.dishes], "item").values()

    def promises(service: Times) -> str:
        id = ids([each.name for each in house.services], "service")[service.name]
        lines = "".join(f"{item} = 0\n" for item in items)
        head = f"[{id}.promises]  # portions on a usual day; 0 leaves it to what is promised on the board"
        return f"\n{head}\n{lines}"

    head = (
        "# When portions must be ready, and how many. What repeats has a `rule`, a single service a date.\n"
    )
    return head + _tables(house.services, "service", "", promises)


def _tables(times: Iterable[Times], otherwise: str, above: str, more: Callable[[Times], str]) -> str:
    """The tables of what repeats, each with what only it has."""
    listed = list(times)
    named = ids([each.name for each in listed], otherwise)
    return "".join(
        f"\n[{above}{named[each.name]}]\nname = {_quoted(each.name)}\n"
        f'at = "{each.at}"\nlasts = {_quoted(each.lasts)}\n'
        f'rule = "FREQ=WEEKLY;BYDAY={",".join(day[:2].upper() for day in each.days)}"\n{more(each)}'
        for each in listed
    )
