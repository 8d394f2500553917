"""Allergens an ingredient usually holds, by its name: a hint, for the label of the pack in hand decides."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from board.house.model import Ingredient
from board.house.shipped import shipped


@dataclass(frozen=True, slots=True)
class AllergenHint:
    """What an ingredient usually holds, by the names of the United States' nine and the European fourteen."""

    ingredient: str
    us: tuple[str, ...]
    eu: tuple[str, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Each allergen once; gluten and nuts by their closer American names where both lists have them."""
        said = {"gluten": "wheat", "nuts": "tree nuts", "crustaceans": "crustacean shellfish"}
        return self.us + tuple(
            name for name in self.eu if name not in self.us and said.get(name) not in self.us
        )


def allergen_hint(name: str) -> AllergenHint | None:
    """The hint for an ingredient's name, by the longest known name within it; None where none is known."""
    words = " ".join(re.findall(r"\w+", name.casefold()))
    found = [known for known in _hints() if re.search(rf"\b{re.escape(known)}\b", words)]
    if not found:
        return None
    us, eu = _hints()[max(found, key=len)]
    return AllergenHint(name, us, eu) if us or eu else None


def allergen_hints(ingredients: Iterable[Ingredient]) -> tuple[AllergenHint, ...]:
    """The hints for the ingredients on which the house says nothing itself."""
    found = (allergen_hint(i.name) for i in ingredients if not i.allergens)
    return tuple(hint for hint in found if hint is not None)


def allergen_names(place: str) -> tuple[str, ...]:
    """The names a place's list has: the United States' nine, or the European fourteen elsewhere."""
    return tuple(shipped("allergens")["us" if place == "us" else "eu"]["names"])


@cache
def _hints() -> dict[str, tuple[tuple[str, ...], tuple[str, ...]]]:
    rows = shipped("allergens")["hints"]["rows"]
    return {name: (tuple(row["us"]), tuple(row["eu"])) for row in rows for name in row["names"]}
