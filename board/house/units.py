"""Quantities as a person types them, turned into SI floats and back.

The usual spellings are answered from a table of exact definitions, so that opening the board loads no
unit library; any other unit goes to the one pint registry, which the tests also hold the table against.
Temperatures are ours throughout: an offset scale is split into number and unit here.
"""

import re
import unicodedata
from functools import lru_cache
from math import isfinite
from typing import TYPE_CHECKING, Any

from board.errors import QuantityError
from board.house.degrees import F_A_KELVIN, is_fahrenheit, shown, to_celsius
from board.house.kinds import (
    AREA,
    DENSITY,
    DIFFERENCE,
    FOOT_M,
    FRACTION,
    GALLON_L,
    LENGTH,
    MASS,
    MASS_AN_AREA,
    MASS_RATE,
    POUND_KG,
    PRICE,
    TEMPERATURE,
    TIME,
    VOLUME,
    VOLUME_A_MASS,
    Kind,
)
from board.house.model import Display

if TYPE_CHECKING:
    from pint import UnitRegistry

ABSOLUTE_ZERO_C = -273.15  # by definition: SI brochure, 9th edition, section 2.3.1
LONGEST_TEXT = 60
HOTTEST_C = 1000.0
_US_VOLUMES = (("gal", 16), ("qt", 4), ("cup", 1), ("fl oz", 0.125))  # and how many cups one is
_NUMBER = re.compile(r"[+-]?\d+ ?\d+/\d+|[+-]?\d+/\d+|[+-]?(?:\d+(?:\.\d*)?|\.\d+)")
_UNIT = re.compile(r"(?:sq )?[^\W\d_]+(?: [^\W\d_]+)?(?:\^?[23]|[²³])?|[#\"']")
_SCALE = {
    **dict.fromkeys(("c", "degc", "celsius", "centigrade"), "C"),
    **dict.fromkeys(("f", "degf", "fahrenheit"), "F"),
    **dict.fromkeys(("k", "kelvin"), "K"),
}


def parse_mass_kg(text: str) -> float:
    """Kilograms from a text such as `14 lb`, `6.4 kg` or `2 lb 6 oz`; raises QuantityError."""
    return _in_range(text, MASS, _sum(text, MASS))


def parse_length_m(text: str) -> float:
    """Metres from a text such as `12 cm` or `5 in`; raises QuantityError."""
    return _in_range(text, LENGTH, _sum(text, LENGTH))


def parse_area_m2(text: str) -> float:
    """Square metres from a text such as `1.8 m2`, or two sides such as `24 x 36 in`; raises QuantityError."""
    sides = re.split(r"\s*[x×]\s*", _tidy(text, AREA))
    if len(sides) == 2:
        last = re.sub(r"^[\d./ ]+", "", sides[1])
        first = sides[0] if re.search(r"[^\d./ ]", sides[0]) else f"{sides[0]} {last}"
        try:
            return _in_range(text, AREA, parse_length_m(first) * parse_length_m(sides[1]))
        except QuantityError:
            raise _refused(text, AREA) from None
    return _in_range(text, AREA, _sum(text, AREA))


def parse_volume_l(text: str) -> float:
    """Litres from a text such as `2 qt` or `750 ml` (US measures); raises QuantityError."""
    return _in_range(text, VOLUME, _sum(text, VOLUME))


def parse_minutes(text: str) -> float:
    """Elapsed minutes from `90 min`, `1 h 30`, `2h40`, `5 days`; raises QuantityError."""
    tidy = _tidy(text, TIME)
    hours = re.fullmatch(r"(\d+) ?(?:h|hr|hrs|hours?) ?(\d{1,2})", tidy)
    if hours:
        return _in_range(text, TIME, 60.0 * float(hours[1]) + int(hours[2]))
    return _in_range(text, TIME, _sum(text, TIME))


def parse_temperature_c(text: str) -> float:
    """Degrees Celsius from `225 F`, `107 °C`, `140 degC`; raises QuantityError beyond what a pit can be."""
    number, scale = _degrees(text, TEMPERATURE)
    celsius = {"C": number, "F": to_celsius(number), "K": number + ABSOLUTE_ZERO_C}[scale]
    if not ABSOLUTE_ZERO_C <= celsius <= HOTTEST_C:
        raise _refused(text, TEMPERATURE)
    return celsius


def parse_temperature_difference_k(text: str) -> float:
    """Kelvins of difference from `10 C` or `18 F`: no zero point is taken off; raises QuantityError."""
    number, scale = _degrees(text, DIFFERENCE)
    return number / F_A_KELVIN if scale == "F" else number


