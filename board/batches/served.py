"""The meat a batch serves, as its dose and its salt see it: how many pieces, how large, how wet."""

from dataclasses import dataclass

from board.batches.scale import scaled
from board.batches.tables import table
from board.errors import BoardError
from board.house.doses import LEAST_COVER, is_injected
from board.house.model import Container, Cut, House, Recipe
from board.house.pieces import surface_m2


@dataclass(frozen=True, slots=True)
class Served:
    """Pieces of one cut, or meat of no known cut; `pieces` may be a fraction where only the mass is known."""

    meat_kg: float
    cut: Cut | None = None
    pieces: float = 1.0

    @property
    def piece_kg(self) -> float:
        """The raw mass of one piece."""
        return self.meat_kg / self.pieces

    @property
    def surface_m2(self) -> float | None:
        """The surface of all the pieces, m²; None where the cut is not known."""
        if self.cut is None:
            return None
        return self.pieces * surface_m2(self.cut.size, self.piece_kg)

    @property
    def water(self) -> float | None:
        """The mass fraction of water in the raw meat; None where the cut is not known."""
        return None if self.cut is None else self.cut.composition.water

    @property
    def litres(self) -> float:
        """The room the meat takes, L, by its cut's own density."""
        return self.meat_kg / meat_density_kg_l(self.cut)


def meat_density_kg_l(cut: Cut | None) -> float:
    """A cut's density by its size and mass, kg/L, with its bones; lean meat's where no cut is known."""
    if cut is None:
        return float(table("brine")["meat"]["density_kg_l"])
    size = cut.size
    litres = 1_000 * size.thickness_m * size.width_m * size.length_m * size.fill
    return size.at_kg / litres


def litres_to_cover(container_litres: float, meat: Served) -> float:
    """Litres of brine that fill a container to a level, `container_litres`, with the meat in it.

    Raises BoardError where the meat alone fills it, or leaves too little between the pieces for them to lie
    covered.
    """
    litres = container_litres - meat.litres
    if litres <= 0:
        raise BoardError(
            f"{meat.meat_kg:.3g} kg of meat takes {meat.litres:.3g} L and does not go into "
            f"{container_litres:.3g} L; take a larger container, or more than one"
        )
    if litres < LEAST_COVER * meat.meat_kg:
        raise BoardError(
            f"{meat.meat_kg:.3g} kg of meat in {container_litres:.3g} L leaves {litres:.2g} L for brine, and "
            f"pieces lie covered in {LEAST_COVER:g} L a kilogram at least; take a larger container, or more "
            "than one"
        )
    return litres


def kg_to_cover(container: Container, meat: Served) -> float:
    """Kilograms of brine that fill a container of the house to what it takes, with the meat in it.

    Raises BoardError where the meat alone is as much, or leaves too little for it to lie covered.
    """
    brine_kg = container.takes_kg - meat.meat_kg
    if brine_kg < LEAST_COVER * meat.meat_kg:
        raise BoardError(
            f"{meat.meat_kg:.3g} kg of meat and what covers it, {LEAST_COVER:g} kg a kilogram at least, "
            f"do not go into a {container.name}, which takes {container.takes_kg:.3g} kg; take more than one"
        )
    return brine_kg


def cuts_taking(house: House, recipe: Recipe) -> tuple[Cut, ...]:
    """The cuts of the house that a recipe is used on, before the pit or after it."""
    prepared = {cut.id for cut in house.cuts.values() for step in cut.prep if step.recipe == recipe.id}
    finished = {item.cut for item in house.items.values() for step in item.finish if step.recipe == recipe.id}
    return tuple(cut for cut in house.cuts.values() if cut.id in prepared | finished)


def dose_kg(recipe: Recipe, cut: Cut, pieces: float, piece_kg: float) -> float:
    """Kilograms of a made recipe that pieces of a cut take: by mass, by surface, or by volume."""
    meat = Served(pieces * piece_kg, cut, pieces)
    if all(ingredient.basis == "of meat" for ingredient in recipe.ingredients):
        return sum(ingredient.amount for ingredient in recipe.ingredients) * meat.meat_kg
    if recipe.use_kg_a_kg and any(i.basis == "kg" and i.amount > 0 for i in recipe.ingredients):
        return recipe.use_kg_a_kg * meat.meat_kg
    return scaled(recipe, meat.meat_kg, surface_m2=meat.surface_m2).batch_kg


def ml_a_piece(recipe: Recipe, meat: Served, kept_kg: float, density_kg_l: float) -> float | None:
    """Millilitres of an injection that stay in each piece; None for what is not injected."""
    if not is_injected(recipe):
        return None
    return 1_000 * kept_kg / density_kg_l / meat.pieces
