"""How a hot brine of so many kilograms is cooled: when it is read, the ice for it, and whether in time.

The sums stand in house/chilling.py. From 57 °C it has two hours to 21 °C and six in all to 5 °C; what it
takes to come down to 57 °C does not count (FDA Food Code 3-501.14; the local code decides).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, inf, isfinite
from typing import Protocol

from board.batches.scale import scaled
from board.house import chilling
from board.house.model import ChillWay, Container, Display, Recipe
from board.house.units import format_mass, format_temperature
from board.house.wording import count, duration

# A share of the brine that stays hot water at least: what is in it must dissolve.
_HOT_WATER_LEAST = 0.2
# Ice that leaves a brine so much too warm is still called enough: a scale and a thermometer tell no less.
_SAME_K = 0.5


class Rule(Protocol):
    """A rule of cooling: minutes count from when it passes `starts_c` on its way down."""

    @property
    def starts_c(self) -> float: ...  # noqa: D102
    @property
    def first_c(self) -> float: ...  # noqa: D102
    @property
    def first_minutes(self) -> float: ...  # noqa: D102
    @property
    def all_c(self) -> float: ...  # noqa: D102
    @property
    def all_minutes(self) -> float: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Check:
    """A reading to take so many minutes after it came off the heat, and what it must show at most, °C.

    It may wait until `latest_minutes`, and no longer.
    """

    after_minutes: float
    most_c: float
    latest_minutes: float


@dataclass(frozen=True, slots=True)
class Chilled:
    """A brine on its way down from `from_c`, in `pots` pots.

    `minutes` it takes to be cold enough from off the heat, `first_minutes` and `all_minutes` from the rule's
    start to its two marks; each is infinite where it never is. `ice_kg` is weighed into the recipe's water,
    or melts in the bath; `ends_c` is where it ends.
    """

    way: ChillWay
    mass_kg: float
    pots: int
    from_c: float
    ends_c: float
    minutes: float
    first_minutes: float
    all_minutes: float
    ice_kg: float
    tau_minutes: float | None = None

    def in_time(self, rule: Rule) -> bool:
        """Whether it keeps both limits of the rule."""
        return self.first_minutes <= rule.first_minutes and self.all_minutes <= rule.all_minutes


def pots_for(mass_kg: float, pot: Container | None) -> int:
    """How many of a container so much takes; one where none is named."""
    return 1 if pot is None else max(1, ceil(mass_kg / pot.takes_kg - 1e-9))


def chilled(recipe: Recipe, mass_kg: float, pot: Container | None, rule: Rule) -> Chilled | None:
    """How so much of a boiled recipe cools as the house does it; None for one that is not chilled.

    Also None where it cools in a pot of which nothing is known.
    """
    from_c = chilling.off_the_heat_c(recipe.boil_minutes)
    if recipe.chill is None or from_c is None:
        return None
    if recipe.chill is ChillWay.ICE:
        return _with_ice(recipe, mass_kg, from_c, pots_for(mass_kg, pot))
    return None if pot is None else _standing(recipe, recipe.chill, mass_kg, pot, rule)


def dissolved_share(recipe: Recipe) -> float:
    """The mass fraction of salt, sugar and cure in a liquid recipe."""
    return _share(recipe, "salt", "sugar", "cure")


def _share(recipe: Recipe, *roles: str) -> float:
    batch = scaled(recipe, 1.0, surface_m2=1.0)
    return sum(batch.grams(role) / 1000 / batch.batch_kg for role in roles)


def ice_to_weigh_kg(recipe: Recipe, mass_kg: float) -> float:
    """Kilograms of the recipe's own water to weigh in as ice, so that a boiled brine ends cold enough.

    No more than leaves water to dissolve what is in it: then it ends warmer.
    """
    from_c = chilling.off_the_heat_c(recipe.boil_minutes) or recipe.chilled_to_c
    share = chilling.ice_share(from_c, recipe.chilled_to_c, dissolved=dissolved_share(recipe))
    return mass_kg * min(share, max(0.0, _share(recipe, "water") - _HOT_WATER_LEAST))


def _with_ice(recipe: Recipe, mass_kg: float, from_c: float, pots: int) -> Chilled:
    ice_kg = ice_to_weigh_kg(recipe, mass_kg)
    ends_c = chilling.ends_at_c(from_c, ice_kg / mass_kg, dissolved=dissolved_share(recipe))
    minutes = chilling.chill_minutes(ChillWay.ICE, recipe.chilled_to_c, None)
    took = minutes if ends_c <= recipe.chilled_to_c + _SAME_K else inf
    return Chilled(ChillWay.ICE, mass_kg, pots, from_c, ends_c, took, took, took, ice_kg)


def _standing(recipe: Recipe, way: ChillWay, mass_kg: float, pot: Container, rule: Rule) -> Chilled:
    """A brine that stands in something colder; a pot that is not full has less metal wetted."""
    pots, around = pots_for(mass_kg, pot), chilling.around_c(way)
    full = mass_kg / pots / pot.takes_kg
    tau = chilling.tau_minutes(mass_kg / pots, chilling.wetted(chilling.ua_w_k(pot, way), full))
    from_c = chilling.off_the_heat_c(recipe.boil_minutes) or recipe.chilled_to_c
    return Chilled(
        way=way,
        mass_kg=mass_kg,
        pots=pots,
        from_c=from_c,
        ends_c=max(around, recipe.chilled_to_c),
        minutes=chilling.cooling_minutes(tau, from_c, recipe.chilled_to_c, around),
        first_minutes=chilling.cooling_minutes(tau, rule.starts_c, rule.first_c, around),
        all_minutes=chilling.cooling_minutes(tau, rule.starts_c, rule.all_c, around),
        ice_kg=_bath_ice_kg(mass_kg) if way is ChillWay.ICE_BATH else 0.0,
        tau_minutes=tau,
    )


def _bath_ice_kg(mass_kg: float) -> float:
    bath = chilling.figures()[ChillWay.ICE_BATH]
    return float(mass_kg * bath["ice_kg_a_kg"] * bath["losses"])


def checks(cooled: Chilled, to_c: float, rule: Rule) -> tuple[Check, ...]:
    """When to read its temperature: as it should pass the rule's first mark, and as it should be cold.

    No later than the rule's own times, whatever the sum says; once where it is cold enough for use in time
    for the rule's last mark too.
    """
    if not isfinite(cooled.minutes) or cooled.tau_minutes is None:
        return (Check(chilling.chill_minutes(ChillWay.ICE, to_c, None), to_c, rule.first_minutes),)
    around = chilling.around_c(cooled.way)
    begins = chilling.cooling_minutes(cooled.tau_minutes, cooled.from_c, rule.starts_c, around)
    first, cold = begins + rule.first_minutes, begins + rule.all_minutes
    found = [
        Check(min(begins + cooled.first_minutes, first), rule.first_c, first),
        Check(min(begins + cooled.all_minutes, cold), rule.all_c, cold),
    ]
    if to_c <= rule.all_c and cooled.minutes <= cold:
        found[-1] = Check(cooled.minutes, to_c, cold)
    elif cooled.minutes > found[-1].after_minutes:
        found.append(Check(cooled.minutes, to_c, inf))
    return tuple(found)


def too_slow(recipe: Recipe, cooled: Chilled, rule: Rule, display: Display) -> str | None:
    """A brine that misses a limit of cooling as it is planned, with what would cool it in time."""
    if cooled.in_time(rule):
        return None
    what = f"{format_mass(cooled.mass_kg, display)} of {recipe.name} cools too slowly"
    return f"{what}: {_how_slow(cooled, rule, display)}. {_cures(recipe, cooled, rule, display)}"


def _how_slow(cooled: Chilled, rule: Rule, display: Display) -> str:
    def degrees(c: float) -> str:
        return format_temperature(c, display)

    if cooled.way is ChillWay.ICE:
        return f"all the ice its water allows leaves it at {degrees(cooled.ends_c)}"
    if cooled.first_minutes > rule.first_minutes:
        marks = rule.first_c, cooled.first_minutes, rule.first_minutes
    else:
        marks = rule.all_c, cooled.all_minutes, rule.all_minutes
    to_c, takes, allowed = marks
    where = "the walk-in" if cooled.way is ChillWay.WALK_IN else "its ice bath"
    how = f"takes {duration(takes)}, allowed {duration(allowed)}" if isfinite(takes) else "never ends"
    return f"{degrees(rule.starts_c)} to {degrees(to_c)} in {where} {how}"


def _cures(recipe: Recipe, cooled: Chilled, rule: Rule, display: Display) -> str:
    found = list(_would(recipe, cooled, rule, display))
    return f"What would do: {', or '.join(found)}." if found else "Cool it in smaller lots."


def _would(recipe: Recipe, cooled: Chilled, rule: Rule, display: Display) -> Iterator[str]:
    """What brings a brine down in time: ice in its own water, a bath of ice, pans that are shallow enough."""
    if cooled.way is not ChillWay.ICE:
        iced = _with_ice(recipe, cooled.mass_kg, cooled.from_c, cooled.pots)
        if iced.in_time(rule):
            yield f"{format_mass(iced.ice_kg, display)} of its water weighed in as ice"
    if cooled.way is ChillWay.WALK_IN:
        yield "an ice bath, stirred"
    if cooled.tau_minutes is not None:
        around = chilling.around_c(cooled.way)
        most = min(
            rule.first_minutes / chilling.cooling_minutes(1.0, rule.starts_c, rule.first_c, around),
            rule.all_minutes / chilling.cooling_minutes(1.0, rule.starts_c, rule.all_c, around),
        )
        parts = ceil(cooled.tau_minutes / most - 1e-9)
        yield f"{count(parts, 'pan')}, each 1/{parts} as deep"
