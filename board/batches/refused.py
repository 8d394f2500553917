"""Why a cure may not be made as it is written: one sentence for each that is over its limit.

A plan whose batches are refused is not committed. The sentences say what would be within the limit; the
licensed person and the local code decide.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from math import floor

from board.batches.limits import Agent, Code, Method, Product
from board.batches.meat import Meat, in_the_meat
from board.batches.nitrite import SLACK, to_equilibrium
from board.batches.rounding import weighed
from board.batches.scale import scaled
from board.batches.scaled_batch import ScaledBatch
from board.batches.served import Served, cuts_taking
from board.batches.together import Together, others_on, together
from board.errors import BoardError
from board.house.model import Cut, Handling, House, Recipe
from board.house.wording import in_list


@dataclass(frozen=True, slots=True)
class Making:
    """A batch as it is to be made: what it is called, its recipe, the cuts it serves, their mass, the day."""

    name: str
    recipe: str
    cuts: tuple[str, ...]
    meat_kg: float
    on: date | None = None


def refusals(house: House, makings: Iterable[Making], place: str | None = None) -> tuple[str, ...]:
    """One sentence for each making whose nitrite or nitrate is over the limit, or cannot be told.

    `place` is the jurisdiction of the limits, the house's own where None. A recipe the house does not know
    is left to others to tell.
    """
    found = (why for making in makings for why in _of_making(house, making, place))
    return tuple(dict.fromkeys(found))


def refused_recipes(house: House, on: date | None, place: str | None = None) -> dict[str, tuple[str, ...]]:
    """The sentences by recipe id, for every recipe of the house on every cut that takes it."""
    found = {}
    for recipe in house.recipes.values():
        cuts = tuple(cut.id for cut in cuts_taking(house, recipe))
        said = refusals(house, [Making(recipe.name, recipe.id, cuts, _as_written_kg(recipe), on)], place)
        if said:
            found[recipe.id] = said
    return found


def _as_written_kg(recipe: Recipe) -> float:
    """The meat that takes a recipe as it is written, so that what is told is in the recipe's own grams.

    100 kg where it is written by the meat, or dosed by its surface.
    """
    written = next((i for i in recipe.ingredients if i.basis == "kg" and i.amount > 0), None)
    if written is None or recipe.use_kg_m2:
        return 100.0
    try:
        lines = scaled(recipe, 100.0).ingredients
    except BoardError:
        return 100.0
    return 100.0 * written.amount * 1_000 / lines[recipe.ingredients.index(written)].grams


def product_of(recipe: Recipe, cut: Cut | None) -> Product:
    """The class of product a cure's limit is read for: the recipe's own word, else by the cut's handling."""
    if recipe.product is not None:
        return Product(recipe.product)
    return Product.GROUND if cut is not None and cut.handling is Handling.GROUND else Product.WHOLE


def too_much(name: str, batch: ScaledBatch, meat: Meat, cut: Cut | None = None) -> Iterator[str]:
    """A sentence for nitrite, and one for nitrate, where a batch brings more than its limit."""
    for agent, ppm, judgement in (
        (Agent.NITRITE, meat.nitrite_ppm, meat.judgement),
        (Agent.NITRATE, meat.nitrate_ppm, meat.nitrate),
    ):
        if judgement is not None and judgement.over and judgement.limit_ppm is not None:
            where = f" in {cut.name}" if cut else ""
            within = _within(batch, agent, meat, judgement.limit_ppm)
            yield (
                f"{name}: {_ppm(ppm)} ppm of sodium {agent}{where} is over the limit of "
                f"{judgement.limit_ppm:g} ppm ({judgement.rule}); {within}"
            )


def too_much_together(name: str, meat: Meat, found: Together | None) -> Iterator[str]:
    """A sentence where a batch is within its limit, but not with what else the cut is given."""
    if found is None:
        return
    for agent, ppm, own, judgement in (
        (Agent.NITRITE, found.nitrite_ppm, meat.nitrite_ppm, found.judgement),
        (Agent.NITRATE, found.nitrate_ppm, meat.nitrate_ppm, found.nitrate),
    ):
        if judgement is not None and judgement.over and ppm > own > 0:
            yield (
                f"{name}: {in_list(list(found.recipes))} bring {_ppm(ppm)} ppm of sodium {agent}, "
                f"over the limit of {judgement.limit_ppm:g} ppm ({judgement.rule}); "
                "put it in one of them only"
            )


def _of_making(house: House, making: Making, place: str | None) -> Iterator[str]:
    recipe = house.recipes.get(making.recipe)
    if recipe is None or not any(i.role == "cure" for i in recipe.ingredients) or making.meat_kg <= 0:
        return
    cuts: list[Cut | None] = [house.cuts[id] for id in making.cuts if id in house.cuts]
    for cut in cuts or [None]:
        try:
            yield from _of_cut(house, making, recipe, cut, place)
        except BoardError as error:
            yield f"{making.name}: {error}"


def _of_cut(
    house: House, making: Making, recipe: Recipe, cut: Cut | None, place: str | None
) -> Iterator[str]:
    pieces = 1.0 if cut is None else making.meat_kg / cut.mass_kg.usual
    served = Served(making.meat_kg, cut, pieces)
    batch = scaled(recipe, making.meat_kg, surface_m2=served.surface_m2, scales=house.scales)
    code = Code(place or house.jurisdiction, product_of(recipe, cut), making.on)
    meat = in_the_meat(batch, code, water=served.water)
    if meat is None:
        return
    said = tuple(too_much(making.name, batch, meat, cut))
    others = others_on(house, recipe, served)
    found = together(recipe.name, meat, others, served, code)
    yield from said or too_much_together(making.name, meat, found)


def _within(batch: ScaledBatch, agent: Agent, meat: Meat, limit: float) -> str:
    """What dose would be within the limit: the same cure, less of it, all else as it stands."""
    lines = [c for c in batch.cures if (c.nitrite_g if agent is Agent.NITRITE else c.nitrate_g) > 0]
    if limit <= 0:
        return f"leave out {', '.join(line.name for line in lines)}"
    share = _share_within(batch, agent, meat, limit, sum(line.grams for line in lines) / 1_000)
    parts = []
    for line in lines:
        step = weighed(share * line.grams, fine=True, scales=batch.scales).step_g
        weigh = floor(share * line.grams / step + SLACK) * step
        parts.append(f"{weigh:.6g} g of {line.name} in place of {line.grams:.6g} g")
    return f"for {batch.meat_kg:.4g} kg of meat {', '.join(parts)} is within it"


def _share_within(batch: ScaledBatch, agent: Agent, meat: Meat, limit: float, cure_kg: float) -> float:
    """The share of the cure that comes to the limit; with less cure a pickle is lighter too."""
    ppm = meat.ppm(agent)
    if meat.method in (Method.DRY, Method.COMMINUTED):
        return limit / ppm
    shared_kg = batch.batch_kg
    if to_equilibrium(batch, meat.method):
        shared_kg += batch.meat_kg
    # ppm x shared = dose; share x dose / (shared - (1 - share) x cure) = limit
    return limit * (shared_kg - cure_kg) / (ppm * shared_kg - limit * cure_kg)


def _ppm(ppm: float) -> str:
    """Parts per million with as many figures as tell a dose from a limit beside it."""
    return f"{ppm:.0f}" if ppm >= 1_000 else f"{ppm:.4g}"
