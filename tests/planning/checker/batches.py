"""Goes over a plan's batches: enough for what they serve, good when used, cooled in time, in pots enough."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime, timedelta
from math import ceil, exp, floor, log

from board.batches.served import dose_kg
from board.house.model import Container, House, Recipe, StepRule
from board.planning.plan import Plan, PlannedBatch, PlannedLoad, PlannedStep

SLACK = timedelta(minutes=5)
# A plan's document keeps masses to 1 g.
ROUNDS_KG = 2e-3
# A boiled brine off the heat; the rule of cooling: from 57 to 21 °C in 2 h, to 5 °C in 6 h in all.
OFF_THE_HEAT_C, FROM_C, FIRST, ALL = 95.0, 57.0, (21.0, 120.0), (5.0, 360.0)
AROUND_C = {"ice-bath": 0.0, "walk-in": 3.0}
# W/m2K and the wetted metal of 20 L, m2
LOSES = {"ice-bath": (100.0, 0.38), "walk-in": (8.0, 0.5)}


def batch_faults(plan: Plan, house: House) -> Iterator[str]:
    """Everything wrong with what is made, and with what is taken of it."""
    for load in plan.loads:
        yield from _served(plan, house, load)
    for batch in plan.batches:
        yield from _amounts(plan, batch)
        yield from _made(plan, house, batch)
        yield from _cooled(plan, house, batch)
    yield from _pots(plan, house)


def _rules(house: House, load: PlannedLoad) -> list[StepRule]:
    finish = house.items[load.item].finish if load.item in house.items else ()
    return [rule for rule in (*house.cuts[load.cut].prep, *finish) if rule.recipe]


def _served(plan: Plan, house: House, load: PlannedLoad) -> Iterator[str]:
    """Each step that uses a recipe finds enough of it, and good."""
    for recipe in dict.fromkeys(rule.recipe for rule in _rules(house, load)):
        rules = [rule for rule in _rules(house, load) if rule.recipe == recipe]
        got = list(_takings(plan, load, recipe or ""))
        if not got:
            yield f"{load.id}: no batch of {recipe}"
            continue
        one = dose_kg(
            house.recipes[recipe or ""], house.cuts[load.cut], load.pieces, load.mass_kg / load.pieces
        )
        need, kg = one * len(rules), sum(part for part, *_ in got)
        if kg < need * (1 - 2e-3) - ROUNDS_KG:
            yield f"{load.id}: {kg:.3f} kg of {recipe} for {need:.3f}"
        for rule in rules:
            step = _step(plan, load, rule.what)
            if step and not any(first <= step.at <= last for _, first, last in got):
                yield f"{load.id}: {recipe} is not good when {rule.what} begins"


def _takings(plan: Plan, load: PlannedLoad, recipe: str) -> Iterator[tuple[float, datetime, datetime]]:
    """What a load takes of a recipe, from when and until when that is good."""
    for batch in plan.batches:
        if batch.recipe == recipe and load.id in batch.loads:
            yield _each(plan, batch)[load.id], batch.ready_from, batch.use_by
    for draw in plan.draws:
        if draw.recipe == recipe and draw.load == load.id:
            yield draw.kg, draw.ready_from, draw.use_by


def _each(plan: Plan, batch: PlannedBatch) -> dict[str, float]:
    if len(batch.each_kg) == len(batch.loads):
        return dict(zip(batch.loads, batch.each_kg, strict=True))
    mass = {load.id: load.mass_kg for load in plan.loads if load.id in batch.loads}
    return {load: batch.amount_kg * mass.get(load, 0.0) / sum(mass.values()) for load in batch.loads}


def _amounts(plan: Plan, batch: PlannedBatch) -> Iterator[str]:
    """No more is taken than is made, other days' takings with it."""
    taken = sum(_each(plan, batch).values()) + sum(d.kg for d in plan.draws if d.batch == batch.id)
    if taken > batch.amount_kg * (1 + 2e-3) + ROUNDS_KG * (1 + len(batch.loads)):
        yield f"{batch.id}: {batch.amount_kg} kg for {taken:.3f} kg that are taken"


def _made(plan: Plan, house: House, batch: PlannedBatch) -> Iterator[str]:
    makes = [step for step in plan.steps if step.batch == batch.id and step.what == "make"]
    if len(makes) != 1 or makes[0].ends_at > batch.make_by:
        late = [caution for caution in plan.cautions if "is ready only at" in caution]
        if len(makes) != 1 or not late:
            yield f"{batch.id}: not made by {batch.make_by}"
    recipe = house.recipes[batch.recipe]
    id = recipe.vessel or recipe.container
    pot = house.containers[id] if id is not None else None
    if pot is not None and batch.vessels * pot.takes_kg < batch.amount_kg - ROUNDS_KG:
        yield f"{batch.id}: {batch.vessels} {pot.name} are overfull with {batch.amount_kg} kg"


