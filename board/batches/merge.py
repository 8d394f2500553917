"""The fewest makings of each recipe that serve every load inside the batch's keeping time.

A making that ends at m can serve a use at u when m + ready_after ≤ u ≤ m + keeps, so each use is an
interval of moments and a set of makings is a set of points that stabs every interval. Taking the
interval that closes first, and making at its close, needs the fewest points (the greedy rule for
interval stabbing; it holds on any ordered set of allowed moments, hence also inside shifts).

Where one making can be only so large, uses are packed into makings as well, which no quick rule does best:
the same rule is run with a few orders of filling each making, and the fewest makings are taken. Where all
that one moment serves fits into one making it is the rule above.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import groupby
from math import inf

from board.errors import BoardError
from board.house.model import Recipe

Window = tuple[datetime, datetime]


@dataclass(frozen=True, slots=True)
class BatchDemand:
    """A load's need of a recipe: how many kilograms and the moment (UTC) it is used."""

    recipe: str
    load_id: str
    kg: float
    used_at: datetime


@dataclass(frozen=True, slots=True)
class Making:
    """One making of a recipe and the loads it serves; moments are UTC.

    `make_from` and `make_by` are the earliest and latest end of making that serve all its loads;
    `ready_from` and `use_by` follow from making it at `make_by`. `staffed` is False where no
    moment inside the given windows would do. `each_kg` is what each of its loads takes.
    """

    recipe: str
    kg: float
    make_from: datetime
    make_by: datetime
    ready_from: datetime
    use_by: datetime
    loads: tuple[str, ...]
    staffed: bool = True
    each_kg: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class _Use:
    """A demand with the moments at which a making for it may end, in order."""

    demand: BatchDemand
    when: tuple[Window, ...]

    def allows(self, moment: datetime) -> bool:
        return any(start <= moment <= end for start, end in self.when)


_Order = Callable[[_Use], tuple[float, ...]]

# Sums of kilograms are compared to this share of them.
_ROUNDS = 1e-9


def _closes(use: _Use) -> datetime:
    return max(end for _, end in use.when)


def _soonest_closed(use: _Use) -> tuple[float, ...]:
    return _closes(use).timestamp(), -use.demand.kg


def _largest(use: _Use) -> tuple[float, ...]:
    return -use.demand.kg, _closes(use).timestamp()


def _smallest(use: _Use) -> tuple[float, ...]:
    return use.demand.kg, _closes(use).timestamp()


# How a making is filled: what closes soonest first, the largest first, the smallest first.
_ORDERS: tuple[_Order, ...] = (_soonest_closed, _largest, _smallest)


def ready_and_use_by(recipe: Recipe, made_at: datetime) -> Window:
    """From when and until when a batch may be used, both counted from the end of its making."""
    ready_from = made_at + timedelta(minutes=recipe.ready_after_minutes)
    return ready_from, made_at + timedelta(minutes=recipe.keeps_minutes)


def fewest_makings(
    demands: Sequence[BatchDemand],
    recipes: Mapping[str, Recipe],
    makeable: Sequence[Window] | None = None,
    most_kg: Mapping[str, float] | None = None,
) -> list[Making]:
    """Merge what loads need into the fewest makings of each recipe, each as late as it may be.

    `makeable` are the stretches in which someone can make a batch, start to end; None means any
    time. A use that no stretch allows gets a making outside them, marked not `staffed`, rather than
    silence. `most_kg` is what one making of a recipe may be at most, where it is limited; a use of more
    is cut in several. The result runs by `make_by`.

    Raises BoardError when a recipe is unknown or spoils before it is ready.
    """
    makings: list[Making] = []
    for recipe_id, group in groupby(sorted(demands, key=_demand_order), key=lambda d: d.recipe):
        recipe, most = _known(recipe_id, recipes), (most_kg or {}).get(recipe_id, inf)
        makings += _makings_of(recipe, _no_larger(group, most), makeable, most)
    return sorted(makings, key=lambda m: (m.make_by, m.recipe))


def _demand_order(demand: BatchDemand) -> tuple[str, datetime, str]:
    return demand.recipe, demand.used_at, demand.load_id


def _known(recipe_id: str, recipes: Mapping[str, Recipe]) -> Recipe:
    recipe = recipes.get(recipe_id)
    if recipe is None:
        raise BoardError(f"recipe {recipe_id!r} is not known; the recipes are {', '.join(sorted(recipes))}")
    if recipe.keeps_minutes < recipe.ready_after_minutes:
        raise BoardError(
            f"recipe {recipe_id!r}: keeps {recipe.keeps_minutes:g} min from its making but is ready only "
            f"after {recipe.ready_after_minutes:g} min; it must keep at least that long"
        )
    return recipe


