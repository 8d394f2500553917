"""Ingoing nitrite and nitrate by the way a cure reaches the meat, beside the limit of a place and a product.

Formulas: USDA FSIS Processing Inspectors' Calculations Handbook (Directive 7620.3, rev. 1995, chapter
3), mg for each kg of green, that is raw, meat. Nothing here certifies: the licensed person and the local
code decide.
"""

from dataclasses import dataclass

from board.batches.limits import Agent, Code, Limit, Method, limit_for, place_name
from board.batches.scaled_batch import ScaledBatch
from board.errors import BoardError

# a dose worked out to land on the limit is within it, whatever the last digit of its float
SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Judgement:
    """A dose against its limit: the rule's name, the verdict in words, whether it is over, and the limit."""

    rule: str
    verdict: str
    over: bool
    limit_ppm: float | None = None


def ingoing_ppm(
    method: Method, *, nitrite_g: float, green_kg: float, batch_kg: float, pickup: float
) -> float:
    """Ingoing nitrite (or nitrate), mg/kg of green meat, from the grams of it in the whole batch.

    Pumped, and lain in for a stated `pickup` (fraction of the green mass): the pickup's share of the
    batch (handbook pages 19 and 21). Lain in without one: at equilibrium (page 22). Dry and ground
    in: the whole dose (pages 24 and 15).
    """
    if method is Method.IMMERSION and pickup <= 0:
        return nitrite_g * 1_000 / (green_kg + batch_kg)
    if method in (Method.PUMPED, Method.IMMERSION):
        return nitrite_g * 1_000 * pickup / batch_kg
    return nitrite_g * 1_000 / green_kg


def to_equilibrium(batch: ScaledBatch, method: Method) -> bool:
    """Whether meat lies in the batch until both have the same, as no pickup is stated."""
    return method is Method.IMMERSION and batch.pickup <= 0


def kept_kg(batch: ScaledBatch, method: Method) -> float:
    """The pickup's mass, or the whole batch where none is stated; never more than was made."""
    by_pickup = batch.pickup * batch.meat_kg
    if method is Method.COMMINUTED or by_pickup <= 0:
        return batch.batch_kg
    return min(by_pickup, batch.batch_kg)


def ingoing_of(batch: ScaledBatch, method: Method, grams: float) -> float:
    """What so many grams of something in the whole batch come to in the meat, mg/kg of green meat."""
    return ingoing_ppm(
        method,
        nitrite_g=grams,
        green_kg=batch.meat_kg,
        batch_kg=batch.batch_kg,
        pickup=0.0 if to_equilibrium(batch, method) else kept_kg(batch, method) / batch.meat_kg,
    )


def judged(ppm: float, code: Code, method: Method, agent: Agent = Agent.NITRITE) -> Judgement:
    """How a dose stands against the limit in force; exactly on the limit is within it."""
    if ppm <= 0:
        verdict = fresh() if agent is Agent.NITRITE else "no nitrate in it"
        return Judgement(f"no {agent}, so no limit", verdict, over=False)
    limit = limit_for(code, method, agent)
    if limit is None:
        rule = f"{place_name(code.place)}: no limit in the table"
        return Judgement(rule, "not shown: ask the licensed person", over=False)
    return _against(ppm, limit, agent)


def fresh(animal: str = "meat") -> str:
    """What meat without nitrite is, whatever is rubbed on it or pumped into it."""
    return f"without nitrite this is seasoned fresh {animal}, not a cured product"


def _against(ppm: float, limit: Limit, agent: Agent) -> Judgement:
    slack = limit.ppm * SLACK
    over = ppm > limit.ppm + slack
    if limit.residual:
        verdict = f"within the {limit.ppm:g} ppm that may be left, whatever is lost"
        if over:
            verdict = f"not shown: {limit.ppm:g} ppm may be left in the product, which only a test tells"
        return Judgement(limit.rule, verdict, over=False, limit_ppm=limit.ppm)
    if limit.only and not over:
        verdict = f"not shown: the limit of {limit.ppm:g} ppm is for {limit.only}; ask the licensed person"
        return Judgement(limit.rule, verdict, over=False, limit_ppm=limit.ppm)
    if limit.exact and ppm < limit.ppm - slack:
        verdict = f"under the {limit.ppm:g} ppm this product must have"
        return Judgement(limit.rule, verdict, over=False, limit_ppm=limit.ppm)
    side = "over" if over else "within"
    return Judgement(limit.rule, f"{side} the limit of {limit.ppm:g} ppm of sodium {agent}", over, limit.ppm)


def check_strengths(batch: ScaledBatch) -> None:
    """Refuse a cure whose strength is not stated: its dose cannot be told."""
    for line in batch.cures:
        if line.nitrite_g + line.nitrate_g <= 0:
            raise BoardError(
                f"{batch.recipe.name}: {line.name} must state how much of it is nitrite, as its label does; "
                'for example "6.25 %"'
            )
