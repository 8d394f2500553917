"""The two scales of temperature a kitchen reads. By definition: NIST SP 811, appendix B.8."""

import re
from functools import lru_cache

from board.house.model import Display

F_A_KELVIN = 1.8
F_AT_NOUGHT_C = 32.0
_BOTH = re.compile(r"(-?\d+(?:\.\d+)?) °C \((-?\d+(?:\.\d+)?) °F\)")


def to_fahrenheit(celsius: float) -> float:
    """°F from °C."""
    return celsius * F_A_KELVIN + F_AT_NOUGHT_C


def to_celsius(fahrenheit: float) -> float:
    """°C from °F."""
    return (fahrenheit - F_AT_NOUGHT_C) / F_A_KELVIN


def is_fahrenheit(display: Display) -> bool:
    """Whether a house reads °F."""
    return display.temperature == "degF"


def degree_sign(display: Display) -> str:
    """The house's degrees as they are written."""
    return "°F" if is_fahrenheit(display) else "°C"


def shown(celsius: float, display: Display) -> float:
    """A temperature in the house's degrees."""
    return to_fahrenheit(celsius) if is_fahrenheit(display) else celsius


def celsius_of(degrees: float, display: Display) -> float:
    """°C from a temperature in the house's degrees."""
    return to_celsius(degrees) if is_fahrenheit(display) else degrees


def shown_step(kelvin: float, display: Display) -> float:
    """A difference of temperature in the house's degrees."""
    return kelvin * F_A_KELVIN if is_fahrenheit(display) else kelvin


@lru_cache(maxsize=512)
def in_one_scale(text: str, display: Display) -> str:
    """A sentence that tells temperatures in both scales, `57 °C (135 °F)`, in the house's own alone."""
    return _BOTH.sub(r"\2 °F" if is_fahrenheit(display) else r"\1 °C", text)
