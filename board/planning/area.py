"""Room as whole square centimetres: what the planner counts in."""

import math

CM2_A_M2 = 10_000


def cm2(area_m2: float) -> int:
    """An area to the nearest square centimetre."""
    return round(area_m2 * CM2_A_M2)


def cm2_within(area_m2: float) -> int:
    """The whole square centimetres a place has."""
    return math.floor(area_m2 * CM2_A_M2 + 1e-6)


def cm2_needed(area_m2: float) -> int:
    """The whole square centimetres that cover an area."""
    return math.ceil(area_m2 * CM2_A_M2 - 1e-6)
