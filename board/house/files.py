"""Reading a house: a folder of TOML and CSV files, each key with its unit, told clearly when wrong."""

import re
from dataclasses import replace
from math import inf
from pathlib import Path

from board.errors import HouseFileError
from board.house.calendar import named_zone
from board.house.folder import NEEDED
from board.house.model import JURISDICTIONS, Checks, Display, House
from board.house.read_calendar import read_crew, read_services
from board.house.read_containers import read_containers
from board.house.read_cooks import read_cooks
from board.house.read_cuts import read_cuts, read_items
from board.house.read_orders import read_orders, read_sales
from board.house.read_pits import read_holds, read_pits
from board.house.read_probes import read_keeping, read_probes
from board.house.read_recipes import read_recipes
from board.house.read_scales import read_scales
from board.house.ringing import read_alarms
from board.house.tables import Table, read_toml
from board.house.text_file import is_there

NIGHT = "night.toml"  # what happened in the demo house; only the demo reads it
MOST_MONEY = 1e6  # for one portion, one minute or one fire
# what a house may weigh itself; anything it leaves out stands in planning/data/costs.toml
WEIGHED = (
    "lost_portion",
    "late_portion",
    "late_minute",
    "held_hour",
    "lighting",
    "change_over",
    "moved_load",
)
LOWEST_M, HIGHEST_M = -430.0, 5100.0  # the shore of the Dead Sea, and the highest town


def read_house(folder: Path) -> House:
    """The house its files describe.

    Raises HouseFileError, in one line that names the file and the key, what was found and what is allowed.
    """
    _have_needed(folder)
    settings = read_toml(folder / "house.toml")
    zone = settings.text("zone")
    named_zone(zone)
    containers = read_containers(_optional(folder, "containers.toml"))
    recipes = read_recipes(_optional(folder, "recipes.toml"), containers)
    cuts = read_cuts(_optional(folder, "cuts.toml"), recipes)
    items = read_items(read_toml(folder / "items.toml"), cuts, recipes)
    pits = read_pits(read_toml(folder / "pits.toml"), cuts)
    hold_file = _optional(folder, "holds.toml")
    holds = read_holds(hold_file) if hold_file else {}
    crew = _optional(folder, "crew.toml")
    people, shifts = read_crew(crew) if crew else ({}, ())
    services = read_services(read_toml(folder / "services.toml"), items)
    house = House(
        id=settings.text("id", _slug(settings.text("name"))),
        name=settings.text("name"),
        zone=zone,
        altitude_m=_altitude(settings),
        chance=_chance(settings),
        display=_display(settings.table("display")),
        wage_per_hour=settings.number("wage_per_hour", 0.0),
        pits=pits,
        holds=holds,
        walk_in_kg=settings.mass_or_none_kg("walk_in", inf),
        cuts=cuts,
        items=items,
        recipes=recipes,
        people=people,
        shifts=shifts,
        services=services,
        weighing=_weighing(settings.table("weigh")),
        containers=containers,
        checks=_checks(settings.table("checks")),
        jurisdiction=settings.one_of("jurisdiction", JURISDICTIONS, "us"),
        scales=read_scales(settings.table("scales")),
        alarms=read_alarms(settings.table("alarms")),
        probes=read_probes(_optional(folder, "probes.toml"), pits, holds),
        keeping=read_keeping(settings.table("feed")),
        signs_with_pin=_signs_with_pin(settings.table("signing")),
    )
    settings.done()
    return _with_lists(folder, house)


def _with_lists(folder: Path, house: House) -> House:
    """The house with the lists that grow from day to day: what is ordered, was sold and was cooked."""
    orders, sales, cooks = (folder / f"{name}.csv" for name in ("orders", "sales", "cooks"))
    return replace(
        house,
        orders=read_orders(orders, house.zone, house.items, house.cuts) if is_there(orders) else (),
        sales=read_sales(sales) if is_there(sales) else (),
        cooks=read_cooks(cooks, house.cuts, house.pits) if is_there(cooks) else (),
    )


def _have_needed(folder: Path) -> None:
    try:
        is_there = folder.is_dir()
    except OSError as error:
        raise HouseFileError(
            f"{folder}: cannot be read ({error.strerror}), allowed a folder of house files"
        ) from None
    if not is_there:
        raise HouseFileError(
            f"{folder}: found no folder, allowed a folder of house files; start one with house new"
        )
    for name in NEEDED:
        if not (folder / name).is_file():
            raise HouseFileError(
                f"{name}: found no such file in {folder}, allowed a house with {', '.join(NEEDED)}"
            )


def _optional(folder: Path, name: str) -> Table | None:
    return read_toml(folder / name) if is_there(folder / name) else None


def _altitude(settings: Table) -> float:
    metres = settings.length_m("altitude", 0.0)
    if not LOWEST_M <= metres <= HIGHEST_M:
        raise settings.refuse("altitude", "a height above the sea up to 5100 m, such as 180 m or 600 ft")
    return metres


def _chance(settings: Table) -> float:
    chance = settings.fraction("chance", 0.9)
    if not 0 < chance < 1:
        raise settings.refuse("chance", "a chance above 0 % and below 100 %, such as 90 %")
    return chance


def _display(given: Table | None) -> Display:
    if given is None:
        return Display()
    clock = given.whole("clock_hours", 24)
    if clock not in {12, 24}:
        raise given.refuse("clock_hours", "12 or 24")
    display = Display(
        mass=given.one_of("mass", ("kg", "lb"), "kg"),
        temperature=given.one_of("temperature", ("degC", "degF"), "degC"),
        volume=given.one_of("volume", ("L", "gal"), "L"),
        clock_hours=clock,
    )
    given.done()
    return display


def _checks(given: Table | None) -> Checks:
    """How often the house reads its holds, and whether its walk-in each shift."""
    usual = Checks()
    if given is None:
        return usual
    checks = Checks(
        hot_minutes=given.minutes_above_nought("hot", usual.hot_minutes),
        cold_minutes=given.minutes_above_nought("cold", usual.cold_minutes),
        walk_in=given.flag("walk_in", usual.walk_in),
    )
    given.done()
    return checks


def _signs_with_pin(given: Table | None) -> bool:
    """Whether who signs shows by a PIN who they are."""
    if given is None:
        return False
    pin = given.flag("pin", False)
    given.done()
    return pin


def _weighing(given: Table | None) -> dict[str, float]:
    """What the house itself says each thing a plan gives up is worth, in its money."""
    if given is None:
        return {}
    found = {key: given.number(key, high=MOST_MONEY) for key in WEIGHED if given.has(key)}
    given.done()
    if found.get("lost_portion") == 0:
        raise given.refuse("lost_portion", "more than 0: a portion that is worth nothing is never cooked")
    return found


def _slug(name: str) -> str:
    """An id from a name: lower-case letters, digits and dashes."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "house"
