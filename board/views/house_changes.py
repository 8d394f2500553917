"""What another reading of the house's files changes: in words, for plans, and for what is under way."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields

from board.house.model import House
from board.house.wording import count, in_list, plural
from board.ledger.state import BatchStage, LoadStage
from board.planning.plan import Plan
from board.views import names
from board.views.days import near_day
from board.views.facts import Facts, all_loads, batch_state, find_batch, load_state

_KINDS = {
    "pits": "pit",
    "holds": "hold",
    "cuts": "cut",
    "items": "item",
    "recipes": "recipe",
    "people": "person",
    "services": "service",
    "containers": "container",
    "probes": "probe",
}
_WORDS = {
    "alarms": "alarms",
    "altitude_m": "altitude",
    "animal": "animal",
    "area_m2": "area",
    "can": "steps they do",
    "breaks": "breaks",
    "chance": "chance",
    "change_over_minutes": "change-over",
    "checks": "checks",
    "composition": "composition",
    "control_band_c": "control band",
    "cooks": "past cooks",
    "cut": "cut",
    "display": "units and clock",
    "door_minutes": "what an open door costs",
    "finish": "work before the plate",
    "fuel": "fuel",
    "fuel_kg_per_hour": "fuel rate",
    "handling": "handling",
    "hold_longest_minutes": "longest hold",
    "ingredients": "ingredients",
    "jurisdiction": "jurisdiction",
    "keeping": "what is kept of the feed",
    "keeps_minutes": "how long it keeps",
    "kind": "kind",
    "light_work": "work to light it",
    "load_work": "work to load it",
    "mass_kg": "weight of a piece",
    "make_work": "work to make it",
    "name": "name",
    "notes": "notes",
    "orders": "orders",
    "out_of_use": "times out of use",
    "people": "people",
    "pickup": "pickup",
    "pit_c": "pit temperature",
    "place": "place",
    "portion_kg": "portion",
    "portions_a_piece": "portions a piece",
    "prep": "work before the pit",
    "price": "price",
    "promises": "promises",
    "pull_core_c": "pull",
    "pull_work": "work to pull it",
    "ready_after_minutes": "when it is ready",
    "rest_minutes": "rest",
    "reads": "what it reads",
    "sales": "past sales",
    "scales": "scales",
    "sent_as": "names its messages give",
    "setpoint_c": "setpoint",
    "shifts": "shifts",
    "signs_with_pin": "whether signing asks for a PIN",
    "silent_minutes": "when it counts as silent",
    "size": "size",
    "start_c": "core when loaded",
    "takes": "cuts it takes",
    "tend_fraction": "tending",
    "unit": "unit",
    "wage_per_hour": "wage",
    "walk_in_kg": "walk-in",
    "warm_up_minutes": "warm-up",
    "weighing": "weighing",
    "when": "times",
    "wrap": "wrap",
    "yields": "yields",
    "zone": "time zone",
    "zones": "zones",
}
_OTHER = "particulars"
_FOLLOWS = {"fuel_kg_per_hour": "area_m2"}  # reckoned from the other where the house does not say
_OF_NO_PLAN = {
    "name",
    "display",
    "sales",
    "checks",
    "scales",
    "cooks",
    "signs_with_pin",
    "probes",
    "keeping",
}  # a plan stays as good as it was
MOST = 3
_ON_A_PIT = (LoadStage.ON, LoadStage.WRAPPED)


def what_changed(before: House, now: House) -> str:
    """What is different in the house, in few words; empty where nothing is."""
    said = [*_things(before, now), *_rest(before, now)]
    more = [f"{len(said) - MOST} more"] if len(said) > MOST else []
    return in_list([*said[:MOST], *more])


def matters_to_plans(before: House, now: House) -> bool:
    """Whether a plan made before might come out otherwise now."""
    return any(name not in _OF_NO_PLAN for name in _differing(before, now))


def under_way(facts: Facts, now: House) -> str:
    """What the new files take away from work that is under way; empty where nothing is."""
    for plan, load in all_loads(facts):
        stage = load_state(facts, load, plan.day).stage
        needed = {"cuts": load.cut, "pits": load.pit} if stage in _ON_A_PIT else {}
        for kind, id in needed.items():
            if id in getattr(facts.house, kind) and id not in getattr(now, kind):
                gone = _name(getattr(facts.house, kind)[id])
                return f"{kind}.toml: {gone} is gone, but {names.pieces(facts.house, load)} are on the pit"
    for (day, id), ticks in facts.weighed.items():
        batch = find_batch(facts.plans.get(day), id)
        if batch is None or not ticks or batch_state(facts, batch, day).stage is not BatchStage.DUE:
            continue
        recipe = facts.house.recipes.get(batch.recipe)
        if recipe is not None and now.recipes.get(batch.recipe) != recipe:
            return f"recipes.toml: {recipe.name} is another, but some of it is on the scale"
    return ""


def still_planned(facts: Facts, now: House) -> str:
    """What the new files leave out though a plan ahead has it; empty where nothing is."""
    for day, plan in sorted(facts.plans.items()):
        for kind, ids in _used(plan).items():
            had, has = getattr(facts.house, kind), getattr(now, kind)
            gone = [_name(had[id]) for id in dict.fromkeys(ids) if id in had and id not in has]
            if gone and day >= facts.today:
                return f"the plan for {near_day(facts, day)} still has {in_list(gone)}"
    return ""


def _used(plan: Plan) -> dict[str, Sequence[str]]:
    """The ids that a plan refers to, by what they are of."""
    loads = plan.loads
    return {
        "pits": [load.pit for load in loads],
        "cuts": [load.cut for load in loads],
        "items": [load.item for load in loads if load.item],
        "holds": [place for load in loads for place in (load.bench, load.hold) if place],
        "recipes": [batch.recipe for batch in plan.batches],
    }


def _differing(before: object, now: object) -> list[str]:
    """The fields in which two of a kind differ."""
    return [f.name for f in fields(before) if getattr(before, f.name) != getattr(now, f.name)]  # type: ignore[arg-type]


def _things(before: House, now: House) -> Iterator[str]:
    for kind, called in _KINDS.items():
        old: Mapping[str, object] = getattr(before, kind)
        new: Mapping[str, object] = getattr(now, kind)
        more = [_name(new[id]) for id in new if id not in old]
        if more:
            yield f"a {called} more, {more[0]}" if len(more) == 1 else f"new {plural(called)} {in_list(more)}"
        for id in new:
            if id in old and old[id] != new[id]:
                yield f"{in_list(_words(_differing(old[id], new[id])))} of {_name(new[id])}"
        for id in old:
            if id not in new:
                yield f"no {_name(old[id])} any more"


def _rest(before: House, now: House) -> Iterator[str]:
    for name in _differing(before, now):
        if name == "orders":
            yield count(len(now.orders), "order")
        elif name not in _KINDS:
            yield _WORDS.get(name, _OTHER)


def _words(names: Sequence[str]) -> list[str]:
    """Fields as a cook calls them, without those that only follow from others."""
    told = [name for name in names if _FOLLOWS.get(name) not in names]
    return list(dict.fromkeys(_WORDS.get(name, _OTHER) for name in told))


def _name(thing: object) -> str:
    return str(getattr(thing, "name", thing))