def _cooled(plan: Plan, house: House, batch: PlannedBatch) -> Iterator[str]:
    """A boiled brine is set to cool, read at the rule's marks, and ready no sooner than it can be cold."""
    recipe = house.recipes[batch.recipe]
    make = next((s for s in plan.steps if s.batch == batch.id and s.what == "make"), None)
    if recipe.chill is None or make is None:
        return
    off = make.ends_at + timedelta(minutes=recipe.boil_minutes)
    starts = [s for s in plan.steps if s.batch == batch.id and s.what == "chill"]
    reads = [s for s in plan.steps if s.batch == batch.id and s.what == "check"]
    if not starts or not off <= starts[0].at <= off + 7 * SLACK:
        yield f"{batch.id}: not set to cool at {off}"
    if not reads or min(s.most_c or 99.0 for s in reads) > ALL[0]:
        yield f"{batch.id}: no reading shows it cold"
    told = any("cools too slowly" in says and recipe.name in says for says in plan.cautions)
    if recipe.chill == "ice":
        yield from _iced(batch, recipe, told=told)
        return
    pot = house.containers.get(recipe.vessel or recipe.container or "")
    if pot is None:
        return
    tau = _tau(batch, pot, recipe.chill.value)

    def minutes(first: float, last: float) -> float:
        around = AROUND_C[recipe.chill.value if recipe.chill else ""]
        return tau * log((first - around) / (last - around))

    slow = minutes(FROM_C, FIRST[0]) > FIRST[1] * 1.001 or minutes(FROM_C, ALL[0]) > ALL[1] * 1.001
    if slow != told:
        yield f"{batch.id}: cooling is {'too slow and not told' if slow else 'told as too slow'}"
    begins = off + timedelta(minutes=minutes(OFF_THE_HEAT_C, FROM_C))
    for most, within in (FIRST, ALL):
        latest = begins + timedelta(minutes=within)
        if not any(s.most_c is not None and s.most_c <= most + 0.2 and s.at <= latest for s in reads):
            yield f"{batch.id}: no reading of {most} C by {latest}"
    cold = (batch.ready_from - off).total_seconds() / 60
    at_c = AROUND_C[recipe.chill] + (OFF_THE_HEAT_C - AROUND_C[recipe.chill]) * exp(-cold / tau)
    if at_c > recipe.chilled_to_c + 0.1:
        yield f"{batch.id}: {at_c:.1f} C when it is told as ready"


def _iced(batch: PlannedBatch, recipe: Recipe, *, told: bool) -> Iterator[str]:
    """Half of a boiled brine is ice, less of a strong one, unless its water is told to be too little."""
    if not told and not 0.38 * batch.amount_kg <= batch.ice_kg <= 0.56 * batch.amount_kg:
        yield f"{batch.id}: {batch.ice_kg} kg of ice in {batch.amount_kg} kg of {recipe.name}"


def _tau(batch: PlannedBatch, pot: Container, way: str) -> float:
    """Minutes in which what is left to cool falls to 1/e."""
    kg = batch.amount_kg / max(1, batch.vessels)
    known = {str(key.value): value for key, value in pot.ua_w_k.items()}
    u, area = LOSES[way]
    ua = known.get(way, u * area * (pot.litres / 20.0) ** (2 / 3)) * (kg / pot.takes_kg) ** (2 / 3)
    return kg * 4016.0 / ua / 60.0


def _pots(plan: Plan, house: House) -> Iterator[str]:
    """No more of a container is filled at once than there are, unless that is told."""
    filled = list(_fillings(plan, house))
    for pot in house.containers.values():
        told = any("would be full" in says and pot.name in says for says in plan.cautions)
        here = [(since, until, n) for id, since, until, n in filled if id == pot.id and since < until]
        most = max((sum(n for a, b, n in here if a <= at < b) for at, _, _ in here), default=0)
        if (most > pot.count) != told:
            yield f"{most} {pot.name} are filled at once of {pot.count}, {'told' if told else 'not told'}"


def _fillings(plan: Plan, house: House) -> Iterator[tuple[str, datetime, datetime, int]]:
    for batch in plan.batches:
        recipe = house.recipes[batch.recipe]
        made_in, kept_in = recipe.vessel or recipe.container, recipe.container
        if made_in:
            yield made_in, _begun(plan, batch), batch.ready_from, batch.vessels
        for since, until, left in _kept(plan, house, batch) if kept_in else ():
            yield kept_in, since, until, ceil(left / house.containers[kept_in].takes_kg - 1e-6)
    for load, recipe, kg in _brines(plan, house):
        yield from _lying(plan, house, load, recipe, kg)


