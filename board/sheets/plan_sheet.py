"""A day's plan as a page of plain text: loads, steps, batches and what will be short."""

from collections.abc import Container, Iterator
from textwrap import wrap

from board.house.calendar import local
from board.house.model import ChillWay, House, Recipe
from board.house.units import format_mass, format_temperature
from board.house.wording import clock_time, count, day_name, duration, short_day
from board.planning.asked import asked_c
from board.planning.cooked.words import said
from board.planning.plan import CookedBy, Draw, Plan, PlannedLoad, PlannedStep
from board.views.cautions import by_topic, of_topic
from board.views.cooked import all_by_pull
from board.views.names import spot_name
from board.views.worth import chances, costs, nearness, unsure

_WIDTH = 110


def plan_sheet(plan: Plan, house: House, *, why: bool = False, pinned: Container[str] = frozenset()) -> str:
    """The plan for the wall; with `why`, the account under each load; pinned loads, by id, say so."""
    lines = [f"{house.name}, {day_name(plan.day)}", *_headline(plan)]
    lines += ["", "Loads"]
    for load in plan.loads:
        lines += _load_lines(load, house, pinned=load.id in pinned)
        lines += list(_rest_lines(plan, load, house))
        lines += [f"        {line}" for line in plan.why.get(load.id, ())] if why else []
    lines += ["", "Steps", *_step_lines(plan, house)]
    if plan.batches:
        lines += ["", "Batches"]
        lines += [_batch_line(plan, house, i) for i in range(len(plan.batches))]
    if plan.draws:
        lines += ["", "Taken of other batches", *(_drawn_line(plan, house, draw) for draw in plan.draws)]
    lines += ["", *(f"! {caution}" for caution in plan.cautions)] if plan.cautions else []
    lines += _mind_lines(plan, house)
    lines += _worth_lines(plan, house)
    lines += ["", *_short_lines(plan, house)]
    return "\n".join(lines) + "\n"


def _headline(plan: Plan) -> list[str]:
    if not plan.occasions:
        return ["Nothing is promised that day."]
    if not plan.loads:
        return ["No load can be placed."]
    worst = min(load.chance for load in plan.loads)
    sure = f"each ready in time at least {min(99, round(100 * worst))} times in 100"
    return ["; ".join(filter(None, (count(len(plan.loads), "load"), sure, nearness(plan)))) + "."]


def _load_lines(load: PlannedLoad, house: House, *, pinned: bool) -> list[str]:
    cut = house.cuts[load.cut]
    at = format_temperature(load.setpoint_c, house.display)
    ready = load.ready_at
    mass = format_mass(load.mass_kg, house.display)
    wrapped = f", wrapped {clock_time(load.wrap_at, house)}" if load.wrap_at else ""
    if load.turn_at is not None and load.then_c is not None:
        then = format_temperature(load.then_c, house.display)
        wrapped += f", {then} from {clock_time(load.turn_at, house)}"
    needed = f"needed {_when(load, house)} for {', '.join(_service_names(load, house))}"
    return [
        f"  {_clock_day(load, house):<16} {count(load.pieces, cut.name)}, {mass},"
        f" on {spot_name(house, load.pit, load.zone)} at {at}{', pinned' if pinned else ''}{wrapped}",
        f"                   off {clock_time(load.pull_at.p50, house)}, ready {clock_time(ready.p50, house)}"
        f" ({clock_time(ready.p10, house)} to {clock_time(ready.p90, house)}), {needed}:"
        f" {load.portions} portions, {100 * load.chance:.0f} in 100",
    ]


def _rest_lines(plan: Plan, load: PlannedLoad, house: House) -> Iterator[str]:
    """How a load is cooked safe, where its pull alone does not do it."""
    cooked = plan.cooked.get(load.id)
    if cooked is not None and cooked.by is not CookedBy.PULL:
        yield from (f"                   {line}" for line in wrap(said(house, load, cooked), _WIDTH - 19))


def _clock_day(load: PlannedLoad, house: House) -> str:
    return f"{short_day(local(load.load_at, house).date())} {clock_time(load.load_at, house)}"


def _when(load: PlannedLoad, house: House) -> str:
    return clock_time(load.needed_at, house)


def _service_names(load: PlannedLoad, house: House) -> list[str]:
    orders = {order.id: order.name for order in house.orders}
    services = {service.id: service.name for service in house.services.values()}
    return [services.get(s) or orders.get(s) or s for s in load.services]


