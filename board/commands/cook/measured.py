"""What was measured of the pit so far: `--air`, `--set` and `--opened` turned into the air a cook meets."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from board.cooking.cook import Cook
from board.cooking.pit_air import Opening, Setpoint, expected_air
from board.cooking.possible import check_air, check_setpoint
from board.cooking.readings.air import measured_air, sieve_air
from board.cooking.readings.reasons import LeftOut
from board.errors import QuantityError
from board.house.library import pit_prior
from board.house.units import parse_minutes, parse_temperature_c


@dataclass(frozen=True, slots=True)
class Measured:
    """The cook with its pit's air, how many readings of that count, and those that do not."""

    cook: Cook
    air_kept: int
    air_left_out: tuple[LeftOut, ...]


def with_measured_air(
    cook: Cook, *, air: Sequence[str], settings: Sequence[str], opened: Sequence[str]
) -> Measured:
    """The cook on the pit as it was read, set and opened; as it was where nothing was said of it."""
    if not air and not settings and not opened:
        return Measured(cook, 0, ())
    read = [timed(text, "air", "2h=108 C") for text in air]
    changes = sorted(timed(text, "setpoint", "5h=121 C") for text in settings)
    for _, celsius in changes:
        check_setpoint(cook, celsius)
    check_air(cook, read)
    asked = [Setpoint(0.0, cook.setpoint_c), *(Setpoint(minute, celsius) for minute, celsius in changes)]
    openings = [Opening(parse_minutes(text)) for text in opened]
    recovery = pit_prior(cook.pit.kind).recovery_minutes.usual
    kept, left_out = sieve_air(expected_air(asked, recovery, openings=openings), read)
    curve = measured_air(asked, recovery, cook.pit.control_band_c, read, openings)
    return Measured(replace(cook, air=curve), len(kept), tuple(left_out))


def timed(text: str, what: str, example: str) -> tuple[float, float]:
    """Minutes from loading and °C, from a text such as `2h40=61 C`."""
    time, equals, celsius = text.partition("=")
    if not equals:
        an = "an" if what == "air" else "a"
        raise QuantityError(f"{an} {what} is a time and a temperature such as {example}; got {text!r}")
    return parse_minutes(time), parse_temperature_c(celsius)