def _begun(plan: Plan, batch: PlannedBatch) -> datetime:
    return next((s.at for s in plan.steps if s.batch == batch.id and s.what == "make"), batch.make_by)


def _kept(plan: Plan, house: House, batch: PlannedBatch) -> Iterator[tuple[datetime, datetime, float]]:
    """How much of a batch is there, from ready until all that takes of it has."""
    known = {load.id: load for load in plan.loads}
    taken = [*_each(plan, batch).items(), *((d.load, d.kg) for d in plan.draws if d.batch == batch.id)]
    uses = [
        (step.at, kg)
        for load, kg in taken
        if load in known and (step := _taking(plan, house, known[load], batch.recipe))
    ]
    since, left = batch.ready_from, batch.amount_kg
    for at, kg in sorted(uses):
        yield since, at, left
        since, left = max(since, at), left - kg


def _brines(plan: Plan, house: House) -> Iterator[tuple[PlannedLoad, Recipe, float]]:
    """Each load with each recipe and all it takes of it."""
    kg: dict[tuple[str, str], float] = defaultdict(float)
    for draw in plan.draws:
        kg[draw.load, draw.recipe] += draw.kg
    for batch in plan.batches:
        for load, part in _each(plan, batch).items():
            kg[load, batch.recipe] += part
    known = {load.id: load for load in plan.loads}
    return ((known[load], house.recipes[r], each) for (load, r), each in kg.items() if load in known)


def _lying(
    plan: Plan, house: House, load: PlannedLoad, recipe: Recipe, kg: float
) -> Iterator[tuple[str, datetime, datetime, int]]:
    """The containers of meat in its brine: whole pieces, each with its share, until its next step."""
    span = in_brine(plan, house, load, recipe)
    if span is not None and recipe.container:
        pot = house.containers[recipe.container]
        per = floor(pot.takes_kg / ((load.mass_kg + kg) / load.pieces) + 1e-6)
        yield pot.id, *span, ceil(load.pieces / per) if per else load.pieces


def in_brine(plan: Plan, house: House, load: PlannedLoad, recipe: Recipe) -> tuple[datetime, datetime] | None:
    """From when until when a load lies in a recipe; None for what is rubbed in, brushed on or injected."""
    injected = recipe.immersed_minutes is None or (recipe.pickup > 0 and recipe.use_kg_a_kg < 0.25)
    liquid = recipe.kind in {"brine", "cure"} and any(i.role == "water" for i in recipe.ingredients)
    step = _taking(plan, house, load, recipe.id)
    if injected or not liquid or recipe.container is None or step is None:
        return None
    kinds = {rule.what for rule in house.cuts[load.cut].prep}
    later = [s.at for s in plan.steps if s.load == load.id and s.what in kinds and s.at > step.at]
    return step.at, min([*later, load.load_at])


def _taking(plan: Plan, house: House, load: PlannedLoad, recipe: str) -> PlannedStep | None:
    kinds = [rule.what for rule in _rules(house, load) if rule.recipe == recipe]
    return next((step for what in kinds if (step := _step(plan, load, what))), None)


def _step(plan: Plan, load: PlannedLoad, what: str) -> PlannedStep | None:
    return next((s for s in plan.steps if s.load == load.id and s.what == what), None)


def cold_brine(plan: Plan, house: House) -> Iterator[tuple[datetime, datetime, float]]:
    """What batches take of the walk-in beside the meat: from ready until used, and with the meat in them."""
    for batch in plan.batches:
        recipe = house.recipes[batch.recipe]
        if recipe.vessel is None and recipe.container is None and recipe.chill is None:
            continue
        if recipe.chill == "walk-in":
            made_in = recipe.vessel or recipe.container
            yield _begun(plan, batch), batch.ready_from, _room(house, made_in, batch.amount_kg)
        if recipe.kind in {"brine", "cure"}:
            for since, until, left in _kept(plan, house, batch):
                yield since, until, _room(house, recipe.container, left)
    for load, recipe, kg in _brines(plan, house):
        for id, since, until, number in _lying(plan, house, load, recipe, kg):
            space = house.containers[id].space_kg
            yield since, until, kg if space is None else max(0.0, number * space - load.mass_kg)


def _room(house: House, container: str | None, kg: float) -> float:
    pot = house.containers[container] if container else None
    return kg if pot is None or pot.space_kg is None else ceil(kg / pot.takes_kg - 1e-6) * pot.space_kg
