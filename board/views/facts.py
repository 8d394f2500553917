"""What the views are built from: one reading of the ledger at one moment, as plain data."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from board.house.calendar import local
from board.house.model import House
from board.ledger.clocks import Doubt
from board.ledger.facts import (
    AlarmFacts,
    OccasionFacts,
    PinFacts,
    PlacingFacts,
    RegroupFacts,
    UseFacts,
    WatchFacts,
    WeighedFacts,
)
from board.ledger.feeding import Aside, ProbeState
from board.ledger.state import BatchStage, BatchState, Entry, LoadStage, LoadState, PitState, Reading
from board.planning.plan import Occasion, Plan, PlannedBatch, PlannedLoad, PlannedStep

Key = tuple[date, str]


@dataclass(frozen=True, slots=True)
class Done:
    """When a step was marked, and by whom."""

    at: datetime
    who: str


@dataclass(frozen=True, slots=True)
class Shelved:
    """A batch of an older plan that is still good, and about how much of it is left."""

    plan: Plan
    batch: PlannedBatch
    left_kg: float


@dataclass(frozen=True, slots=True)
class Facts:
    """The house, the near days' committed plans, and everything marked, at one moment.

    Loads, batches, steps and readings are keyed by the day they are for and their id; `pits` by id;
    `promises`, `sold` and `sold_out` by day, service id and item id. `air` holds readings of the pits that
    cook now, `asked` the setpoints they were given (when, °C), both by pit id and in order of time. `pins`
    are loads that somebody holds to a place, `regroups` loads to be split or joined, `occasions` what was
    changed of serving times and orders; `house` has those changes in it. `watches` run, or ended lately;
    `watched` are their readings by the watch's id, `kept` those of holds and of the walk-in by the place's.
    `corrected` are corrections, by the entry they correct; `acted` what was done about what failed. `weighed`
    is what was weighed of each batch, by line, `chilling` the temperatures read of it since it was made;
    `uses` what steps took of batches. `shelf` are batches of plans before those days that are still good;
    `probes` the last check of each probe, by time. `answers` are what was last said to alarms, by
    their key. `fed` is what each probe that feeds sent last, `placed` where each was put by hand last,
    `aside` the messages that were lately set aside, the latest first. `began_at` is when the ledger's
    first entry was written; `doubts` tell of entries that are shown by themselves why their time is
    doubtful. `recent` is all that was recorded lately, at the times that were put right, `since` what of it
    came after the last handover. `earlier` are the plans of days before the near ones of which
    something is off its pit and not gone, with those loads among `loads`; `cooled` the loads that were set to
    cool. Loads, batches, watches, readings, setpoints and what was done have the times that count, where a
    wrong clock wrote others.
    """

    house: House
    now: datetime
    plans: Mapping[date, Plan] = field(default_factory=dict)
    loads: Mapping[Key, LoadState] = field(default_factory=dict)
    batches: Mapping[Key, BatchState] = field(default_factory=dict)
    pits: Mapping[str, PitState] = field(default_factory=dict)
    done: Mapping[Key, Done] = field(default_factory=dict)
    readings: Mapping[Key, tuple[Reading, ...]] = field(default_factory=dict)
    since: tuple[Entry, ...] = ()
    recent: tuple[Entry, ...] = ()
    since_at: datetime | None = None
    handover: Entry | None = None
    promises: Mapping[tuple[date, str, str], int] = field(default_factory=dict)
    sold: Mapping[tuple[date, str, str], int] = field(default_factory=dict)
    sold_out: frozenset[tuple[date, str, str]] = frozenset()
    air: Mapping[str, tuple[Reading, ...]] = field(default_factory=dict)
    asked: Mapping[str, tuple[tuple[datetime, float], ...]] = field(default_factory=dict)
    pins: tuple[PinFacts, ...] = ()
    regroups: tuple[RegroupFacts, ...] = ()
    occasions: tuple[OccasionFacts, ...] = ()
    watches: tuple[WatchFacts, ...] = ()
    watched: Mapping[str, tuple[Reading, ...]] = field(default_factory=dict)
    kept: Mapping[str, tuple[Reading, ...]] = field(default_factory=dict)
    corrected: Mapping[int, Entry] = field(default_factory=dict)
    acted: tuple[Entry, ...] = ()
    weighed: Mapping[Key, tuple[WeighedFacts, ...]] = field(default_factory=dict)
    chilling: Mapping[Key, tuple[Reading, ...]] = field(default_factory=dict)
    uses: tuple[UseFacts, ...] = ()
    shelf: tuple[Shelved, ...] = ()
    probes: tuple[Entry, ...] = ()
    answers: Mapping[str, AlarmFacts] = field(default_factory=dict)
    began_at: datetime | None = None
    fed: tuple[ProbeState, ...] = ()
    placed: tuple[PlacingFacts, ...] = ()
    aside: tuple[Aside, ...] = ()
    doubts: Mapping[int, Doubt] = field(default_factory=dict)
    earlier: Mapping[date, Plan] = field(default_factory=dict)
    cooled: frozenset[Key] = frozenset()

    @property
    def today(self) -> date:
        """The house's date now."""
        return local(self.now, self.house).date()


