"""How long a hot brine takes to cool, and how much ice does it at once: a stirred pot that loses heat.

T = around + (start - around) * exp(-t / tau) with tau = m * cp / UA, for a brine of one temperature;
valid while it is stirred now and then. The figures and their sources stand in data/chilling.toml; UA is an
assumption until the house states it or reads a thermometer twice.
"""

from math import inf, log
from typing import Any

from board.house.model import ChillWay, Container
from board.house.shipped import shipped

# A brine of which nothing more is known is reckoned with so much dissolved, by weight.
USUAL_DISSOLVED = 0.05


def figures() -> dict[str, Any]:
    """The table of cooling figures."""
    return shipped("chilling")


def heat_kj_kg_k(dissolved: float = USUAL_DISSOLVED) -> float:
    """Specific heat of a brine in kJ/kgK, with this mass fraction dissolved in it (0 to 0.3)."""
    heat = figures()["heat"]
    return float(heat["water_kj_kg_k"] * (1 - dissolved) + heat["dissolved_kj_kg_k"] * dissolved)


def dissolving_cools_k(salt: float) -> float:
    """Kelvins that a brine of this mass fraction of salt cools by as the salt dissolves off the heat."""
    return float(salt * figures()["heat"]["salt_dissolves_kj_kg"] / heat_kj_kg_k(salt))


def ice_share(
    from_c: float, to_c: float, *, dissolved: float = USUAL_DISSOLVED, ice_c: float | None = None
) -> float:
    """The share of the finished brine's mass to weigh in as ice so that it ends at `to_c`.

    All that is dissolved is in the hot part; nought where that is no warmer than `to_c`.
    """
    heat, start = figures()["heat"], figures()["ice"]["from_c"] if ice_c is None else ice_c
    drop, water = max(0.0, from_c - to_c), heat["water_kj_kg_k"]
    taken = heat["ice_melts_kj_kg"] - heat["ice_kj_kg_k"] * start + water * to_c
    return float(heat_kj_kg_k(dissolved) * drop / (taken + water * drop))


def ends_at_c(from_c: float, ice: float, *, dissolved: float = USUAL_DISSOLVED) -> float:
    """Where a brine ends when this share of its mass is ice at 0 °C, no colder than 0 °C."""
    heat = figures()["heat"]
    water, solid = heat["water_kj_kg_k"], heat["dissolved_kj_kg_k"]
    hot = water * (1 - ice - dissolved) + solid * dissolved
    return max(0.0, float((hot * from_c - ice * heat["ice_melts_kj_kg"]) / (hot + water * ice)))


def around_c(way: ChillWay) -> float:
    """The temperature of what the pot stands in, in °C."""
    return float(figures()[way]["around_c"])


def ua_w_k(container: Container, way: ChillWay) -> float:
    """What a full container loses in W for each kelvin: as the house says, else by its wetted metal."""
    if way in container.ua_w_k:
        return container.ua_w_k[way]
    usual = figures()[way]
    return wetted(float(usual["u_w_m2k"] * usual["area_m2"]), container.litres / usual["area_litres"])


def fitted_ua_w_k(mass_kg: float, from_c: float, to_c: float, minutes: float, around: float) -> float:
    """UA in W/K from two readings of a brine so many minutes apart (both warmer than what is around it)."""
    return mass_kg * heat_kj_kg_k() * 1000 * log((from_c - around) / (to_c - around)) / (60 * minutes)


def wetted(ua: float, times: float) -> float:
    """UA in W/K of a vessel with so many times as much in it: of like shape, to the power 2/3."""
    return float(ua * times ** (2 / 3))


def tau_minutes(mass_kg: float, ua: float) -> float:
    """The time constant of a brine of this mass that loses `ua` W/K, in minutes."""
    return mass_kg * heat_kj_kg_k() * 1000 / (60 * ua)


def cooling_minutes(tau: float, from_c: float, to_c: float, around: float) -> float:
    """Minutes from one temperature to another with this time constant; never where it is not cold enough."""
    if to_c >= from_c:
        return 0.0
    return inf if to_c <= around else tau * log((from_c - around) / (to_c - around))


def off_the_heat_c(boil_minutes: float) -> float | None:
    """The temperature at which a boiled brine starts to cool; None for one that was not boiled."""
    return float(figures()["start"]["off_the_heat_c"]) if boil_minutes > 0 else None


def start_minutes() -> float:
    """Hands-on minutes to weigh in the ice or to set the pot in its bath."""
    return float(figures()["hands"]["start_minutes"])


def check_minutes() -> float:
    """Hands-on minutes to read a brine's temperature."""
    return float(figures()["hands"]["check_minutes"])


def chill_minutes(way: ChillWay, to_c: float, container: Container | None) -> float:
    """Minutes from off the heat to `to_c` for a full container, cooled this way."""
    if way is ChillWay.ICE:
        return float(figures()["ice"]["melts_minutes"])
    if container is None:
        return inf
    tau = tau_minutes(container.takes_kg, ua_w_k(container, way))
    return cooling_minutes(tau, figures()["start"]["off_the_heat_c"], to_c, around_c(way))
