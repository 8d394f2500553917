"""What a person asked for: options turned into a cook and readings."""

import re
from dataclasses import dataclass
from pathlib import Path

import click

from board.commands.cook.typed import typed
from board.cooking.cook import Cook, PitAir, Rest
from board.cooking.learning.learn import learn
from board.house.files import read_house
from board.house.library import library_cut, usual_wrap_core_c
from board.house.model import Cut, Display, House, PitKind, Work, Wrap, WrapMaterial
from board.house.units import parse_fraction, parse_mass_kg, parse_minutes, parse_temperature_c

USUAL_REST_MINUTES = 30.0
_IN_POUNDS = re.compile(r"(lbs?|#|pounds?|oz|ounces?|F|fahrenheit)\s*$", re.IGNORECASE)
TENDER = "tender"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """The options of `board cook` as they were typed."""

    cut: str
    folder: Path | None
    weight: str | None
    count: int
    pit: str
    at: str | None
    until: tuple[str, ...]
    start: str | None
    wrap: str | None
    wrap_at: str | None
    rest: str | None
    rest_in: str
    hold_at: str | None
    hold_humidity: str | None
    readings: tuple[str, ...]
    air: tuple[str, ...]
    settings: tuple[str, ...]
    opened: tuple[str, ...]
    members: int
    seed: int
    why: bool


def house_of(folder: Path | None) -> House | None:
    """The house asked for, or none."""
    if folder is None:
        return None
    return read_house(folder)


def cut_of(name: str, house: House | None) -> Cut:
    """The house's cut of that name, else the library's."""
    if house is not None and name in house.cuts:
        return house.cuts[name]
    return library_cut(name)


def cook_of(cut: Cut, house: House | None, question: Question) -> Cook:
    """The cook a person typed, the cut's usual values standing in for what was left out."""
    weight, at, start = question.weight, question.at, question.start
    until_c, tender_minutes = _end(cut, question.until)
    return Cook(
        cut=cut,
        mass_kg=cut.mass_kg.usual if weight is None else typed("--weight", weight, parse_mass_kg),
        pieces=question.count,
        pit=_air(question.pit, cut, house),
        setpoint_c=cut.pit_c.usual if at is None else typed("--at", at, parse_temperature_c),
        until_core_c=until_c,
        start_c=cut.start_c if start is None else typed("--from", start, parse_temperature_c),
        wrap=_wrap(cut, question.wrap, question.wrap_at, until_c),
        rest=_rest(question),
        altitude_m=0.0 if house is None else house.altitude_m,
        tender_minutes=tender_minutes,
    )


def _rest(question: Question) -> Rest:
    """The rest asked for; only a hold has air of its own."""
    hold_at, humidity = question.hold_at, question.hold_humidity
    if question.rest_in != "hold" and (hold_at or humidity):
        raise click.UsageError("--hold-at and --hold-humidity need --rest-in hold")
    return Rest(
        question.rest_in,
        USUAL_REST_MINUTES if question.rest is None else parse_minutes(question.rest),
        hold_c=None if hold_at is None else typed("--hold-at", hold_at, parse_temperature_c),
        hold_humidity=None if humidity is None else typed("--hold-humidity", humidity, parse_fraction),
    )


def _end(cut: Cut, until: tuple[str, ...]) -> tuple[float, float]:
    """The core (°C) and the tenderness (minutes at 93 °C) to be reached, both; the cut's own if not asked."""
    if not until:
        return cut.end_core_c, cut.tender_minutes
    cores = [typed("--until", text, parse_temperature_c) for text in until if text.strip().lower() != TENDER]
    if len(cores) == len(until):
        return max(cores), 0.0
    if cut.tender_minutes == 0.0:
        raise click.UsageError(
            f"{cut.name} is not cooked until tender here; give --until a core such as 160 F"
        )
    return max(cores, default=cut.end_core_c), cut.tender_minutes


def _air(pit: str, cut: Cut, house: House | None) -> PitAir:
    """The air of a pit of the house by its id, else of a kind, with what its cooks teach of the cut."""
    if house is not None and pit in house.pits:
        return learn(house).air(house.pits[pit], cut.id)
    kinds = [kind.value for kind in PitKind]
    if pit not in kinds:
        known = f"; this house has {', '.join(house.pits)}" if house else ""
        raise click.UsageError(f"no kind of pit called '{pit}': allowed are {', '.join(kinds)}{known}")
    usual = PitAir.usual(PitKind(pit))
    return usual if house is None else learn(house).taught(usual, cut.id, pit)


def _wrap(cut: Cut, material: str | None, at_core: str | None, until_c: float) -> Wrap | None:
    """The wrap asked for, at the cut's usual core unless one is given."""
    if material is None:
        if at_core is not None:
            raise click.UsageError("--wrap-at needs --wrap paper or --wrap foil")
        return None
    usual_c = cut.wrap.at_core_c if cut.wrap else usual_wrap_core_c()
    at_c = usual_c if at_core is None else typed("--wrap-at", at_core, parse_temperature_c)
    if at_c >= until_c:
        raise click.UsageError(f"a wrap at {at_c:.0f} °C comes after the pull at {until_c:.0f} °C")
    return Wrap(WrapMaterial(material), at_c, cut.wrap.work if cut.wrap else Work())


def display_of(house: House | None, question: Question) -> Display:
    """The units to speak in: the house's, else those the question was asked in."""
    if house is not None:
        return house.display
    asked = (question.weight, question.at, question.start, question.wrap_at, question.hold_at)
    texts = (*asked, *question.until, *question.readings, *question.air, *question.settings)
    is_in_pounds = any(text and _IN_POUNDS.search(text) for text in texts)
    return Display(mass="lb", temperature="degF") if is_in_pounds else Display()
