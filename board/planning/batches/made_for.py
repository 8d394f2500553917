"""What a batch holds for each of the loads it was made for."""

from collections.abc import Mapping

from board.batches.served import dose_kg
from board.house.model import House
from board.planning.plan import PlannedBatch, PlannedLoad


def kept_for(house: House, batch: PlannedBatch, loads: Mapping[str, PlannedLoad]) -> dict[str, float]:
    """What a batch holds for each of its loads; where it does not tell, by their dose.

    Loads of which nothing is known share what is left.
    """
    if len(batch.each_kg) == len(batch.loads):
        return dict(zip(batch.loads, batch.each_kg, strict=True))
    here = [loads[id] for id in batch.loads if id in loads and batch.recipe in house.recipes]
    known = {load.id: _load_kg(house, batch.recipe, load) for load in here if load.cut in house.cuts}
    others = [load for load in batch.loads if load not in known]
    left = max(0.0, batch.amount_kg - sum(known.values()))
    return {**known, **{load: left / len(others) for load in others}}


def _load_kg(house: House, recipe: str, load: PlannedLoad) -> float:
    """Kilograms of a recipe that a load takes."""
    pieces = max(1, load.pieces)
    return dose_kg(house.recipes[recipe], house.cuts[load.cut], pieces, load.mass_kg / pieces)
