"""What no remedy may do: the limits of the meat, of the pit and of the hold, in one place."""

from collections.abc import Iterable

from board.house.library import least_core_c as library_least_c
from board.house.model import Cut, Handling, Hold, House, Pit, RecipeKind
from board.safety.handling import BIRDS, handled
from board.safety.limits import hold_seconds, hot_hold_least_c, least_core_c, roast_oven_least_c
from board.safety.ovens import WITHOUT_CHART


def least_pull_c(house: House, cut: Cut) -> float:
    """The least core a cut may be pulled at: what cooks it safe, and what it is then held hot at."""
    handling, place = handled(cut, house.recipes), house.jurisdiction
    least = [least_core_c(handling, place), hot_hold_least_c(place=place), library_least_c(handling)]
    return max(c for c in (*least, cured_here_least_c(house, cut)) if c is not None)


def cured_here_least_c(house: House, cut: Cut) -> float | None:
    """The least core, °C, that meat cured in the house is cooked to; None where a cut is not cured here."""
    recipes = [house.recipes.get(step.recipe or "") for step in cut.prep]
    is_cured_here = any(recipe is not None and recipe.kind is RecipeKind.CURE for recipe in recipes)
    return library_least_c("cured-here") if is_cured_here else None


def minutes_at(house: House, cut: Cut, core_c: float, *, mass_kg: float, oven_c: float) -> float | None:
    """Minutes a core must stay at a temperature to be cooked; None where no time is enough.

    The roast chart below the core of other meat counts in an oven as hot as it asks for such a piece.
    """
    handling, place = handled(cut, house.recipes), house.jurisdiction
    is_charted = handling not in WITHOUT_CHART or oven_c >= roast_oven_least_c(mass_kg, place)
    if not is_charted and core_c < least_core_c(Handling.INTACT_CUT, place):
        return None
    seconds = hold_seconds(handling, core_c, place)
    return None if seconds is None else seconds / 60.0


def may_share(cut: Cut, others: Iterable[Cut]) -> bool:
    """Whether a cut may come to a pit where others are: birds drip on nothing but birds."""
    return all((cut.handling in BIRDS) == (other.handling in BIRDS) for other in others)


def takes(pit: Pit, cut: Cut) -> bool:
    """Whether a pit takes a cut at all."""
    return not pit.takes or cut.id in pit.takes


def is_hot(hold: Hold, place: str) -> bool:
    """Whether a hold keeps food hot enough."""
    return hold.setpoint_c is not None and hold.setpoint_c >= hot_hold_least_c(place=place)


def is_past_danger(core_c: float | None, place: str) -> bool:
    """Whether a core was read at or above the range in which germs grow."""
    return core_c is not None and core_c >= hot_hold_least_c(place=place)
