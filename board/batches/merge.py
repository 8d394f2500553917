"""The fewest makings of each recipe that serve every load inside the batch's keeping time.

A making that ends at m can serve a use at u when m + ready_after ≤ u ≤ m + keeps, so each use is an
interval of moments and a set of makings is a set of points that stabs every interval. Taking the
interval that closes first, and making at its close, needs the fewest points (the greedy rule for
interval stabbing; it holds on any ordered set of allowed moments, hence also inside shifts).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

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
    moment inside the given windows would do.
    """

    recipe: str
    kg: float
    make_from: datetime
    make_by: datetime
    ready_from: datetime
    use_by: datetime
    loads: tuple[str, ...]
    staffed: bool = True


@dataclass(frozen=True, slots=True)
class _Use:
    """A demand with the moments at which a making for it may end, in order."""

    demand: BatchDemand
    when: tuple[Window, ...]

    def allows(self, moment: datetime) -> bool:
        return any(start <= moment <= end for start, end in self.when)


def ready_and_use_by(recipe: Recipe, made_at: datetime) -> Window:
    """From when and until when a batch may be used, both counted from the end of its making."""
    ready_from = made_at + timedelta(minutes=recipe.ready_after_minutes)
    return ready_from, made_at + timedelta(minutes=recipe.keeps_minutes)


def fewest_makings(
    demands: Sequence[BatchDemand],
    recipes: Mapping[str, Recipe],
    makeable: Sequence[Window] | None = None,
) -> list[Making]:
    """Merge what loads need into the fewest makings of each recipe, each as late as it may be.

    `makeable` are the stretches in which someone can make a batch, start to end; None means any
    time. A use that no stretch allows gets a making outside them, marked not `staffed`, rather than
    silence. The result runs by `make_by`.

    Raises BoardError when a recipe is unknown or spoils before it is ready.
    """
    makings: list[Making] = []
    for recipe_id, group in groupby(sorted(demands, key=_demand_order), key=lambda d: d.recipe):
        makings += _makings_of(_known(recipe_id, recipes), list(group), makeable)
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


def _makings_of(
    recipe: Recipe, demands: Iterable[BatchDemand], makeable: Sequence[Window] | None
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
    return _stabbed(recipe, staffed, staffed=True) + _stabbed(recipe, unstaffed, staffed=False)


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


def _stabbed(recipe: Recipe, uses: list[_Use], *, staffed: bool) -> list[Making]:
    waiting = sorted(uses, key=lambda use: max(end for _, end in use.when))
    makings = []
    while waiting:
        make_by = max(end for _, end in waiting[0].when)
        served = [use for use in waiting if use.allows(make_by)]
        waiting = [use for use in waiting if not use.allows(make_by)]
        makings.append(_making(recipe, served, make_by, staffed=staffed))
    return makings


def _making(recipe: Recipe, served: list[_Use], make_by: datetime, *, staffed: bool) -> Making:
    ready_from, use_by = ready_and_use_by(recipe, make_by)
    in_order = sorted((use.demand for use in served), key=_demand_order)
    return Making(
        recipe=recipe.id,
        kg=sum(demand.kg for demand in in_order),
        make_from=_earliest_for_all(served),
        make_by=make_by,
        ready_from=ready_from,
        use_by=use_by,
        loads=tuple(dict.fromkeys(demand.load_id for demand in in_order)),
        staffed=staffed,
    )


def _earliest_for_all(served: list[_Use]) -> datetime:
    """The first moment that every use allows; some start of a part is always such a moment."""
    starts = (start for use in served for start, _ in use.when)
    return min(moment for moment in starts if all(use.allows(moment) for use in served))
