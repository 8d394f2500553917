"""Pits of a few models, as a house buys them: the same one again and again."""

from dataclasses import dataclass
from datetime import date, time
from random import Random

from board.house.library import pit_prior
from board.house.model import Pit, PitKind, Recurrence, Work, Zone


@dataclass(frozen=True, slots=True)
class Model:
    """One make of pit; `shelves` have levels of their own, the first the lowest."""

    kind: PitKind
    area_m2: float
    setpoint_c: tuple[float, float]
    fuel_price: float
    shelves: int = 1


# Invented; areas and prices are common practice, no source.
MODELS = (
    Model(PitKind.OFFSET, 3.2, (105.0, 150.0), 0.3),
    Model(PitKind.CABINET, 2.4, (95.0, 145.0), 1.1, shelves=2),
    Model(PitKind.ROTISSERIE, 2.8, (105.0, 165.0), 0.35),
    Model(PitKind.CABINET, 1.8, (95.0, 145.0), 1.1),
    Model(PitKind.OVEN, 1.6, (90.0, 170.0), 0.9),
)
_OUT_OF_USE = 0.08


def pits_of(draw: Random, count: int) -> dict[str, Pit]:
    """So many pits of two or three models, now and then one out of use for an afternoon."""
    models = draw.sample(MODELS, min(len(MODELS), 2 if count < 6 else 3))
    if not any(model.area_m2 > 2 for model in models):
        models[0] = MODELS[0]
    ids = [f"pit-{n:03d}" for n in range(count)]
    return {id: _pit(draw, id, models[n % len(models)]) for n, id in enumerate(ids)}


def _pit(draw: Random, id: str, model: Model) -> Pit:
    prior = pit_prior(model.kind)
    out = draw.random() < _OUT_OF_USE
    return Pit(
        id=id,
        name=id.replace("-", " ").capitalize(),
        kind=model.kind,
        area_m2=model.area_m2,
        setpoint_c=model.setpoint_c,
        warm_up_minutes=prior.warm_up_minutes.usual,
        fuel=prior.fuel,
        fuel_kg_per_hour=prior.fuel_kg_h_m2.usual * model.area_m2,
        fuel_price_per_kg=model.fuel_price,
        h_c_w_m2k=prior.h_c,
        humidity_ratio=prior.humidity,
        control_band_c=prior.control_band_c.usual,
        light_work=Work(prior.light_minutes),
        tend_fraction=prior.tend_fraction,
        zones=_zones(model),
        door_minutes=prior.door_minutes,
        change_over_minutes=prior.change_over_minutes,
        out_of_use=(Recurrence(date(2026, 6, 9), time(13), 240.0, "FREQ=DAILY"),) if out else (),
    )


def _zones(model: Model) -> tuple[Zone, ...]:
    if model.shelves == 1:
        return ()
    each = model.area_m2 / model.shelves
    names = ("low", "high", "top")[: model.shelves]
    return tuple(Zone(name, name, each, 4.0 * level, level) for level, name in enumerate(names))
