"""What is typed as a quantity: a bare number is in the unit asked for, another may be written out."""

from board.house.degrees import degree_sign
from board.house.model import Display
from board.house.units import parse_mass_kg, parse_temperature_c


def is_bare(text: str) -> bool:
    """Whether a text is a number without a unit."""
    return text.strip().replace(",", ".").lstrip("-").replace(".", "", 1).isdecimal()


def temperature_c(typed: str, display: Display) -> float:
    """°C from what was typed in the house's degrees, or with a scale; raises QuantityError."""
    return parse_temperature_c(_with_unit(typed, degree_sign(display)))


def mass_kg(typed: str, unit: str) -> float:
    """Kilograms from what was typed in a unit, or with another; raises QuantityError."""
    return parse_mass_kg(_with_unit(typed.replace(",", "."), unit))


def _with_unit(typed: str, unit: str) -> str:
    text = typed.strip()
    return f"{text} {unit}" if is_bare(text) else text
