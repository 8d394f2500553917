"""The pots and tubs of a plan: which batch, or meat in its brine, fills how many of them and for how long.

A batch fills what it is made and cooled in until it is ready, and what it is kept in until it is used. Meat
that lies in its brine fills its containers from the cover to the drain. Only recipes that name one count.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import pairwise

from board.batches.chill import pots_for
from board.house.model import ChillWay, Container, House, Recipe, StepRule
from board.planning.batches.covering import covered_in, covers
from board.planning.batches.made_for import kept_for
from board.planning.plan import Draw, PlannedBatch, PlannedLoad, PlannedStep


@dataclass(frozen=True)
class Filled:
    """So many of a container taken, from when until when, by `kg` of a batch; for `load` with its meat in it.

    `room_kg` is what that takes of the walk-in beside the meat, nought where it does not stand there.
    """

    container: str
    count: int
    since: datetime
    until: datetime
    kg: float
    batch: str
    load: str = ""
    room_kg: float = 0.0


@dataclass(frozen=True)
class Lacking:
    """A span in which more of a container are asked for than there are, and by which batches and loads."""

    container: str
    since: datetime
    until: datetime
    asked: int
    batches: tuple[str, ...]
    loads: tuple[str, ...]


def fillings(
    house: House,
    loads: Sequence[PlannedLoad],
    steps: Sequence[PlannedStep],
    batches: Sequence[PlannedBatch],
    draws: Sequence[Draw] = (),
) -> Iterator[Filled]:
    """Every container that these batches, and these loads in their brines, take."""
    of_load, made = _by_load(steps), {step.batch: step for step in steps if step.what == "make"}
    known = {load.id: load for load in loads}
    brine_kg: dict[tuple[str, str], float] = defaultdict(float)
    from_batch: dict[tuple[str, str], str] = {}
    taken = [(draw.batch, draw.recipe, draw.load, draw.kg) for draw in draws]
    for batch in batches:
        taken += [(batch.id, batch.recipe, load, kg) for load, kg in kept_for(house, batch, known).items()]
    uses: dict[str, list[Filled]] = defaultdict(list)
    for batch_id, recipe_id, load, kg in taken:
        if load in known and (recipe := _counted(house, recipe_id)):
            brine_kg[load, recipe_id] += kg
            from_batch.setdefault((load, recipe_id), batch_id)
            uses[batch_id] += _use(house, known[load], of_load[load], recipe, kg)
    for batch in batches:
        if recipe := _counted(house, batch.recipe):
            begun = made[batch.id].at if batch.id in made else batch.make_by
            yield from _of_batch(
                house, batch, recipe, begun, sorted(uses[batch.id], key=lambda use: use.since)
            )
    for (load, recipe_id), kg in brine_kg.items():
        recipe = house.recipes[recipe_id]
        if covers(recipe):
            lying = _use(house, known[load], of_load[load], recipe, kg)
            yield from (replace(use, batch=from_batch[load, recipe_id]) for use in lying)


def uses_of(
    house: House, loads: Sequence[PlannedLoad], steps: Sequence[PlannedStep], batches: Sequence[PlannedBatch]
) -> Iterator[tuple[PlannedBatch, str, datetime]]:
    """Each batch with each load that takes of it, and when."""
    of_load, known = _by_load(steps), {load.id: load for load in loads}
    for batch in (batch for batch in batches if batch.recipe in house.recipes):
        for load, kg in kept_for(house, batch, known).items():
            if load not in known or kg <= 0:
                continue
            if step := _taking(house, known[load], of_load[load], batch.recipe):
                yield batch, load, step.at


def _counted(house: House, recipe_id: str) -> Recipe | None:
    """A recipe that asks for a container or for cold, none that is in neither."""
    recipe = house.recipes.get(recipe_id)
    return recipe if recipe and (recipe.cools_in or recipe.chill) else None


def _by_load(steps: Iterable[PlannedStep]) -> dict[str | None, list[PlannedStep]]:
    found: dict[str | None, list[PlannedStep]] = defaultdict(list)
    for step in sorted(steps, key=lambda step: step.at):
        found[step.load].append(step)
    return found


def _use(
    house: House, load: PlannedLoad, steps: Sequence[PlannedStep], recipe: Recipe, kg: float
) -> Iterator[Filled]:
    """When a load takes from a batch, and where it then lies in it."""
    step = _taking(house, load, steps, recipe.id)
    if step is None:
        return
    if not covers(recipe):
        yield Filled("", 0, step.at, step.at, kg, "", load.id)
        return
    kinds = {rule.what for rule in _prep(house, load)}
    later = [one.at for one in steps if one.at > step.at and one.what in kinds]
    tub = house.containers[recipe.container or ""]
    pieces = max(1, load.pieces)
    number = covered_in(tub, pieces, load.mass_kg / pieces, kg)
    room = kg if tub.space_kg is None else max(0.0, number * tub.space_kg - load.mass_kg)
    yield Filled(tub.id, number, step.at, min([*later, load.load_at]), kg, "", load.id, room)


def _taking(
    house: House, load: PlannedLoad, steps: Iterable[PlannedStep], recipe_id: str
) -> PlannedStep | None:
    """The step of a load that takes from a batch of a recipe, the first of its steps that does."""
    finish = house.items[load.item].finish if load.item in house.items else ()
    taking = {rule.what for rule in (*_prep(house, load), *finish) if rule.recipe == recipe_id}
    return next((step for step in steps if step.what in taking), None)


def _prep(house: House, load: PlannedLoad) -> tuple[StepRule, ...]:
    return house.cuts[load.cut].prep if load.cut in house.cuts else ()


def _of_batch(
    house: House, batch: PlannedBatch, recipe: Recipe, begun: datetime, uses: Sequence[Filled]
) -> Iterator[Filled]:
    """What a batch fills from its making until the last of it is used."""
    cold = recipe.chill is ChillWay.WALK_IN
    pot, tub = house.pot_of(recipe), house.containers.get(recipe.container or "")
    if begun < batch.ready_from:
        yield _filled(batch, pot, (begun, batch.ready_from), batch.amount_kg, cold=cold)
    last = uses[-1].since if uses else batch.ready_from
    left, ends = batch.amount_kg, [batch.ready_from, *(use.since for use in uses), last]
    for (since, until), use in zip(pairwise(ends), [*uses, None], strict=False):
        if since < until:
            yield _filled(batch, tub, (since, until), left, cold=recipe.kind.value in {"brine", "cure"})
        left = max(0.0, left - (use.kg if use else 0.0))


def _filled(
    batch: PlannedBatch, pot: Container | None, span: tuple[datetime, datetime], kg: float, *, cold: bool
) -> Filled:
    number = pots_for(kg, pot) if pot else 0
    space = number * pot.space_kg if pot and pot.space_kg is not None else kg
    return Filled(
        pot.id if pot else "", number, span[0], span[1], kg, batch.id, room_kg=space if cold else 0.0
    )


def lacking(house: House, filled: Iterable[Filled]) -> Iterator[Lacking]:
    """The spans in which more of a container is asked for than the house has."""
    by_container: dict[str, list[Filled]] = defaultdict(list)
    for one in filled:
        if one.container in house.containers and one.count > 0 and one.since < one.until:
            by_container[one.container].append(one)
    for container, here in sorted(by_container.items()):
        yield from _lacking_of(house.containers[container], here)


def _lacking_of(container: Container, here: Sequence[Filled]) -> Iterator[Lacking]:
    moments = sorted({moment for one in here for moment in (one.since, one.until)})
    open_: Lacking | None = None
    for since, until in pairwise(moments):
        now = [one for one in here if one.since <= since < one.until]
        asked = sum(one.count for one in now)
        if asked <= container.count:
            if open_:
                yield open_
            open_ = None
            continue
        batches = tuple(one.batch for one in now if not one.load)
        loads = tuple(one.load for one in now if one.load)
        if open_:
            batches, loads = (*open_.batches, *batches), (*open_.loads, *loads)
        open_ = Lacking(
            container=container.id,
            since=open_.since if open_ else since,
            until=until,
            asked=max(asked, open_.asked) if open_ else asked,
            batches=tuple(dict.fromkeys(batches)),
            loads=tuple(dict.fromkeys(loads)),
        )
    if open_:
        yield open_
