"""A house in the making: what it is asked, what it is offered to start from, and what it may answer."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from board.errors import BoardError, HouseFileError
from board.house.library import library_cut, library_cuts, pit_prior
from board.house.model import JURISDICTIONS, Display, PitKind
from board.house.shipped import shipped
from board.house.time_typed import time_of_day
from board.house.units import format_mass, format_temperature, parse_area_m2, parse_mass_kg, parse_minutes
from board.house.wording import in_list

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MOST_PITS = 60
LONGEST_NAME = 60
LEAST_PIECE_KG, MOST_PIECE_KG = 0.04, 60.0  # beyond these a weight is a slip of the hand


@dataclass(frozen=True, slots=True)
class NewPit:
    """A pit: what the crew calls it, its kind, and its cooking area as it was typed."""

    name: str
    kind: PitKind
    area: str


@dataclass(frozen=True, slots=True)
class Dish:
    """What a cut is sold as: a portion or portions a piece, and a piece's usual weight as typed."""

    cut: str
    name: str
    portion: str = ""
    portions_a_piece: int = 0
    piece: str = ""  # as the library has it, where it is empty


@dataclass(frozen=True, slots=True)
class Times:
    """A service, or a shift with those who work it: when it begins, how long it lasts, on which days."""

    name: str
    at: str
    lasts: str
    days: tuple[str, ...]
    people: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NewHouse:
    """All that a new house answers; where it is not asked, what is usual."""

    name: str = ""
    zone: str = ""
    display: Display = field(default_factory=Display)
    jurisdiction: str = "us"
    pits: tuple[NewPit, ...] = ()
    dishes: tuple[Dish, ...] = ()
    services: tuple[Times, ...] = ()
    shifts: tuple[Times, ...] = ()

    @property
    def people(self) -> tuple[str, ...]:
        """Everybody who works a shift, once."""
        return tuple(dict.fromkeys(person for shift in self.shifts for person in shift.people))

    @property
    def imperial(self) -> bool:
        """Whether sizes are offered in pounds and feet."""
        return self.display.mass == "lb"


@cache
def offered() -> Mapping[str, Any]:
    """What a new house is offered, from its table."""
    return shipped("founding")


def in_units(pair: Sequence[str], house: NewHouse) -> str:
    """One of a pair of sizes, in the house's units."""
    return pair[0] if house.imperial else pair[1]


def begun(zone: str, country: str) -> NewHouse:
    """A house to start from, for its zone's country: two pits, two cuts, a weekend's lunch, two shifts."""
    house = placed(NewHouse(zone=zone), country)
    weekend = ("fri", "sat", "sun")
    pits = tuple(usual_pit(house, kind) for kind in (PitKind.OFFSET, PitKind.CABINET))
    return replace(
        house,
        pits=pits,
        dishes=tuple(usual_dish(house, cut) for cut in ("brisket", "chicken-half")),
        services=(Times("lunch", "11:00", "3 h", weekend),),
        shifts=(
            Times("overnight", "18:00", "12 h", ("thu", "fri", "sat")),
            Times("day", "06:00", "12 h", weekend),
        ),
    )


def placed(house: NewHouse, country: str) -> NewHouse:
    """The house with the units, the clock and the rules that are usual in a country."""
    told = offered()["countries"]
    pounds = country in told["pounds"]
    display = Display(
        mass="lb" if pounds else "kg",
        temperature="degF" if pounds else "degC",
        volume="gal" if pounds else "L",
        clock_hours=12 if country in told["twelve_hours"] else 24,
    )
    rules = next((place for place in JURISDICTIONS if country in told.get(place, ())), "us")
    return replace(house, display=display, jurisdiction=rules)


def measured(house: NewHouse, display: Display) -> NewHouse:
    """The house in other units: sizes that nobody changed are offered anew."""
    other = replace(house, display=display)
    pits = [
        replace(pit, area=usual_area(other, pit.kind)) if pit.area == usual_area(house, pit.kind) else pit
        for pit in house.pits
    ]
    dishes = [
        replace(dish, portion=usual_dish(other, dish.cut).portion)
        if dish.portion == usual_dish(house, dish.cut).portion
        else dish
        for dish in house.dishes
    ]
    return replace(other, pits=tuple(pits), dishes=tuple(dishes))


def usual_area(house: NewHouse, kind: PitKind) -> str:
    """The cooking area of a usual pit of a kind."""
    return in_units(offered()["areas"][kind.value], house)


def usual_pit(house: NewHouse, kind: PitKind) -> NewPit:
    """A usual pit of a kind, under a name that is free."""
    name = kind.value.capitalize()
    return NewPit(free_name(name, [pit.name for pit in house.pits]), kind, usual_area(house, kind))


def usual_dish(house: NewHouse, cut: str) -> Dish:
    """What a cut of the library is usually sold as."""
    told = offered()["sold"][cut]
    portion = in_units(told["portion"], house) if "portion" in told else ""
    return Dish(cut, told["name"], portion, told.get("portions_a_piece", 0))


def cuts_offered() -> tuple[str, ...]:
    """The cuts a house may sell, as the library lists them."""
    return tuple(id for id in library_cuts() if id in offered()["sold"])


def piece_of(house: NewHouse, dish: Dish) -> str:
    """What a piece of a dish's cut weighs: as typed, else as the library has it."""
    return dish.piece or format_mass(library_cut(dish.cut).mass_kg.usual, house.display)


def setpoints_of(house: NewHouse, kind: PitKind) -> str:
    """The setpoints a kind of pit holds, as the house reads them."""
    low, high = pit_prior(kind).setpoint_c
    return f"{format_temperature(low, house.display, unit=False)}–{format_temperature(high, house.display)}"