def _step_lines(plan: Plan, house: House) -> Iterator[str]:
    day = None
    for step in plan.steps:
        moment = local(step.at, house)
        if moment.date() != day:
            day = moment.date()
            yield f"  {day_name(day)}"
        who = house.people[step.who].name if step.who else "nobody free"
        words = step_words(step, plan, house)
        yield f"    {clock_time(step.at, house)}  {words}, {duration(step.minutes)}, {who}"


def step_words(step: PlannedStep, plan: Plan, house: House) -> str:
    """A step as it is said: `load 12 briskets on North`, `light North to 118°`."""
    if step.batch is not None:
        batch = next(b for b in plan.batches if b.id == step.batch)
        most = "" if step.most_c is None else f": at most {format_temperature(step.most_c, house.display)}"
        amount = format_mass(batch.amount_kg, house.display)
        return f"{step.what} {house.recipes[batch.recipe].name}, {amount}{most}"
    if step.load is None:
        pit = house.pits[step.pit or ""]
        setpoint_c = asked_c(plan.loads, pit.id, step.at)
        to = "" if setpoint_c is None else f" to {format_temperature(setpoint_c, house.display)}"
        return f"{step.what} {pit.name}{to}"
    load = next(load for load in plan.loads if load.id == step.load)
    where = {"load": " on ", "pull": " from ", "wrap": " on "}.get(step.what)
    pit_words = f"{where}{spot_name(house, load.pit, load.zone)}" if where else ""
    return f"{step.what} {count(load.pieces, house.cuts[load.cut].name)}{pit_words}"


def _batch_line(plan: Plan, house: House, i: int) -> str:
    batch = plan.batches[i]
    recipe, amount = house.recipes[batch.recipe], format_mass(batch.amount_kg, house.display)
    by, until = (
        f"{clock_time(t, house)} {short_day(local(t, house).date())}" for t in (batch.make_by, batch.use_by)
    )
    pot = house.containers.get(batch.vessel or "")
    pots = f" in {count(batch.vessels, pot.name)}" if pot else ""
    ice = _ice(recipe, format_mass(batch.ice_kg, house.display)) if batch.ice_kg > 0 else ""
    served = count(len(batch.loads), "load")
    return f"  {recipe.name}, {amount}{pots}: make by {by}, good until {until}, for {served}{ice}"


def _ice(recipe: Recipe, ice: str) -> str:
    return f", {ice} of its water as ice" if recipe.chill is ChillWay.ICE else f", {ice} of ice for its bath"


def _drawn_line(plan: Plan, house: House, draw: Draw) -> str:
    """What a load takes of a batch that was made for others."""
    load = next(load for load in plan.loads if load.id == draw.load)
    meat = count(load.pieces, house.cuts[load.cut].name)
    amount = format_mass(draw.kg, house.display)
    return f"  {house.recipes[draw.recipe].name}, {amount} left of {draw.batch}: for {meat}"


def _mind_lines(plan: Plan, house: House) -> list[str]:
    """What to mind at which kinds of step, a caution a topic."""
    lines = []
    for topic, whats in by_topic(house, plan).items():
        first, *more = wrap(f"{', '.join(whats)}: {of_topic(house, topic)[0]}", _WIDTH - 2)
        lines += [f"  {first}", *(f"    {line}" for line in more)]
    return ["", "Mind", *lines] if lines else []


def _worth_lines(plan: Plan, house: House) -> list[str]:
    """How sure each service is, and what the plan costs."""
    lines: list[str] = []
    if plan.risks:
        lines += ["", "In time", *(f"  {says}" for says in chances(plan, house))]
    spent = list(costs(plan, house))
    return [*lines, "", "What it costs", *(f"  {says}" for says in spent)] if spent else lines


def _short_lines(plan: Plan, house: House) -> Iterator[str]:
    if not plan.short:
        yield " ".join(filter(None, ("Nothing is short.", all_by_pull(plan))))
    for says in unsure(plan):
        yield f"Less sure than wanted: {says}."
    names = {occasion.id: occasion.name for occasion in plan.occasions}
    for short in plan.short:
        item = house.items[short.item].name if short.item in house.items else short.item
        yield f"Short: {names[short.service]} lacks {short.portions} portions of {item}: {short.why}."
        for cure in short.cure:
            yield f"    would help: {cure}"
