"""What a batch leaves in the meat: pickup, final salt and sugar, and nitrite beside its limit.

Pumped brine stays as its pickup p of the green mass, so the meat ends with brine strength × p / (1 + p),
nothing dripping out. A cover brine without a stated pickup shares its salt with the meat's own water.
"""

from dataclasses import dataclass

from board.batches.dose_notes import dose_notes
from board.batches.limits import Agent, Code, Method, Product
from board.batches.nitrite import (
    SLACK,
    Judgement,
    check_strengths,
    ingoing_of,
    ingoing_ppm,
    judged,
    kept_kg,
    to_equilibrium,
)
from board.batches.scaled_batch import ScaledBatch
from board.batches.tables import table
from board.house.doses import is_injected, is_liquid
from board.house.model import RecipeKind

UNITED_STATES = Code()


@dataclass(frozen=True, slots=True)
class Meat:
    """What stays in the meat, per cent of the seasoned meat; nitrite and nitrate in mg/kg of green meat.

    `kept_kg`, `salt_g` and `sugar_g` are what all the meat keeps of the batch. `nitrate` is None where the
    batch holds none.
    """

    method: Method
    pickup_percent: float
    salt_percent: float
    sugar_percent: float
    nitrite_ppm: float
    judgement: Judgement
    notes: tuple[str, ...]
    product: Product = Product.WHOLE
    nitrate_ppm: float = 0.0
    nitrate: Judgement | None = None
    kept_kg: float = 0.0
    salt_g: float = 0.0
    sugar_g: float = 0.0

    @property
    def over(self) -> bool:
        """Whether nitrite or nitrate is over its limit."""
        return self.judgement.over or (self.nitrate is not None and self.nitrate.over)

    def ppm(self, agent: Agent) -> float:
        """Its nitrite, or its nitrate, mg/kg of green meat."""
        return self.nitrite_ppm if agent is Agent.NITRITE else self.nitrate_ppm


def in_the_meat(batch: ScaledBatch, code: Code = UNITED_STATES, *, water: float | None = None) -> Meat | None:
    """What the batch leaves in the meat, and how its nitrite stands; None for a glaze, which stays outside.

    `code` says whose limits, for what product and which day; `water` is the mass fraction of water in the
    raw meat, lean pork's where None. Raises BoardError when a cure's
    strength is not stated.
    """
    if batch.recipe.kind is RecipeKind.GLAZE:
        return None
    check_strengths(batch)
    method = method_of(batch, code.product)
    stays_kg, salt_g, sugar_g = _kept(batch, method, lean_water() if water is None else water)
    ppm = ingoing_of(batch, method, batch.nitrite_g)
    judgement = judged(ppm, code, method)
    nitrate_ppm = ingoing_of(batch, method, batch.nitrate_g)
    seasoned_kg = batch.meat_kg + stays_kg
    return Meat(
        method=method,
        pickup_percent=100 * stays_kg / batch.meat_kg,
        salt_percent=salt_g / 10 / seasoned_kg,
        sugar_percent=sugar_g / 10 / seasoned_kg,
        nitrite_ppm=ppm,
        judgement=judgement,
        notes=dose_notes(batch, ppm, method, code) + _left_in(batch, method, ppm, judgement),
        product=code.product,
        nitrate_ppm=nitrate_ppm,
        nitrate=judged(nitrate_ppm, code, method, Agent.NITRATE) if nitrate_ppm else None,
        kept_kg=stays_kg,
        salt_g=salt_g,
        sugar_g=sugar_g,
    )


def lean_water() -> float:
    """The mass fraction of water in lean raw pork, for meat whose cut is not known."""
    return float(table("brine")["meat"]["water"])


def method_of(batch: ScaledBatch, product: Product) -> Method:
    """How this batch reaches the meat: ground in, pumped, lain in, or rubbed on."""
    if product is Product.GROUND:
        return Method.COMMINUTED
    if is_injected(batch.recipe):
        return Method.PUMPED
    return Method.IMMERSION if is_liquid(batch.recipe) else Method.DRY


def _kept(batch: ScaledBatch, method: Method, water: float) -> tuple[float, float, float]:
    """Kilograms of the batch, grams of salt and grams of sugar that the meat keeps."""
    salt_g, sugar_g = batch.salt_g, batch.grams("sugar")
    if to_equilibrium(batch, method):
        share = _share_of_water(batch, water)
        return share * (salt_g + sugar_g) / 1_000, share * salt_g, share * sugar_g
    stays_kg = kept_kg(batch, method)
    share = stays_kg / batch.batch_kg
    return stays_kg, share * salt_g, share * sugar_g


def _share_of_water(batch: ScaledBatch, water: float) -> float:
    """The meat's share of all the water that a cover brine and the meat have between them."""
    meat_water_kg = water * batch.meat_kg
    return meat_water_kg / (meat_water_kg + batch.water_kg)


def _left_in(batch: ScaledBatch, method: Method, ppm: float, judgement: Judgement) -> tuple[str, ...]:
    """What the nitrite would come to if the meat stayed in the brine to the end.

    Meat that is pumped and then lies in the rest may take up all of it.
    """
    if method is Method.IMMERSION:
        to_the_end = ingoing_ppm(
            method, nitrite_g=batch.nitrite_g, green_kg=batch.meat_kg, batch_kg=batch.batch_kg, pickup=0.0
        )
    elif method is Method.PUMPED and batch.recipe.immersed_minutes is not None:
        to_the_end = 1_000 * batch.nitrite_g / batch.meat_kg
    else:
        return ()
    if to_the_end <= ppm * 1.01:
        return ()
    limit = judgement.limit_ppm
    past = (
        f", over the limit of {limit:g} ppm" if limit is not None and to_the_end > limit * (1 + SLACK) else ""
    )
    return (f"left in the brine to the end, the meat would come to {to_the_end:.0f} ppm of nitrite{past}",)
