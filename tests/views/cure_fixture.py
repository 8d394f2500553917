"""Six hams of the fixture's house, injected on Saturday with a cure made at noon, served on Tuesday."""

from dataclasses import replace
from datetime import datetime, timedelta

from board.house.model import House, Ingredient, Recipe, RecipeKind, StepRule, Work
from board.ledger.state import BatchStage, BatchState
from board.planning.plan import Plan, PlannedBatch
from board.views.facts import Facts
from board.views.reference import ref
from tests.app.house_fixture import DAY, at, house, load, plan, span, step

SERVED = DAY + timedelta(days=3)
CURE, HAMS = "b-cure", "tue-ham"
KEY = ref(SERVED, CURE)
LINES = ("water", "salt", "brown sugar", "curing salt")


def cure(curing_salt_kg: float = 0.3) -> Recipe:
    """A pumped ham cure: 120 g to the kilogram of ham, of which 100 g stay."""
    return Recipe(
        id="ham-cure",
        name="ham cure",
        kind=RecipeKind.CURE,
        ingredients=(
            Ingredient("water", 10.0, "kg", "water", 1.0),
            Ingredient("salt", 1.8, "kg", "salt"),
            Ingredient("brown sugar", 0.6, "kg", "sugar", allergens=("molasses",)),
            Ingredient("curing salt", curing_salt_kg, "kg", "cure", nitrite=0.0625),
        ),
        use_kg_a_kg=0.12,
        make_work=Work(25),
        ready_after_minutes=240,
        keeps_minutes=1440,
        pickup=0.10,
    )


def curing_house(curing_salt_kg: float = 0.3) -> House:
    """Cinder Lane with the cure, and hams that lie two days at least after they are injected."""
    plain = house()
    ham = replace(
        plain.cuts["ham-boneless"],
        prep=(StepRule("inject", Work(30), (2880, 8640), "ham-cure", chilled=True),),
    )
    return replace(
        plain,
        cuts={**plain.cuts, ham.id: ham},
        recipes={**plain.recipes, "ham-cure": cure(curing_salt_kg)},
    )


def tuesday() -> Plan:
    """Tuesday's plan: the cure made by 13:00 on Saturday, cold at 17:00, injected at 18:00."""
    hams = load(HAMS, (6, "ham-boneless", "ham-plate"), "little", at("04:40", 3), setpoint=107.0,
                pull=shifted("08:45", "09:30", "10:25"), ready=shifted("09:15", "10:00", "10:55"),
                needed=at("11:00", 3), portions=36)  # fmt: skip
    return replace(
        plan(),
        day=SERVED,
        result="good",
        loads=(hams,),
        steps=(
            step("t-make", at("12:35"), "make", 25, "wren", batch=CURE),
            step("t-inject", at("18:00"), "inject", 30, "bram", HAMS),
            step("t-load", at("04:40", 3), "load", 10, "ines", HAMS, pit="little"),
        ),
        batches=(
            PlannedBatch(CURE, "ham-cure", "cure", 2.88, at("13:00"), at("17:00"), at("13:00", 1), (HAMS,)),
        ),
        short=(),
        occasions=tuple(
            replace(one, at=one.at + timedelta(days=3), until=one.until + timedelta(days=3))
            for one in plan().occasions
        ),
        why={},
    )


def shifted(p10: str, p50: str, p90: str) -> object:
    """A likely range of times on Tuesday."""
    saturday = span(p10, p50, p90)
    days = timedelta(days=3)
    return replace(saturday, p10=saturday.p10 + days, p50=saturday.p50 + days, p90=saturday.p90 + days)


def curing(now: datetime, *, curing_salt_kg: float = 0.3, **changes: object) -> Facts:
    """What is known at a moment, with nothing marked but what is changed."""
    facts = Facts(curing_house(curing_salt_kg), now, {SERVED: tuesday()})
    return replace(facts, **changes)  # type: ignore[arg-type]


def standing(stage: BatchStage, made: datetime | None = None, **more: object) -> dict[object, BatchState]:
    """The cure at a stage."""
    return {(SERVED, CURE): BatchState(CURE, SERVED, stage, made, "wren", "1219-ham-cure-1", **more)}  # type: ignore[arg-type]
