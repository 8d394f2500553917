"""A batch as the JSON document other programs rely on."""

from collections.abc import Callable
from dataclasses import asdict
from datetime import datetime
from typing import Any

from board.batches.card import BatchCard
from board.batches.limits import edition
from board.batches.meat import Meat
from board.batches.scaled_batch import ScaledIngredient
from board.batches.shares import Shares
from board.batches.spread import Evenness, SaltSpread
from board.batches.together import Together
from board.commands.batch.minded import cooked_as
from board.house.calendar import local
from board.house.model import House


def document(
    card: BatchCard, house: House, mind: tuple[str, ...], hours: float | None, rest_hours: float
) -> dict[str, Any]:
    """The promised keys, and beside them what else is known; `hours` and `rest_hours` are the what-if's."""
    batch, recipe, served = card.batch, card.batch.recipe, card.meat_of
    handling = cooked_as(card, house)
    return {
        "recipe": recipe.id,
        "kind": recipe.kind.value,
        "meat_kg": _figure(batch.meat_kg),
        "batch_kg": _figure(batch.batch_kg),
        "batch_litres": _figure(batch.litres),
        "shown_kg": _figure(batch.shown_kg),
        "cut": served.cut.id if served.cut else None,
        "pieces": _figure(served.pieces) if served.cut else None,
        "surface_m2": _figure(served.surface_m2),
        "ingredients": [_ingredient(line) for line in batch.ingredients],
        "brine": card.brine and {key: _figure(value) for key, value in asdict(card.brine).items()},
        "meat": _meat(card),
        "together": _together(card),
        "spread": card.spread and _spread(card.spread, hours, rest_hours),
        "cooked_as": handling.value if handling else None,
        "limits": _limits(card),
        "refused": list(card.refused),
        "made_at": _iso(card.made_at, house),
        "ready_from": _iso(card.ready_from, house),
        "use_by": _iso(card.use_by, house),
        "ready_after_minutes": recipe.ready_after_minutes,
        "keeps_minutes": recipe.keeps_minutes,
        "allergens": list(batch.allergens),
        "allergen_hints": [
            {"ingredient": hint.ingredient, "us": list(hint.us), "eu": list(hint.eu)} for hint in card.hints
        ],
        "warnings": list(mind),
    }


def _ingredient(line: ScaledIngredient) -> dict[str, Any]:
    return {
        "name": line.name,
        "grams": _figure(line.grams),
        "amount": line.shown.amount,
        "unit": line.shown.unit,
        "about": line.volume and {"amount": line.volume.amount, "unit": line.volume.unit},
    }


def _limits(card: BatchCard) -> dict[str, Any] | None:
    """Whose limits were read; None where there is no table of them."""
    read = edition(card.code)
    if read is None:
        return None
    return {
        "place": card.code.place,
        "product": card.code.product.value,
        "edition": read["edition"],
        "read_on": read["read_on"],
        "residual": read["also"],
    }


def _meat(card: BatchCard) -> dict[str, Any] | None:
    meat = card.meat
    if meat is None:
        return None
    return {
        "method": meat.method.value,
        "pickup_percent": _figure(meat.pickup_percent),
        "ml_a_piece": None if card.ml_a_piece is None else round(card.ml_a_piece, 1),
        **_left(meat),
    }


def _together(card: BatchCard) -> dict[str, Any] | None:
    found = card.together
    return {"recipes": list(found.recipes), **_left(found)} if found else None


def _left(found: Meat | Together) -> dict[str, Any]:
    """What one recipe, or all of them, leave in the meat."""
    return {
        "salt_percent": _figure(found.salt_percent),
        "sugar_percent": _figure(found.sugar_percent),
        "nitrite_ppm": _figure(found.nitrite_ppm),
        "rule": found.judgement.rule,
        "verdict": found.judgement.verdict,
        "nitrate_ppm": _figure(found.nitrate_ppm),
        "nitrate_rule": found.nitrate and found.nitrate.rule,
        "nitrate_verdict": found.nitrate and found.nitrate.verdict,
    }


def _spread(spread: SaltSpread, hours: float | None, rest_hours: float) -> dict[str, Any]:
    return {
        "hours_to_90_percent": round(spread.hours_to_90_percent, 1),
        "depth_mm": round(spread.depth_mm, 1),
        "hours_low": round(spread.hours_low, 1),
        "hours_high": round(spread.hours_high, 1),
        "how": spread.how,
        "planned": spread.planned and _evenness(spread.planned),
        "asked": None if hours is None else _evenness(spread.after(hours, rest_hours)),
    }


def _evenness(found: Evenness) -> dict[str, Any]:
    """Per cent of the mean, at the usual, the least and the most of the coefficient."""

    def percent(of: Callable[[Shares], float]) -> dict[str, float]:
        return {
            "usual": round(100 * of(found.usual), 2),
            "slow": round(100 * of(found.slow), 2),
            "fast": round(100 * of(found.fast), 2),
        }

    return {
        "hours": round(found.hours, 3),
        "rest_hours": round(found.rest_hours, 3),
        "middle_percent_of_mean": percent(lambda shares: shares.middle_of_mean),
        "outside_percent_of_mean": percent(lambda shares: shares.outside_of_mean),
        "mean_percent_of_end": percent(lambda shares: shares.mean),
    }


def _figure(value: float | None) -> float | None:
    """A number to six decimals: more than any scale, fewer than a float's noise."""
    return None if value is None else round(value, 6)


def _iso(moment: datetime | None, house: House) -> str | None:
    return None if moment is None else local(moment, house).isoformat()