def parse_fraction(text: str | float) -> float:
    """A fraction of one from `8 %`, `0.08` or the number 0.08; raises QuantityError below 0."""
    if isinstance(text, bool):
        raise _refused(str(text), FRACTION)
    if isinstance(text, (int, float)):
        return _in_range(str(text), FRACTION, float(text))
    tidy = _tidy(text, FRACTION)
    bare = tidy.removesuffix("%").strip()
    if not _NUMBER.fullmatch(bare):
        raise _refused(text, FRACTION)
    return _in_range(text, FRACTION, _number(bare) / (100 if tidy.endswith("%") else 1))


def parse_density_kg_l(text: str) -> float:
    """Kilograms a litre from `1.2 kg/L` or `217 g/cup`; raises QuantityError."""
    above, below = _ratio(text, DENSITY)
    try:
        value = parse_mass_kg(above) / parse_volume_l(_one(below))
    except (QuantityError, ZeroDivisionError):
        raise _refused(text, DENSITY) from None
    return _in_range(text, DENSITY, value)


def parse_mass_an_area_kg_m2(text: str) -> float:
    """Kilograms on a square metre from `60 g/m2` or `0.2 oz/sq ft`; raises QuantityError."""
    above, below = _ratio(text, MASS_AN_AREA)
    try:
        value = parse_mass_kg(above) / parse_area_m2(_one(below))
    except (QuantityError, ZeroDivisionError):
        raise _refused(text, MASS_AN_AREA) from None
    return _in_range(text, MASS_AN_AREA, value)


def parse_volume_a_mass_l_kg(text: str) -> float:
    """Litres for a kilogram from `0.6 L/kg` or `1 qt/lb`; raises QuantityError."""
    above, below = _ratio(text, VOLUME_A_MASS)
    try:
        value = parse_volume_l(above) / parse_mass_kg(_one(below))
    except (QuantityError, ZeroDivisionError):
        raise _refused(text, VOLUME_A_MASS) from None
    return _in_range(text, VOLUME_A_MASS, value)


def parse_mass_rate_kg_h(text: str) -> float:
    """Kilograms an hour from `4 kg/h` or `9 lb / h`; raises QuantityError."""
    above, below = _ratio(text, MASS_RATE)
    try:
        return parse_mass_kg(above) * 60 / parse_minutes(_one(below))
    except (QuantityError, ZeroDivisionError):
        raise _refused(text, MASS_RATE) from None


def parse_price_a_kg(text: str) -> float:
    """Money a kilogram from `0.35 / kg` or `0.16 / lb`, in the house's own money; raises QuantityError."""
    above, below = _ratio(text, PRICE)
    try:
        if not _NUMBER.fullmatch(above):
            raise _refused(text, PRICE)
        return _in_range(text, PRICE, _number(above) / parse_mass_kg(_one(below)))
    except (QuantityError, ZeroDivisionError):
        raise _refused(text, PRICE) from None


def amount_and_unit(text: str) -> tuple[float, str]:
    """The number and the unit as written, for a recipe line such as `3 cup` or `2 parts`.

    Raises QuantityError when the text is not one number and one word.
    """
    tidy = _tidy(text, MASS)
    number = _NUMBER.match(tidy)
    if not number or not tidy[number.end() :].strip():
        raise _refused(text, MASS)
    return _number(number[0]), tidy[number.end() :].strip()


def is_unit_of(kind: Kind, unit: str) -> bool:
    """Whether a unit as written measures this kind of quantity."""
    for known in (MASS, LENGTH, AREA, VOLUME, TIME):
        if _table(known, unit):
            return known is kind
    return bool(_UNIT.fullmatch(unit)) and _factor(kind.si, unit) is not None


def format_mass(kg: float, display: Display) -> str:
    """A mass as the house reads it: `14.3 lb`, `6.5 kg`, and grams or ounces when small."""
    if display.mass == "lb":
        pounds = kg / POUND_KG
        return f"{_short(pounds)} lb" if pounds >= 1 else f"{_short(pounds * 16)} oz"
    return f"{_short(kg)} kg" if kg >= 1 else f"{_short(kg * 1000)} g"


def format_area(m2: float, display: Display) -> str:
    """An area as the house reads it: `0.28 m²`, or `3 sq ft` in a house of pounds."""
    if display.mass == "lb":
        return f"{_short(m2 / FOOT_M**2)} sq ft"
    return f"{m2:.2f} m²"


def format_volume(litres: float, display: Display) -> str:
    """A volume as the house reads it: `18 L`, `4.8 gal`, and quarts or millilitres when small."""
    if display.volume == "gal":
        cups = litres * 16 / GALLON_L
        unit, in_one = next((u for u in _US_VOLUMES if cups >= u[1]), _US_VOLUMES[-1])
        return f"{_short(cups / in_one)} {unit}"
    return f"{_short(litres)} L" if litres >= 1 else f"{_short(litres * 1000)} ml"


def format_temperature(c: float, display: Display, unit: bool = True) -> str:
    """A temperature in whole degrees of the house's scale: `245 °F`, or `245°` without its unit."""
    letter, degrees = "F" if is_fahrenheit(display) else "C", shown(c, display)
    return f"{round(degrees):d} °{letter}" if unit else f"{round(degrees):d}°"


