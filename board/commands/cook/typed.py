"""Quantities as typed after an option, refused with the option's name."""

from collections.abc import Callable

from board.errors import QuantityError
from board.house.units import parse_minutes, parse_temperature_c


def typed(option: str, text: str, read: Callable[[str], float]) -> float:
    """The quantity of an option through `read`; raises QuantityError that names the option."""
    try:
        return read(text)
    except QuantityError as error:
        raise QuantityError(f"{option}: {error}") from None


def timed(option: str, text: str, example: str) -> tuple[float, float]:
    """Minutes from loading and °C, from a text such as `2h40=61 C`."""
    time, equals, celsius = text.partition("=")
    if not equals:
        raise QuantityError(f"{option} is a time and a temperature such as {example}; got {text!r}")
    return typed(option, time, parse_minutes), typed(option, celsius, parse_temperature_c)
