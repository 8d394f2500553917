"""What is left of batches that stand, as loads planned anew take from it: nothing is taken twice.

What a batch holds for a load that stands stays for it. What it holds for a load that is planned anew goes to
that load first; what is not asked for then, and what was left over, goes to any load that one batch serves.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from datetime import datetime, timedelta

from board.house.model import House
from board.planning.batches.made_for import kept_for
from board.planning.grid import SLOT_MINUTES
from board.planning.plan import Draw, PlannedBatch, PlannedLoad
from board.planning.standing import Standing

# A plan's document tells grams, a scale little less; so much of a need and so many kg are the same.
_ROUNDS, _ROUNDS_KG = 1e-3, 2e-3


def enough(kg: float, need_kg: float) -> bool:
    """Whether so much is all that is needed, as far as a kitchen scale tells."""
    return kg >= need_kg * (1 - _ROUNDS) - _ROUNDS_KG


def spare_kg(house: House, standing: Standing) -> Iterator[tuple[PlannedBatch, float]]:
    """Each batch that stands, with what is left of it beside all it was made for and all that is taken."""
    loads = {load.id: load for load in standing.loads}
    for batch in standing.batches:
        drawn = sum(draw.kg for draw in standing.draws if draw.batch == batch.id)
        yield batch, batch.amount_kg - sum(kept_for(house, batch, loads).values()) - drawn


class Stock:
    """Batches that stand and what is left of each; `take` and `take_spare` take from it."""

    def __init__(
        self, house: House, standing: Standing, anew: Collection[str], loads: Mapping[str, PlannedLoad]
    ) -> None:
        """Take stock of what stands.

        Args:
            anew: ids of the loads that are planned anew.
            loads: loads by id, as far as they are known.
        """
        self._batches = {batch.id: batch for batch in standing.batches}
        self._kept: dict[tuple[str, str], float] = {}
        self._fixed: dict[str, dict[str, float]] = {}
        self._left: dict[str, float] = {}
        self._drawn: list[Draw] = []
        for batch in standing.batches:
            each = kept_for(house, batch, loads)
            self._kept |= {(batch.id, load): kg for load, kg in each.items() if load in anew}
            self._fixed[batch.id] = {load: kg for load, kg in each.items() if load not in anew}
            self._left[batch.id] = batch.amount_kg - sum(each.values())
        for draw in standing.draws:
            self._left[draw.batch] = self._left.get(draw.batch, 0.0) - draw.kg

    def take(self, recipe: str, load: str, kg: float, at: datetime, was: str) -> float:
        """Give a load what was made for it, under the id it `was` planned by; what it still needs then."""
        for batch in self._good(recipe, at):
            held = self._kept.get((batch.id, was), 0.0)
            part = min(kg, held)
            if part > 0:
                self._kept[batch.id, was] = held - part
                self._draw(batch, load, part)
                kg = 0.0 if enough(part, kg) else kg - part
        return kg

    def free(self) -> None:
        """Let go of what no load has asked for that it was made for."""
        for (batch, _), kg in self._kept.items():
            self._left[batch] += kg
        self._kept = {}

    def take_spare(self, recipe: str, load: str, kg: float, at: datetime) -> bool:
        """Give a load all it needs of what one batch has left, the first to go off; whether one has it."""
        for batch in self._good(recipe, at):
            if enough(self._left[batch.id], kg):
                self._left[batch.id] -= kg
                self._draw(batch, load, kg)
                return True
        return False

    def draws(self) -> tuple[Draw, ...]:
        """All that was taken."""
        return tuple(self._drawn)

    def settled(self, batch: PlannedBatch) -> PlannedBatch:
        """A batch with what each load takes of it now; one that nothing takes keeps its loads' names."""
        taken = dict(self._fixed.get(batch.id, {}))
        for draw in self._drawn:
            if draw.batch == batch.id:
                taken[draw.load] = taken.get(draw.load, 0.0) + draw.kg
        taken = taken or dict.fromkeys(batch.loads, 0.0)
        loads = sorted(taken, key=lambda load: (*batch.loads, load).index(load))
        return replace(batch, loads=tuple(loads), each_kg=tuple(taken[load] for load in loads))

    def _draw(self, batch: PlannedBatch, load: str, kg: float) -> None:
        self._drawn.append(Draw(batch.id, batch.recipe, load, kg, batch.ready_from, batch.use_by))

    def _good(self, recipe: str, at: datetime) -> Iterator[PlannedBatch]:
        """Batches of a recipe that are fit for use at a moment, in the order in which they go off."""
        here = sorted(self._batches.values(), key=lambda batch: (batch.use_by, batch.id))
        for batch in here:
            ready = batch.ready_from - timedelta(minutes=SLOT_MINUTES)
            if batch.recipe == recipe and ready <= at <= batch.use_by:
                yield batch