def free_name(name: str, taken: Iterable[str]) -> str:
    """A name that is not taken: the name itself, or with the next number behind it."""
    there = {each.casefold() for each in taken}
    names = (name, *(f"{name} {n}" for n in range(2, len(there) + 3)))
    return next(each for each in names if each.casefold() not in there)


def a_name(typed: str) -> str:
    """A name as typed; raises HouseFileError for one that is none."""
    name = " ".join(typed.split())
    if not name or not name.isprintable() or len(name) > LONGEST_NAME:
        raise HouseFileError(f"a name is up to {LONGEST_NAME} letters on one line, such as Big pit")
    return name


def some_names(typed: str) -> tuple[str, ...]:
    """Names with commas between, each once; raises HouseFileError."""
    return tuple({name.casefold(): name for each in typed.split(",") if (name := a_name(each))}.values())


def an_area(house: NewHouse, typed: str) -> str:
    """A cooking area with its unit; raises HouseFileError with a right one of this house's units."""
    return _size(
        typed, parse_area_m2, "20 sq ft, or 24 x 36 in" if house.imperial else "1.8 m2, or 60 x 90 cm"
    )


def a_piece(house: NewHouse, typed: str) -> str:
    """What a piece weighs, with its unit; raises HouseFileError with a right one of this house's units."""
    piece = _size(typed, parse_mass_kg, "14 lb" if house.imperial else "6.4 kg")
    if not LEAST_PIECE_KG <= parse_mass_kg(piece) <= MOST_PIECE_KG:
        raise HouseFileError(f"found {piece!r}: one piece weighs from 40 g to 60 kg")
    return piece


def a_portion(house: NewHouse, dish: Dish, typed: str) -> str:
    """Served meat in a portion, less than its piece gives; raises HouseFileError with a right one."""
    portion = _size(typed, parse_mass_kg, "6 oz" if house.imperial else "170 g")
    served_kg = parse_mass_kg(piece_of(house, dish)) * library_cut(dish.cut).yields.raw_to_served
    if parse_mass_kg(portion) > served_kg:
        most = format_mass(served_kg, house.display)
        raise HouseFileError(
            f"found {portion!r}: a piece of {piece_of(house, dish)} gives {most} of served meat"
        )
    return portion


def a_length_of_time(typed: str) -> str:
    """How long something lasts, up to a day; raises HouseFileError."""
    hours = typed.strip()
    if hours.isascii() and hours.isdigit() and len(hours) <= len("24"):
        typed = f"{hours} h"
    minutes = _tried(typed, parse_minutes)
    if minutes is None or not 0 < minutes <= 24 * 60:
        raise HouseFileError(
            f"found {typed.strip()!r}: how long is told with its unit, such as 3 h or 3 h 30"
        )
    return " ".join(typed.split())


def clock_said(house: "NewHouse", at: str) -> str:
    """A time of day on the house's clock: `17:00`, or `5:00 pm`."""
    hour, minute = (int(part) for part in at.split(":"))
    if house.display.clock_hours != 12:
        return at
    return f"{(hour - 1) % 12 + 1}:{minute:02d} {'am' if hour < 12 else 'pm'}"


def a_time_of_day(typed: str) -> str:
    """A time of day such as 11:00, 11, 5 pm or 17.30; raises HouseFileError."""
    at = time_of_day(typed)
    if at is None:
        raise HouseFileError(f"found {typed.strip()!r}: a time of day is told as 11:00 or 5 pm")
    return f"{at:%H:%M}"


def some_days(typed: str) -> tuple[str, ...]:
    """Days of the week from `fri sat sun`, `tue-sun` or `every day`; raises HouseFileError."""
    text = re.sub(r"\s*(?:-|–|to)\s*", "-", typed.strip().lower())
    if text in ("every day", "daily", "all"):
        return DAYS
    found: set[int] = set()
    try:
        for word in re.split(r"[,\s]+", text):
            first, _, last = word.partition("-")
            start = _day(first)
            end = _day(last) if last else start
            found.update((start + ahead) % 7 for ahead in range((end - start) % 7 + 1))
    except ValueError:
        raise HouseFileError(
            f"found {typed.strip()!r}: days are told as fri sat sun, tue-sun or every day"
        ) from None
    return tuple(DAYS[day] for day in sorted(found))


def days_said(days: Sequence[str]) -> str:
    """Days as people say them: a run of three or more as its ends."""
    if tuple(days) == DAYS:
        return "every day"
    places = [DAYS.index(day) for day in days]
    if len(places) > 2 and places == list(range(places[0], places[-1] + 1)):
        return f"{days[0]}–{days[-1]}"
    return " ".join(days)


def missing(house: NewHouse) -> str:
    """What must still be answered before the files can be written; empty where nothing is."""
    asked = {
        "a name": house.name,
        "a time zone": house.zone,
        "a pit": house.pits,
        "something to sell": house.dishes,
        "a service": house.services,
    }
    lacking = [what for what, answer in asked.items() if not answer]
    return f"still to answer: {in_list(lacking)}" if lacking else ""


def _day(word: str) -> int:
    found = [
        i for i, day in enumerate(DAYS) if len(word) > 1 and (word.startswith(day) or day.startswith(word))
    ]
    if len(found) != 1:
        raise ValueError(word)
    return found[0]


def _size(typed: str, parse: Any, such_as: str) -> str:
    if not (_tried(typed, parse) or 0) > 0:
        raise HouseFileError(f"found {typed.strip()!r}: write the size with its unit, such as {such_as}")
    return " ".join(typed.split())


def _tried(typed: str, parse: Any) -> float | None:
    try:
        return float(parse(typed))
    except BoardError:
        return None
