"""A batch for so much meat: the lines to weigh, and what they come to together."""

from dataclasses import dataclass

from board.batches.brine import density_kg_l
from board.batches.rounding import Shown, measured, weighed
from board.house.doses import is_liquid
from board.house.library import density_of
from board.house.model import Ingredient, Recipe, Scales


@dataclass(frozen=True, slots=True)
class ScaledIngredient:
    """One line to weigh: exact grams, what the scale shows, and about how much a jug would show.

    `volume` is a hint for liquids and loose goods of known density; salt and cures have none,
    because a spoon of one salt weighs twice a spoon of another.
    """

    name: str
    role: str
    grams: float
    shown: Shown
    volume: Shown | None
    litres: float | None
    nitrite_g: float = 0.0
    nitrate_g: float = 0.0
    allergens: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ScaledBatch:
    """A recipe made for so much meat; the grams of its lines sum to `batch_kg`.

    `litres` is None when some density is not known. `pickup` is the mass fraction of the green
    meat that stays in it.
    """

    recipe: Recipe
    meat_kg: float
    pickup: float
    ingredients: tuple[ScaledIngredient, ...]
    batch_kg: float
    scales: Scales | None = None

    def grams(self, role: str) -> float:
        """Exact grams of the lines with this role."""
        return sum(line.grams for line in self.ingredients if line.role == role)

    @property
    def salt_g(self) -> float:
        """Salt, with the carrier of a cure blend: what is not nitrite or nitrate is salt."""
        return self.grams("salt") + sum(c.grams - c.nitrite_g - c.nitrate_g for c in self.cures)

    @property
    def salt_percent(self) -> float:
        """Salt by mass of the whole batch."""
        return self.salt_g / self.batch_kg / 10

    @property
    def sugar_percent(self) -> float:
        """Sugar by mass of the whole batch."""
        return self.grams("sugar") / self.batch_kg / 10

    @property
    def water_kg(self) -> float:
        """The water in the batch; of one made without any, as of cider, all that is not salt or sugar."""
        water_g = self.grams("water")
        return (water_g or 1_000 * self.batch_kg - self.salt_g - self.grams("sugar")) / 1_000

    @property
    def nitrite_g(self) -> float:
        """Nitrite in the whole batch, as the blend's label counts it (sodium nitrite)."""
        return sum(line.nitrite_g for line in self.ingredients)

    @property
    def nitrate_g(self) -> float:
        """Nitrate in the whole batch, as the blend's label counts it (sodium nitrate)."""
        return sum(line.nitrate_g for line in self.ingredients)

    @property
    def cures(self) -> tuple[ScaledIngredient, ...]:
        """The lines that are cure blends, where there is any of them."""
        return tuple(line for line in self.ingredients if line.role == "cure" and line.grams > 0)

    @property
    def litres(self) -> float | None:
        """The room the batch takes: a brine by its strength at 20 °C, others by their parts."""
        if is_liquid(self.recipe):
            return self.batch_kg / density_kg_l(self.salt_percent, self.sugar_percent)
        parts = [line.litres for line in self.ingredients]
        return None if None in parts else sum(part or 0.0 for part in parts)

    @property
    def shown_kg(self) -> float:
        """What the amounts as weighed come to, kilograms."""
        return sum(line.shown.grams for line in self.ingredients) / 1_000

    @property
    def allergens(self) -> tuple[str, ...]:
        """Allergens of all the lines, each once, in order."""
        return tuple(sorted({a for line in self.ingredients for a in line.allergens}))


def line_of(ingredient: Ingredient, kg: float, scales: Scales | None) -> ScaledIngredient:
    """An ingredient's line, of so many kilograms, as the scales show it."""
    density = ingredient.density_kg_l or density_of(ingredient.name)
    litres = kg / density if density else None
    by_mass_only = litres is None or ingredient.role in ("salt", "cure")
    return ScaledIngredient(
        name=ingredient.name,
        role=ingredient.role,
        grams=kg * 1_000,
        shown=weighed(kg * 1_000, fine=ingredient.role == "cure", scales=scales),
        volume=None if by_mass_only or litres is None else measured(litres, scales=scales),
        litres=litres,
        nitrite_g=kg * 1_000 * ingredient.nitrite,
        nitrate_g=kg * 1_000 * ingredient.nitrate,
        allergens=ingredient.allergens,
    )
