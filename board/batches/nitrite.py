"""Ingoing nitrite by the way the cure reaches the meat, beside the limit of a place and a product.

Formulas: USDA FSIS Processing Inspectors' Calculations Handbook (Directive 7620.3, rev. 1995, chapter
3), mg for each kg of green, that is raw, meat. Limits: data/nitrite_limits.toml. Nothing here
certifies: the licensed person and the local code decide.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from board.batches.scale import ScaledBatch, ScaledIngredient
from board.batches.tables import table
from board.errors import BoardError


class Method(StrEnum):
    """How nitrite and salt reach the meat; each has its own formula and limit."""

    PUMPED = "pumped"
    IMMERSION = "immersion"
    DRY = "dry"
    COMMINUTED = "comminuted"


class Product(StrEnum):
    """The class of product a limit is written for: whole pieces, bacon, or ground meat."""

    WHOLE = "whole"
    BACON = "bacon"
    GROUND = "ground"


@dataclass(frozen=True, slots=True)
class Limit:
    """The most sodium nitrite that may go in, mg/kg of green meat; `exact` where it is also the least."""

    ppm: float
    exact: bool
    rule: str


@dataclass(frozen=True, slots=True)
class Judgement:
    """A dose against its limit: the rule's name, the verdict in words, and whether it is over."""

    rule: str
    verdict: str
    over: bool


def ingoing_ppm(
    method: Method, *, nitrite_g: float, green_kg: float, batch_kg: float, pickup: float
) -> float:
    """Ingoing nitrite, mg/kg of green meat, from the grams of it in the whole batch.

    Pumped, and lain in for a stated `pickup` (fraction of the green mass): the pickup's share of the
    batch (handbook pages 19 and 21). Lain in without one: at equilibrium (page 22). Dry and ground
    in: the whole dose (pages 24 and 15).
    """
    if method is Method.IMMERSION and pickup <= 0:
        return nitrite_g * 1_000 / (green_kg + batch_kg)
    if method in (Method.PUMPED, Method.IMMERSION):
        return nitrite_g * 1_000 * pickup / batch_kg
    return nitrite_g * 1_000 / green_kg


def places() -> tuple[str, ...]:
    """The jurisdictions with a table of limits."""
    return tuple(name for name, part in table("nitrite_limits").items() if "rows" in part)


def limit_for(place: str, product: Product, method: Method) -> Limit | None:
    """The limit a place's table gives for this product and method; None where it has no row."""
    for row in _code(place)["rows"]:
        if row["product"] == product and row["method"] in (method, "any"):
            rule = f"{row['source']}, {product} product, {method}: {row['printed']}"
            return Limit(float(row["ppm"]), bool(row.get("exact")), rule)
    return None


def judged(ppm: float, place: str, product: Product, method: Method) -> Judgement:
    """How a dose stands against the limit; a dose worked out to land on the limit is within it."""
    if ppm <= 0:
        return Judgement(
            "no nitrite, so no limit",
            "without nitrite this is seasoned fresh meat, not a cured product",
            over=False,
        )
    limit = limit_for(place, product, method)
    if limit is None:
        name = _code(place)["name"]
        return Judgement(f"{name}: no limit in the table", "not shown: ask the licensed person", over=False)
    slack = limit.ppm * 1e-9
    if limit.exact and ppm < limit.ppm - slack:
        return Judgement(limit.rule, f"under the {limit.ppm:g} ppm this product must have", over=False)
    over = ppm > limit.ppm + slack
    side = "over" if over else "within"
    return Judgement(limit.rule, f"{side} the limit of {limit.ppm:g} ppm of sodium nitrite", over)


def check_strengths(batch: ScaledBatch) -> None:
    """Refuse a cure whose strength is not stated: its dose cannot be told."""
    for line in _cures(batch):
        if line.nitrite_g + line.nitrate_g <= 0:
            raise BoardError(
                f"{batch.recipe.name}: {line.name} must state how much of it is nitrite, as its label does; "
                'for example "6.25 %"'
            )


def notes(batch: ScaledBatch, ppm: float, place: str) -> tuple[str, ...]:
    """What to know of a dose besides the verdict: a likely mix-up of blends, too little, nitrate."""
    return tuple(_notes(batch, ppm, place))


def _notes(batch: ScaledBatch, ppm: float, place: str) -> Iterator[str]:
    for line in _cures(batch):
        if line.nitrite_g > 0:
            yield from _mix_up(line.name, 100 * line.nitrite_g / line.grams, ppm)
    least = float(_code("us")["least_ppm"])
    if 0 < ppm < least * (1 - 1e-9):
        yield (
            f"{ppm:.0f} ppm of nitrite is less than the {least:g} ppm usually asked of a cured product "
            "kept cold: treat it as fresh meat"
        )
    if any(line.nitrate_g > 0 for line in batch.ingredients):
        yield f"the blend also holds nitrate, which these figures leave out; {_code(place)['also']}"


def _mix_up(name: str, percent: float, ppm: float) -> Iterator[str]:
    """The tenfold slip between a 6.25 % and a 0.6 % blend shows as a dose far from any practice."""
    weak, strong = table("nitrite_limits")["blend"]["usual_percent"]
    if percent >= strong[0] and ppm > 1_000:
        yield f"{name} at {percent:.3g} % nitrite gives {ppm:.0f} ppm: was the dose meant for a 0.6 % blend?"
    elif weak[0] <= percent <= weak[1] and 0 < ppm < 25:
        yield f"{name} at {percent:.3g} % nitrite gives {ppm:.0f} ppm: was the dose meant for a 6.25 % blend?"
    elif not (weak[0] <= percent <= weak[1] or strong[0] <= percent <= strong[1]):
        yield f"{name} is stated as {percent:.3g} % nitrite; blends are usually 6.25 %, or 0.5 to 0.9 %"


def _cures(batch: ScaledBatch) -> Iterator[ScaledIngredient]:
    return (line for line in batch.ingredients if line.role == "cure" and line.grams > 0)


def _code(place: str) -> dict[str, Any]:
    code: dict[str, Any] = table("nitrite_limits")[place]
    return code
