"""All that a cut is given before the pit, put together: the salt, sugar and nitrite the meat ends with."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from board.batches.limits import Agent, Code, Method, limit_for
from board.batches.meat import Meat, in_the_meat
from board.batches.nitrite import Judgement, judged
from board.batches.scale import scaled
from board.batches.served import Served
from board.house.model import House, Recipe, RecipeKind


@dataclass(frozen=True, slots=True)
class Together:
    """What several recipes leave in the same meat: per cent of the seasoned meat, mg/kg of the green.

    `recipes` are their names in the order given; `judgement` is of all their nitrite, `nitrate` of all their
    nitrate where there is any, against the strictest of their limits.
    """

    recipes: tuple[str, ...]
    salt_percent: float
    sugar_percent: float
    nitrite_ppm: float
    judgement: Judgement
    nitrate_ppm: float = 0.0
    nitrate: Judgement | None = None

    @property
    def over(self) -> bool:
        """Whether all the nitrite, or all the nitrate, is over its limit."""
        return self.judgement.over or (self.nitrate is not None and self.nitrate.over)


def others_on(house: House, recipe: Recipe, served: Served) -> tuple[Recipe, ...]:
    """What else a cut is given before the pit, once for each step; none where the cut is not known."""
    if served.cut is None:
        return ()
    ids = [step.recipe for step in served.cut.prep if step.recipe]
    if recipe.id in ids:
        ids.remove(recipe.id)
    return tuple(house.recipes[id] for id in ids if id in house.recipes)


def together(name: str, meat: Meat, others: Iterable[Recipe], served: Served, code: Code) -> Together | None:
    """What a recipe (its name, what it leaves) and others leave in the same meat; None without others.

    A glaze stays outside and is left out. Raises BoardError where another recipe cannot be made.
    """
    found = [(name, meat)]
    for other in others:
        kept = _kept(other, served, code)
        if kept is not None:
            found.append((other.name, kept))
    return _sum(found, served.meat_kg, code) if len(found) > 1 else None


def _kept(recipe: Recipe, served: Served, code: Code) -> Meat | None:
    if recipe.kind is RecipeKind.GLAZE:
        return None
    batch = scaled(recipe, served.meat_kg, surface_m2=served.surface_m2)
    return in_the_meat(batch, code, water=served.water)


def _sum(found: Sequence[tuple[str, Meat]], meat_kg: float, code: Code) -> Together:
    meats = [meat for _, meat in found]
    seasoned_kg = meat_kg + sum(meat.kept_kg for meat in meats)
    nitrate_ppm = sum(meat.nitrate_ppm for meat in meats)
    return Together(
        recipes=tuple(name for name, _ in found),
        salt_percent=sum(meat.salt_g for meat in meats) / 10 / seasoned_kg,
        sugar_percent=sum(meat.sugar_g for meat in meats) / 10 / seasoned_kg,
        nitrite_ppm=sum(meat.nitrite_ppm for meat in meats),
        judgement=_judged(meats, code, Agent.NITRITE),
        nitrate_ppm=nitrate_ppm,
        nitrate=_judged(meats, code, Agent.NITRATE) if nitrate_ppm else None,
    )


def _judged(meats: Sequence[Meat], code: Code, agent: Agent) -> Judgement:
    """All of an agent against the strictest of the limits of what brings it."""
    brought = [(meat.ppm(agent), meat.method) for meat in meats if meat.ppm(agent) > 0]
    if not brought:
        return judged(0.0, code, meats[0].method, agent)

    def most(method: Method) -> float:
        limit = limit_for(code, method, agent)
        return limit.ppm if limit else float("inf")

    strictest = min((method for _, method in brought), key=most)
    found = judged(sum(ppm for ppm, _ in brought), code, strictest, agent)
    return replace(found, rule=f"{found.rule}, all of it together") if len(brought) > 1 else found
