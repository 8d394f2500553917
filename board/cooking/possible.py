"""Whether a cook can be at all: refused in one line before any sum is done."""

from collections.abc import Sequence
from math import floor

from board.cooking.cook import Cook, Rest
from board.cooking.errors import CookingError
from board.cooking.physics.air import boiling_c, pressure_pa
from board.cooking.readings.numbers import number
from board.house.library import PIECE_KG

MOST_PIECES = 2000
LEAST_WATER = 0.05  # bare fat still holds some: common practice, no source
PIT_C = (50.0, 300.0)
HOLD_C = (10.0, 99.0)
LONGEST_REST_MINUTES = 7 * 24 * 60.0
LONGEST_READ_MINUTES = 7 * 24 * 60.0
UNDER_BOILING_K = 0.5  # the last half degree to boiling never quite comes


def check(cook: Cook) -> None:
    """Raise CookingError, naming the cut, what was asked and what is allowed, for a cook that cannot be."""
    name = cook.cut.name
    if not 1 <= cook.pieces <= MOST_PIECES:
        raise CookingError(f"{name}: a load has 1 to {MOST_PIECES} pieces; got {cook.pieces}")
    if not PIECE_KG[0] <= cook.mass_kg <= PIECE_KG[1]:
        raise CookingError(f"{name}: a piece weighs 10 g to 150 kg; got {cook.mass_kg:g} kg")
    if cook.cut.composition.water < LEAST_WATER:
        raise CookingError(
            f"{name}: meat holds at least {LEAST_WATER:.0%} of water; its composition has "
            f"{cook.cut.composition.water:.1%}"
        )
    check_setpoint(cook, cook.setpoint_c)
    _check_moments(cook, name)
    if cook.rest is not None:
        _check_rest(cook.rest, name)
    _check_core(cook, name)


def _check_moments(cook: Cook, name: str) -> None:
    """What is done to a load by the clock is done once it is on, and another pit runs as pits do."""
    if cook.wrap_minute is not None and not cook.wrap_minute >= 0.0:
        raise CookingError(f"{name}: a load is wrapped once it is on, not {-cook.wrap_minute:.0f} min before")
    if cook.move is not None:
        check_setpoint(cook, cook.move.setpoint_c)
        if not cook.move.minute >= 0.0:
            before = -cook.move.minute
            raise CookingError(f"{name}: a load is moved once it is on, not {before:.0f} min before")


def _check_rest(rest: Rest, name: str) -> None:
    """A rest ends some day, and a hold stands between a cool room and boiling."""
    if not 0.0 <= rest.minutes <= LONGEST_REST_MINUTES:
        raise CookingError(f"{name}: a rest lasts at most 7 days; got {rest.minutes / 1440:.1f} days")
    if rest.hold_c is not None and not HOLD_C[0] <= rest.hold_c <= HOLD_C[1]:
        raise CookingError(f"{name}: a hold stands at 10 to 99 °C; got {rest.hold_c:.0f} °C")
    if rest.hold_humidity is not None and not 0.0 <= rest.hold_humidity <= 1.0:
        raise CookingError(f"{name}: a hold's humidity is 0 to 100 %; got {rest.hold_humidity:.0%}")
    if rest.then is not None:
        _check_rest(rest.then, name)
        if rest.then.then is not None:
            raise CookingError(f"{name}: a rest is in two places at most, one after the other")


def _check_core(cook: Cook, name: str) -> None:
    """The core must start thawed and be asked for a temperature the pit and its juice allow."""
    boiling, until = boiling_c(pressure_pa(cook.altitude_m)), cook.until_core_c
    if cook.start_c < 0.0:
        raise CookingError(f"{name}: the core starts at {cook.start_c:.0f} °C, frozen; thaw it first")
    if until <= cook.start_c:
        raise CookingError(f"{name}: the core is to reach {until:.0f} °C but starts at {cook.start_c:.0f} °C")
    if until > boiling - UNDER_BOILING_K:
        raise CookingError(
            f"{name}: no core passes its boiling point ({boiling:.1f} °C at {cook.altitude_m:.0f} m); "
            f"ask for {floor(boiling - UNDER_BOILING_K)} °C or less, not {until:.1f} °C"
        )
    hottest = hottest_c(cook)
    if until >= hottest:
        raise CookingError(
            f"{name}: a pit at {hottest:.0f} °C cannot bring the core to {until:.0f} °C; "
            "set the pit higher or pull lower"
        )


def hottest_c(cook: Cook) -> float:
    """The hottest air a cook is to meet."""
    if cook.air is not None:
        return max(cook.air.celsius)
    return max(cook.setpoint_c, cook.move.setpoint_c if cook.move else cook.setpoint_c)


def check_setpoint(cook: Cook, celsius: float) -> None:
    """Raise CookingError for a setpoint no pit runs at."""
    if not PIT_C[0] <= celsius <= PIT_C[1]:
        raise CookingError(
            f"{cook.cut.name}: a pit runs at {PIT_C[0]:.0f} to {PIT_C[1]:.0f} °C; got {celsius:.0f} °C"
        )


def check_readings(cook: Cook, readings: Sequence[tuple[float, float]]) -> None:
    """Raise CookingError for (minutes from loading, core °C) that are no readings of a cook at all.

    Wild ones are not refused: the sieve leaves them out of the sum.
    """
    for minute, core_c in readings:
        _check_reading(cook, "a core", minute, core_c)
        if minute == 0.0 and abs(core_c - cook.start_c) > number("probe", "start_k"):
            raise CookingError(
                f"{cook.cut.name}: the core reads {core_c:.0f} °C at loading, but the cook starts at "
                f"{cook.start_c:.0f} °C; give the core it starts at with --from"
            )


def check_moment(cook: Cook, what: str, minute: float) -> None:
    """Raise CookingError for a moment, in minutes from loading, at which no cook is still on."""
    if not 0.0 <= minute <= LONGEST_READ_MINUTES:
        raise CookingError(
            f"{cook.cut.name}: {what} is at most 7 days after loading; got {minute / 1440:.1f} days"
        )


def check_air(cook: Cook, readings: Sequence[tuple[float, float]]) -> None:
    """Raise CookingError for (minutes from loading, °C) that are no readings of a pit's air at all."""
    for minute, celsius in readings:
        _check_reading(cook, "a pit", minute, celsius)


def _check_reading(cook: Cook, what: str, minute: float, celsius: float) -> None:
    """A reading is of this cook's week, and of something a thermometer in a kitchen shows."""
    low, high = number("probe", "readable_low_c"), number("probe", "readable_high_c")
    check_moment(cook, "a reading", minute)
    if not low <= celsius <= high:
        raise CookingError(f"{cook.cut.name}: {what} reads {low:.0f} to {high:.0f} °C; got {celsius:.0f} °C")