@lru_cache(maxsize=1)
def registry() -> "UnitRegistry[Any]":
    """The one pint registry of the program, made when a unit outside the table is first met."""
    from pint import UnitRegistry, set_application_registry  # noqa: PLC0415 - slow to load, rarely needed

    units: UnitRegistry[Any] = UnitRegistry()
    set_application_registry(units)  # type: ignore[no-untyped-call]
    return units


@lru_cache(maxsize=256)
def _factor(si: str, unit: str) -> float | None:
    """What one `unit` is in `si`, asked of pint; None when it is unknown or measures something else."""
    from pint.errors import PintError  # noqa: PLC0415 - slow to load, rarely needed

    plain = unit.replace("²", "**2").replace("³", "**3").replace("^", "**")
    try:
        return float(registry().Quantity(1.0, plain).to(si).magnitude)
    except (PintError, AttributeError, TypeError, ValueError, SyntaxError, AssertionError):
        return None


def _sum(text: str, kind: Kind) -> float:
    """The sum of one or more `number unit` pairs, such as `2 lb 6 oz`, in the kind's SI unit."""
    tidy = _tidy(text, kind)
    total, at = 0.0, 0
    if not tidy:
        raise _refused(text, kind)
    while at < len(tidy):
        number = _NUMBER.match(tidy, at)
        unit = _UNIT.match(tidy, _past_space(tidy, number.end())) if number else None
        if not number or not unit:
            raise _refused(text, kind)
        factor = _table(kind, unit[0]) or _factor(kind.si, unit[0])
        if factor is None:
            raise _refused(text, kind)
        total += _number(number[0]) * factor
        at = _past_space(tidy, unit.end())
    return total


def _table(kind: Kind, unit: str) -> float | None:
    """The table's factor for a unit; only longer names in any case, for T is not t to a cook."""
    return kind.units.get(unit) or (kind.units.get(unit.lower()) if len(unit) > 1 else None)


def _past_space(text: str, at: int) -> int:
    return at + (len(text[at:]) - len(text[at:].lstrip()))


def _degrees(text: str, kind: Kind) -> tuple[float, str]:
    """The number and the scale (C, F or K) of a temperature or a difference."""
    found = re.fullmatch(
        r"([+-]?(?:\d+(?:\.\d*)?|\.\d+))\s*(?:°|º|deg(?:rees?)?)?\s*([A-Za-z]+)", _tidy(text, kind)
    )
    scale = _SCALE.get(found[2].lower()) if found else None
    if not found or scale is None or not isfinite(float(found[1])):
        raise _refused(text, kind)
    return float(found[1]), scale


def _ratio(text: str, kind: Kind) -> tuple[str, str]:
    """The two sides of `4 kg / h` or `4 kg per h`, each tidied."""
    sides = re.split(r"\s*/\s*(?=[A-Za-z])|\s+(?:per|an?)\s+", _tidy(text, kind))
    if len(sides) != 2:
        raise _refused(text, kind)
    return sides[0], sides[1]


def _one(unit: str) -> str:
    return f"1 {unit}"


def _number(text: str) -> float:
    """A decimal, a fraction `1/2` or a mixed number `1 1/2`."""
    sign = -1.0 if text.startswith("-") else 1.0
    whole, _, part = text.lstrip("+-").rpartition(" ")
    if "/" not in part:
        return sign * float(part)
    above, below = part.split("/")
    if int(below) == 0:
        raise QuantityError(f"'{text}' divides by nought; write a fraction such as 1/2")
    return sign * (float(whole or 0) + int(above) / int(below))


def _tidy(text: str, kind: Kind) -> str:
    """The text with plain spaces and fractions, refused when it is not a short text."""
    if not isinstance(text, str) or len(text) > LONGEST_TEXT:
        raise _refused(str(text), kind)
    plain = text if text.isascii() else "".join(map(_plain, text))
    return re.sub(r"\s+", " ", plain).strip()


def _plain(character: str) -> str:
    """`½` as ` 1/2`, a minus sign as a hyphen; anything else as it is."""
    if unicodedata.category(character) == "No" and character not in "²³":
        return " " + unicodedata.normalize("NFKC", character).replace("⁄", "/")
    return {"−": "-", "µ": "u"}.get(character, character)


def _in_range(text: str, kind: Kind, value: float) -> float:
    if not isfinite(value) or not 0 <= value <= kind.most:
        raise _refused(text, kind)
    return value


def _refused(text: str, kind: Kind) -> QuantityError:
    shown = text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - 1] + "…"
    return QuantityError(f"'{shown}' is not {kind.name}; write {kind.allowed}")


def _short(value: float) -> str:
    """Two or three figures as a cook would say them: 0.25, 6.4, 18, 240."""
    decimals = 0 if value >= 20 else 1 if value >= 2 else 2 if value >= 0.2 else 3
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
