"""A plan as data: loads on pits, the steps people do, batches, and what will be short."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from datetime import date, datetime
from enum import StrEnum

from board.house.spans import TimeSpan

# A simulated chance is told in whole hundredths; nearer than this to what is wanted it is as good.
SIMULATED_TO = 0.005


@dataclass(frozen=True, slots=True)
class PlannedLoad:
    """Pieces of one cut that go on one pit together, with their counted-back times.

    `needed_at` is when its first portion is served; `chance` the probability that it is ready by
    then, finishing work included; `hold` the bench or cabinet ids it passes through. `zone` is its zone
    of the pit; `turn_at` when the pit is brought to `then_c` with it on. `waves` are the moments it is
    due at, where it comes in waves. Its cook is reckoned for `timed_as` pieces, its own where that is 0, and
    with its pit opened `openings` times for other meat, where that is known.
    """

    id: str
    cut: str
    item: str
    pieces: int
    mass_kg: float
    pit: str
    setpoint_c: float
    light_at: datetime
    load_at: datetime
    wrap_at: datetime | None
    pull_at: TimeSpan
    ready_at: TimeSpan
    needed_at: datetime
    services: tuple[str, ...]
    portions: int
    area_m2: float
    rest_minutes: float
    hold_minutes_p50: float
    spare_minutes_p50: float
    chance: float
    bench: str | None = None
    hold: str | None = None
    zone: str | None = None
    turn_at: datetime | None = None
    then_c: float | None = None
    waves: tuple[datetime, ...] = ()
    timed_as: int = 0
    openings: int | None = None


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """One thing a person does, at a time, for a load, a batch or a pit.

    `most_c` is what a reading must show at most, where the step is to take one.
    """

    id: str
    at: datetime
    ends_at: datetime
    what: str
    who: str | None
    load: str | None
    batch: str | None
    minutes: float
    pit: str | None = None
    most_c: float | None = None


@dataclass(frozen=True, slots=True)
class PlannedBatch:
    """One making of a recipe and the loads it serves.

    `each_kg` is what each of its loads takes, in their order; none where a plan does not tell. It is made and
    cooled in `vessels` of the container `vessel`, with `ice_kg` of ice, and kept in those of `container`.
    """

    id: str
    recipe: str
    kind: str
    amount_kg: float
    make_by: datetime
    ready_from: datetime
    use_by: datetime
    loads: tuple[str, ...]
    each_kg: tuple[float, ...] = ()
    vessel: str | None = None
    vessels: int = 0
    container: str | None = None
    ice_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class Draw:
    """What a load takes of a batch that was made for others, as that batch stands."""

    batch: str
    recipe: str
    load: str
    kg: float
    ready_from: datetime
    use_by: datetime


@dataclass(frozen=True, slots=True)
class Offer:
    """A cure as it can be tried: the portions it brings, and which promises, or which time, it changes.

    `promises` are portions by service and item, `due` when it is promised for instead; with neither it is a
    change of the house. `points` is what the plan then costs more, where planning has shown it.
    """

    says: str
    portions: int
    points: float | None = None
    promises: tuple[tuple[str, str, int], ...] = ()
    due: datetime | None = None


@dataclass(frozen=True, slots=True)
class Short:
    """Portions a service will lack, why, and what would cure it, in words and as it can be tried."""

    service: str
    item: str
    portions: int
    why: str
    cure: tuple[str, ...] = ()
    offers: tuple[Offer, ...] = ()


@dataclass(frozen=True, slots=True)
class Occasion:
    """One serving time of the planned day: a service or an order, and what it was promised."""

    id: str
    name: str
    at: datetime
    until: datetime
    promises: Mapping[str, int]
    is_order: bool = False


@dataclass(frozen=True, slots=True)
class CostParts:
    """What a plan gives up, part by part, in points; they sum to its cost.

    `fuel` is what burns, `tending` the watching of fires, `work` the hands at the pits, `fires` lighting
    and changing setpoints, `moved` what changes from a committed plan.
    """

    unserved: float = 0.0
    late: float = 0.0
    thin: float = 0.0
    held: float = 0.0
    fuel: float = 0.0
    tending: float = 0.0
    work: float = 0.0
    fires: float = 0.0
    moved: float = 0.0

    @property
    def total(self) -> float:
        """All parts together."""
        return float(sum(getattr(self, f.name) for f in fields(self)))


@dataclass(frozen=True, slots=True)
class Risk:
    """How likely one service is ready in time as a whole, and how many portions are likely to be late.

    `wanted` is the chance it should have; `late_portions` an expected value, over all its waves; `items`
    the chance that all of one item is there. It is of what is planned: what is short comes on top.
    """

    service: str
    at: datetime
    chance: float
    wanted: float
    late_portions: float
    items: Mapping[str, float] = field(default_factory=dict)

    @property
    def unsure(self) -> bool:
        """Whether the service falls below its wanted chance, by more than the simulation leaves open."""
        return self.chance < self.wanted - SIMULATED_TO


class CookedBy(StrEnum):
    """When meat cooked as planned meets the rule it falls under."""

    PULL = "pull"
    REST = "rest"
    NOT_MET = "not met"


@dataclass(frozen=True, slots=True)
class Cooked:
    """Whether one load, cooked and rested as planned, meets its cooking rule.

    `rule` is the handling it is judged as, `source` where the rule stands; `at_pull` and `when_served` the
    shares of likely cooks that meet it by the pull and by the end of rest and hold. `stay_c` is the core it
    must be read at or above for `stay_minutes`: the row of the rule it meets surest. `rest_minutes` is the
    rest within which nine in ten have met it; `pull_c` the least core of the rule at which it would be met,
    where it is not; `stay_f` and `pull_f` are the same in °F, where the rule prints that too. `cool_pit`
    tells that the pit is cooler than the roast chart asks.
    """

    rule: str
    source: str
    by: CookedBy
    at_pull: float
    when_served: float
    stay_c: float
    stay_minutes: float
    stay_f: float | None = None
    rest_minutes: float | None = None
    pull_c: float | None = None
    pull_f: float | None = None
    cool_pit: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """All loads for the services of one day, the steps of the days before included.

    `result` is "proved", "good" or "short"; `cost` and `bound` share a unit (points, see
    planning/data/costs.toml), so that gap = (cost − bound)/max(cost, 1e-9). `cautions` is what the crew
    must see to that the plan cannot; `cooked` how each load, by id, meets its cooking rule; `draws` what its
    loads take of other days' batches.
    """

    house: str
    day: date
    zone: str
    result: str
    cost: float
    bound: float
    loads: tuple[PlannedLoad, ...]
    steps: tuple[PlannedStep, ...]
    batches: tuple[PlannedBatch, ...]
    short: tuple[Short, ...]
    occasions: tuple[Occasion, ...] = ()
    why: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    costs: CostParts = CostParts()
    risks: tuple[Risk, ...] = ()
    cautions: tuple[str, ...] = ()
    cooked: Mapping[str, Cooked] = field(default_factory=dict)
    draws: tuple[Draw, ...] = ()

    @property
    def gap(self) -> float:
        """How far the plan may be from the best possible, as a fraction of its cost."""
        return (self.cost - self.bound) / max(self.cost, 1e-9)
