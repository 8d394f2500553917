"""Checks of a probe at the two points a kitchen has: ice water, and water that boils at its height."""

from dataclasses import dataclass
from math import sqrt

from board.house.degrees import F_A_KELVIN
from board.house.units import ABSOLUTE_ZERO_C
from board.safety.log import slack_k
from board.safety.tables import rules, table
from board.safety.verdict import Answer
from board.safety.wording import degrees

ICE_POINT_C = 0.0


@dataclass(frozen=True, slots=True)
class ProbeCheck:
    """A probe's reading beside the true temperature: whether it is near enough, and how far off it is."""

    answer: Answer
    expected_c: float
    off_by_k: float
    within_k: float
    why: str
    source: str


def boiling_point_c(altitude_m: float) -> float:
    """°C at which water boils at a height above the sea, in standard air; weather moves it by up to 1 K.

    Valid from 430 m below the sea to 11 km above it.
    """
    air = table("steam")["air"]
    warmth = 1.0 - air["l_k_m"] * altitude_m / air["t0_k"]
    return steam_c(air["p0_pa"] * warmth ** (air["g_m_s2"] / (air["r_j_kgk"] * air["l_k_m"])))


def steam_c(pressure_pa: float) -> float:
    """°C at which water and steam are in balance at a pressure, Pa: IAPWS-IF97, equation 31."""
    n = table("steam")["steam"]["n"]
    b = (pressure_pa / 1e6) ** 0.25
    e = b * b + n[2] * b + n[5]
    f = n[0] * b * b + n[3] * b + n[6]
    g = n[1] * b * b + n[4] * b + n[7]
    d = 2.0 * g / (-f - sqrt(f * f - 4.0 * e * g))
    kelvin = (n[9] + d - sqrt((n[9] + d) ** 2 - 4.0 * (n[8] + n[9] * d))) / 2.0
    return float(kelvin + ABSOLUTE_ZERO_C)


def checked_ice(reading_c: float, *, place: str = "us") -> ProbeCheck:
    """A probe read in a slush of crushed ice and water."""
    return _checked(reading_c, ICE_POINT_C, "ice water", place)


def checked_boiling(reading_c: float, altitude_m: float, *, place: str = "us") -> ProbeCheck:
    """A probe read in water at a rolling boil, at a height above the sea."""
    return _checked(reading_c, boiling_point_c(altitude_m), f"water that boils at {altitude_m:.0f} m", place)


def _checked(reading_c: float, expected_c: float, where: str, place: str) -> ProbeCheck:
    rule = rules(place, "thermometer")
    within_k = max(float(rule.rows["within"]["k"]), float(rule.rows["within"]["f"]) / F_A_KELVIN)
    off_k = reading_c - expected_c
    good = abs(off_k) <= within_k + slack_k()
    low = "high" if off_k > 0 else "low"
    step = f"{abs(off_k):.1f} °C ({abs(off_k) * F_A_KELVIN:.1f} °F)"
    reads = f"reads {degrees(reading_c)} in {where}, which is at {degrees(expected_c)}: {step} too {low}"
    allowed = f"{rule.rows['within']['k']:g} °C ({rule.rows['within']['f']:g} °F) off is allowed"
    then = "" if good else "; set it right or take it out of use, and look again at what it was trusted for"
    return ProbeCheck(
        Answer.PASS if good else Answer.FAIL,
        expected_c,
        off_k,
        within_k,
        f"It {reads}; {allowed}{then}.",
        rule.source,
    )