def _no_larger(demands: Iterable[BatchDemand], most_kg: float) -> Iterator[BatchDemand]:
    """Every need in parts of what one making gives at most, the rest last."""
    for demand in demands:
        left = demand.kg
        while left > most_kg * (1 + _ROUNDS):
            yield replace(demand, kg=most_kg)
            left -= most_kg
        yield replace(demand, kg=left)


def _makings_of(
    recipe: Recipe, demands: Iterable[BatchDemand], makeable: Sequence[Window] | None, most_kg: float
) -> list[Making]:
    staffed: list[_Use] = []
    unstaffed: list[_Use] = []
    for demand in demands:
        any_time = _making_window(recipe, demand)
        if makeable is None:
            staffed.append(_Use(demand, (any_time,)))
        elif inside := _inside_shifts(any_time, recipe, makeable):
            staffed.append(_Use(demand, inside))
        else:
            unstaffed.append(_Use(demand, (any_time,)))
    return _fewest(recipe, staffed, most_kg, staffed=True) + _fewest(
        recipe, unstaffed, most_kg, staffed=False
    )


def _making_window(recipe: Recipe, demand: BatchDemand) -> Window:
    """The ends of making that serve this use, whoever is there."""
    return (
        demand.used_at - timedelta(minutes=recipe.keeps_minutes),
        demand.used_at - timedelta(minutes=recipe.ready_after_minutes),
    )


def _inside_shifts(window: Window, recipe: Recipe, makeable: Sequence[Window]) -> tuple[Window, ...]:
    """The parts of the window in which a whole making fits into a stretch of someone's time."""
    work = timedelta(minutes=recipe.make_work.minutes(1))
    parts = ((max(window[0], start + work), min(window[1], end)) for start, end in makeable)
    return tuple(sorted((start, end) for start, end in parts if start <= end))


def _fewest(recipe: Recipe, uses: list[_Use], most_kg: float, *, staffed: bool) -> list[Making]:
    """The fewest makings that any of the orders of filling them gives."""
    orders = _ORDERS if sum(use.demand.kg for use in uses) > most_kg else _ORDERS[:1]
    tried = [_stabbed(uses, most_kg, order) for order in orders]
    best = min(tried, key=len)
    return [_making(recipe, served, make_by, staffed=staffed) for make_by, served in best]


def _stabbed(uses: list[_Use], most_kg: float, order: _Order) -> list[tuple[datetime, list[_Use]]]:
    """Makings with what each serves: at the close of the use that closes first, filled in an order."""
    waiting = sorted(uses, key=_closes)
    makings = []
    while waiting:
        make_by = _closes(waiting[0])
        allowed = [use for use in waiting if use.allows(make_by)]
        served = _filled(allowed, most_kg, order)
        waiting = [use for use in waiting if not any(use is one for one in served)]
        makings.append((make_by, served))
    return makings


def _filled(allowed: list[_Use], most_kg: float, order: _Order) -> list[_Use]:
    """The use that closes first, and in the given order whatever still goes in beside it."""
    served, left = allowed[:1], most_kg * (1 + _ROUNDS) - allowed[0].demand.kg
    for use in sorted(allowed[1:], key=order):
        if use.demand.kg <= left:
            served.append(use)
            left -= use.demand.kg
    return served


def _making(recipe: Recipe, served: list[_Use], make_by: datetime, *, staffed: bool) -> Making:
    ready_from, use_by = ready_and_use_by(recipe, make_by)
    in_order = sorted((use.demand for use in served), key=_demand_order)
    each_kg: dict[str, float] = {}
    for demand in in_order:
        each_kg[demand.load_id] = each_kg.get(demand.load_id, 0.0) + demand.kg
    return Making(
        recipe=recipe.id,
        kg=sum(demand.kg for demand in in_order),
        make_from=_earliest_for_all(served),
        make_by=make_by,
        ready_from=ready_from,
        use_by=use_by,
        loads=tuple(each_kg),
        staffed=staffed,
        each_kg=tuple(each_kg.values()),
    )


def _earliest_for_all(served: list[_Use]) -> datetime:
    """The first moment that every use allows; some start of a part is always such a moment."""
    starts = (start for use in served for start, _ in use.when)
    return min(moment for moment in starts if all(use.allows(moment) for use in served))
