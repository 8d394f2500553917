"""Which cooking rule a cut falls under, from what it is and what is done to it before the pit."""

from collections.abc import Iterator, Mapping

from board.house.doses import is_injected
from board.house.model import Cut, Handling, Recipe

INTACT = (Handling.INTACT_ROAST, Handling.INTACT_CUT)
BIRDS = (Handling.POULTRY, Handling.STUFFED)
_STUFFS = ("stuff",)
_GRINDS = ("grind", "mince", "comminut")
# FDA Food Code 1-201.10, injected and mechanically tenderised; tumbled with a brine as well (from memory)
_DRIVES_IN = ("inject", "pump", "needle", "tenderi", "pierc", "stitch", "tumbl")


def handled(cut: Cut, recipes: Mapping[str, Recipe]) -> Handling:
    """The rule a cut falls under: the strictest of what its file says and what is done to it.

    Stuffed counts before all else, a bird stays a bird and a cured ham a cured ham; meat that is ground,
    injected or pierced is no longer intact.
    """
    done = [handling for handling, _ in _done(cut, recipes)]
    if cut.handling is Handling.STUFFED or Handling.STUFFED in done:
        return Handling.STUFFED
    if cut.handling in INTACT and done:
        return Handling.GROUND if Handling.GROUND in done else Handling.INJECTED
    if cut.handling is Handling.CURED_HAM and Handling.GROUND in done:
        return Handling.GROUND
    return cut.handling


def why_handled(cut: Cut, recipes: Mapping[str, Recipe]) -> str:
    """Why a cut falls under another rule than its file says, in a sentence; empty where it does not."""
    handling = handled(cut, recipes)
    if handling is cut.handling:
        return ""
    what = next(what for done, what in _done(cut, recipes) if done is handling)
    return f"{cut.name} is written as {cut.handling}, but with {what} it is cooked as {handling}."


def _done(cut: Cut, recipes: Mapping[str, Recipe]) -> Iterator[tuple[Handling, str]]:
    """The handlings that its steps before the pit amount to, each with the step's name."""
    for step in cut.prep:
        words = step.what.lower()
        if any(word in words for word in _STUFFS):
            yield Handling.STUFFED, f"the step {step.what}"
        if any(word in words for word in _GRINDS):
            yield Handling.GROUND, f"the step {step.what}"
        if any(word in words for word in _DRIVES_IN):
            yield Handling.INJECTED, f"the step {step.what}"
        elif (recipe := recipes.get(step.recipe or "")) and is_injected(recipe):
            yield Handling.INJECTED, f"{recipe.name} pumped in"
