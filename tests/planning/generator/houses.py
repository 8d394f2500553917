"""Whole houses drawn from a seed, as tight as asked for."""

from collections.abc import Mapping
from datetime import date, time
from math import floor
from random import Random

from board.house.model import Cut, Display, Hold, House, Item, Pit, Recurrence, Service
from tests.planning.generator.crew import crew_of
from tests.planning.generator.menu import Dish, cuts_of, items_of, menu_of, recipes
from tests.planning.generator.pits import pits_of
from tests.planning.generator.sizes import SIZES, Size

DAY = date(2026, 6, 10)
_FIRST = date(2026, 6, 1)
# Small loads share a fire: pieces a load, as a share of what the planner would put on one pit at most.
_FILL = (0.2, 0.45)
_OPENS = (time(11), time(17), time(12), time(18), time(13), time(16), time(19), time(14, 30))


def random_house(size: str | Size, seed: int, tightness: float = 1.0) -> House:
    """A house of a size, of `SIZES` by its name or another: the same for the same seed.

    Args:
        tightness: promises by the pits, benches and holds there are; at 1 a day should mostly be possible,
            at 1.6 mostly not.
    """
    of = SIZES[size] if isinstance(size, str) else size
    name = size if isinstance(size, str) else f"of {of.loads} loads"
    draw = Random(f"{name} {seed}")
    pits, dishes = pits_of(draw, of.pits), menu_of(draw, of.items)
    cuts, items = cuts_of(dishes), items_of(draw, dishes)
    people, shifts = crew_of(draw, of)
    services = _services(draw, of, pits, dishes, items, cuts, tightness)
    return House(
        id=f"{name.replace(' ', '-')}-{seed}",
        name=f"{name.capitalize()} {seed}",
        zone=draw.choice(["America/Chicago", "Europe/Berlin", "UTC"]),
        altitude_m=200.0,
        chance=0.9,
        display=Display(),
        wage_per_hour=18.0,
        pits=pits,
        holds=_holds(pits),
        walk_in_kg=45.0 * of.loads,
        cuts=cuts,
        items=items,
        recipes=recipes(),
        people=people,
        shifts=shifts,
        services=services,
    )


def _holds(pits: Mapping[str, Pit]) -> dict[str, Hold]:
    """A bench and two cabinets for every dozen pits, with room for about what they hold together."""
    grate = sum(pit.area_m2 for pit in pits.values())
    groups = 1 + len(pits) // 12
    found = {}
    for n in range(groups):
        found[f"bench-{n}"] = Hold(f"bench-{n}", f"Bench {n}", 0.8 * grate / groups)
        found[f"tall-{n}"] = Hold(f"tall-{n}", f"Tall {n}", 0.7 * grate / groups, 65.0)
        found[f"short-{n}"] = Hold(f"short-{n}", f"Short {n}", 0.4 * grate / groups, 63.0)
    return found


def _services(
    draw: Random,
    of: Size,
    pits: Mapping[str, Pit],
    dishes: tuple[Dish, ...],
    items: Mapping[str, Item],
    cuts: Mapping[str, Cut],
    tightness: float,
) -> dict[str, Service]:
    """Services (of a commissary: outlets) that together ask for about the wanted number of loads."""
    pairs = [(n, dish) for n in range(of.services) for dish in dishes]
    weights = [dish.weight for _, dish in pairs]
    loads: dict[tuple[int, str], int] = {}
    first = draw.sample(pairs, min(len(pairs), of.loads))
    for n, dish in [*first, *draw.choices(pairs, weights, k=of.loads - len(first))]:
        loads[n, dish.item] = loads.get((n, dish.item), 0) + 1
    largest = max(pit.area_m2 for pit in pits.values())
    promises: dict[int, dict[str, int]] = {n: {} for n in range(of.services)}
    for (n, name), k in loads.items():
        cut = cuts[items[name].cut]
        most = max(1, floor(largest / 2 / cut.area_m2))
        pieces = max(1.0, most * (k - 1 + draw.uniform(*_FILL))) * tightness
        promises[n][name] = max(1, floor(pieces * _portions(items[name], cut) * 0.93))
    return {f"service-{n}": _service(n, each) for n, each in promises.items() if each}


def _portions(item: Item, cut: Cut) -> float:
    """The portions one piece usually gives."""
    if item.portions_a_piece is not None:
        return item.portions_a_piece
    return cut.mass_kg.usual * cut.yields.raw_to_served / (item.portion_kg or 1.0)


def _service(n: int, promises: Mapping[str, int]) -> Service:
    opens = Recurrence(_FIRST, _OPENS[n % len(_OPENS)], 150.0, "FREQ=DAILY")
    return Service(f"service-{n}", f"service {n}", opens, promises)
