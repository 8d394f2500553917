"""What was measured of the pit so far: `--air`, `--set` and `--opened` turned into the air a cook meets."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from board.commands.cook.typed import timed, typed
from board.cooking.cook import Cook
from board.cooking.pit_air import Opening, Setpoint, expected_air
from board.cooking.possible import check_air, check_moment, check_setpoint
from board.cooking.readings.air import measured_air, sieve_air
from board.cooking.readings.left_out import LeftOut
from board.house.library import pit_prior
from board.house.units import parse_minutes


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
    read = [timed("--air", text, "2h=108 C") for text in air]
    changes = sorted(timed("--set", text, "5h=121 C") for text in settings)
    for minute, celsius in changes:
        check_moment(cook, "a change of setpoint", minute)
        check_setpoint(cook, celsius)
    check_air(cook, read)
    asked = [Setpoint(0.0, cook.setpoint_c), *(Setpoint(minute, celsius) for minute, celsius in changes)]
    openings = [Opening(typed("--opened", text, parse_minutes)) for text in opened]
    for opening in openings:
        check_moment(cook, "an opening", opening.minute)
    recovery = pit_prior(cook.pit.kind).recovery_minutes.usual
    kept, left_out = sieve_air(expected_air(asked, recovery, openings=openings), read)
    curve = measured_air(asked, recovery, cook.pit.control_band_c, read, openings)
    return Measured(replace(cook, air=curve), len(kept), tuple(left_out))
