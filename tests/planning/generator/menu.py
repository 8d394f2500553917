"""What a drawn house sells: cuts of the library, how they are made ready, and batches for them."""

from dataclasses import dataclass, replace
from random import Random

from board.house.library import library_cut
from board.house.model import Cut, Ingredient, Item, Recipe, RecipeKind, StepRule, Work

DAY = 24 * 60.0


@dataclass(frozen=True, slots=True)
class Dish:
    """One item: its cut, its share of the day's loads, how it is sold and finished."""

    item: str
    cut: str
    weight: float
    portion_kg: float | None
    portions_a_piece: float | None
    prep: tuple[StepRule, ...]
    finish: tuple[StepRule, ...] = ()
    waves: bool = False


def _rub(recipe: str, longest: float = 12 * 60.0) -> StepRule:
    return StepRule("rub", Work(4.0, 0.5), (30.0, longest), recipe, chilled=True)


_SLICE = (StepRule("slice", Work(2.0, 0.5), (0.0, 0.0)),)
_BRINE = StepRule("brine", Work(10.0, 0.2), (180.0, 10 * 60.0), "bird-brine", chilled=True)

# Invented menu; weights and gaps are common practice, no source.
DISHES = (
    Dish("sliced", "brisket", 3.0, 0.17, None, (_rub("beef-rub"),), _SLICE),
    Dish("bird", "chicken-half", 2.0, None, 1.0, (_BRINE,), waves=True),
    Dish("rack", "spare-ribs", 2.0, None, 2.0, (_rub("pork-rub", 8 * 60.0),)),
    Dish("pulled", "pork-shoulder", 2.5, 0.14, None, (_rub("pork-rub"),), _SLICE),
    Dish("link", "sausage", 1.0, None, 1.0, ()),
    Dish("turkey", "turkey-breast", 1.0, 0.14, None, (_rub("pork-rub"),), _SLICE),
    Dish("beef-rib", "beef-ribs", 1.0, None, 3.0, (_rub("beef-rub"),)),
    Dish("loin", "pork-loin", 0.7, 0.14, None, (_rub("pork-rub"),), _SLICE),
    Dish("lamb", "lamb-shoulder", 0.7, 0.14, None, (_rub("pork-rub"),), _SLICE),
)


def menu_of(draw: Random, count: int) -> tuple[Dish, ...]:
    """Brisket, and so many dishes in all."""
    return (DISHES[0], *draw.sample(DISHES[1:], min(count, len(DISHES)) - 1))


def cuts_of(dishes: tuple[Dish, ...]) -> dict[str, Cut]:
    """The library's cuts for these dishes, made ready as this house does it."""
    return {dish.cut: replace(library_cut(dish.cut), prep=dish.prep) for dish in dishes}


def items_of(draw: Random, dishes: tuple[Dish, ...]) -> dict[str, Item]:
    """What is sold; in half the houses what is best fresh comes in waves."""
    fresh = draw.random() < 0.5
    return {
        dish.item: Item(
            dish.item,
            dish.item.capitalize(),
            dish.cut,
            dish.portion_kg,
            dish.portions_a_piece,
            dish.finish,
            15.0,
            60.0 if fresh and dish.waves else None,
        )
        for dish in dishes
    }


def recipes() -> dict[str, Recipe]:
    """Two rubs and a brine."""
    salt = Ingredient("salt, table", 1.0, "kg", "salt")
    brine = (Ingredient("water", 10.0, "kg", "water"), Ingredient("salt, table", 0.06, "of water", "salt"))
    rubs = {
        name: Recipe(name, name, RecipeKind.RUB, (salt,), 0.025, Work(10.0), 0.0, 30 * DAY)
        for name in ("beef-rub", "pork-rub")
    }
    bath = Recipe("bird-brine", "bird brine", RecipeKind.BRINE, brine, 1.0, Work(15.0), 120.0, 2 * DAY)
    return {**rubs, "bird-brine": bath}