def all_loads(facts: Facts) -> Iterator[tuple[Plan, PlannedLoad]]:
    """Every planned load of the near days with its plan, by loading time."""
    pairs = [(plan, load) for plan in facts.plans.values() for load in plan.loads]
    return iter(sorted(pairs, key=lambda pair: (pair[1].load_at, pair[1].id)))


def all_steps(facts: Facts) -> Iterator[tuple[Plan, PlannedStep]]:
    """Every planned step of the near days with its plan, by time."""
    pairs = [(plan, step) for plan in facts.plans.values() for step in plan.steps]
    return iter(sorted(pairs, key=lambda pair: (pair[1].at, pair[1].id)))


def all_batches(facts: Facts) -> Iterator[tuple[Plan, PlannedBatch]]:
    """Every planned batch of the near days with its plan, by the time it must be made."""
    pairs = [(plan, batch) for plan in facts.plans.values() for batch in plan.batches]
    return iter(sorted(pairs, key=lambda pair: (pair[1].make_by, pair[1].id)))


def occasions(facts: Facts) -> list[tuple[Plan, Occasion]]:
    """Every planned serving time of the near days with its plan, in order."""
    pairs = [(plan, occasion) for plan in facts.plans.values() for occasion in plan.occasions]
    return sorted(pairs, key=lambda pair: (pair[1].at, pair[1].id))


def load_state(facts: Facts, load: PlannedLoad, day: date) -> LoadState:
    """How a load stands; planned when nothing has been marked."""
    return facts.loads.get((day, load.id)) or LoadState(
        load.id, day, LoadStage.PLANNED, None, None, None, None, load.portions, None, None
    )


def pit_at(facts: Facts, load: PlannedLoad, day: date, moment: datetime | None = None) -> str:
    """The pit a load was on at a moment, or is on now: it may have been moved. Before, the one it is for."""
    state = load_state(facts, load, day)
    if moment is not None and state.moved_at is not None and moment < state.moved_at:
        return state.moved_from or load.pit
    return load.pit if state.stage is LoadStage.PLANNED else state.pit or load.pit


def zone_at(facts: Facts, load: PlannedLoad, day: date, moment: datetime | None = None) -> str | None:
    """The zone of `pit_at` it was in at a moment, or is in or for now; None where none is known."""
    state = load_state(facts, load, day)
    if moment is not None and state.moved_at is not None and moment < state.moved_at:
        return state.moved_from_zone
    planned = state.stage is LoadStage.PLANNED or not state.pit
    return load.zone if planned else state.zone


def batch_state(facts: Facts, batch: PlannedBatch, day: date) -> BatchState:
    """How a batch stands; due when nothing has been marked."""
    return facts.batches.get((day, batch.id)) or BatchState(batch.id, day, BatchStage.DUE, None, None, None)


def find_watch(facts: Facts, id: str | None) -> WatchFacts | None:
    """A watch by its id."""
    return next((watch for watch in facts.watches if watch.id == id), None)


def find_load(plan: Plan | None, id: str | None) -> PlannedLoad | None:
    """A plan's load by its id."""
    if plan is not None:
        for load in plan.loads:
            if load.id == id:
                return load
    return None


def load_of(facts: Facts, key: str) -> tuple[Plan, PlannedLoad] | None:
    """A load with its plan by its key, the day and the id as `2026-12-19/sat-ham`."""
    day, _, id = key.partition("/")
    plans = (*facts.plans.values(), *facts.earlier.values())
    plan = next((plan for plan in plans if plan.day.isoformat() == day), None)
    load = find_load(plan, id)
    return (plan, load) if plan is not None and load is not None else None


def find_batch(plan: Plan | None, id: str | None) -> PlannedBatch | None:
    """A plan's batch by its id."""
    return next((batch for batch in plan.batches if batch.id == id), None) if plan else None


def find_step(plan: Plan | None, id: str | None) -> PlannedStep | None:
    """A plan's step by its id."""
    return next((step for step in plan.steps if step.id == id), None) if plan else None


def promised(facts: Facts, plan: Plan, occasion: Occasion) -> dict[str, int]:
    """Portions promised at a serving time: the plan's, with what was edited since."""
    edited = {
        item: portions
        for (day, service, item), portions in facts.promises.items()
        if day == plan.day and service == occasion.id
    }
    return {**occasion.promises, **edited}


def aim_c(facts: Facts, load: PlannedLoad) -> float | None:
    """The core at which a load is done; None where its cut is unknown, or must be tender besides."""
    cut = facts.house.cuts.get(load.cut)
    return cut.pull_core_c if cut and cut.tender_minutes == 0.0 else None
