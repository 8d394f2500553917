"""What the ledger keeps of each thing: the rows that follow from the record."""

from dataclasses import dataclass
from datetime import date, datetime

from board.ledger.stages import BATCH_ORDER, LOAD_ORDER
from board.ledger.state import BatchStage, LoadStage, WatchEnd, WatchKind


@dataclass(frozen=True, slots=True)
class LoadFacts:
    """A load: what the latest plan says of it, when each stage was reached, and its last change of pits."""

    day: date
    id: str
    cut: str
    item: str
    pit: str
    pieces: int
    portions: int
    portions_left: int
    load_at: datetime
    known_from: datetime
    dropped: bool = False
    stage: LoadStage = LoadStage.PLANNED
    since: datetime | None = None
    prepped_at: datetime | None = None
    on_at: datetime | None = None
    wrapped_at: datetime | None = None
    pulled_at: datetime | None = None
    resting_at: datetime | None = None
    holding_at: datetime | None = None
    served_at: datetime | None = None
    lost_at: datetime | None = None
    moved_at: datetime | None = None
    moved_from: str | None = None
    mass_kg: float | None = None
    setpoint_c: float | None = None
    zone: str | None = None
    moved_from_zone: str | None = None

    @property
    def times(self) -> dict[str, datetime]:
        """The stages reached, in their order, with their times."""
        return _times(self, LOAD_ORDER)


@dataclass(frozen=True, slots=True)
class StepFacts:
    """A step: what the latest plan says of it, and by whom it was done."""

    day: date
    id: str
    at: datetime
    ends_at: datetime
    what: str
    minutes: float
    person: str | None
    load: str | None
    batch: str | None
    pit: str | None
    dropped: bool = False
    done_at: datetime | None = None
    done_by: str | None = None
    done_seq: int | None = None


@dataclass(frozen=True, slots=True)
class BatchFacts:
    """A batch: what the latest plan says of it, and when each stage was reached."""

    day: date
    id: str
    recipe: str
    kind: str
    amount_kg: float
    make_by: datetime
    ready_from: datetime
    use_by: datetime
    dropped: bool = False
    stage: BatchStage = BatchStage.DUE
    lot: str | None = None
    made_by: str | None = None
    made_at: datetime | None = None
    ready_at: datetime | None = None
    used_at: datetime | None = None
    discarded_at: datetime | None = None
    discarded_why: str | None = None

    @property
    def times(self) -> dict[str, datetime]:
        """The stages reached, in their order, with their times."""
        return _times(self, BATCH_ORDER)


@dataclass(frozen=True, slots=True)
class PitFacts:
    """A pit: lit since when, and the setpoint last asked for."""

    id: str
    lit_at: datetime | None
    setpoint_c: float | None


@dataclass(frozen=True, slots=True)
class PromiseFacts:
    """Portions promised of one item at one service, where somebody changed what the house says."""

    day: date
    service: str
    item: str
    portions: int


@dataclass(frozen=True, slots=True)
class PinFacts:
    """Where a person wants a load cooked: pit, zone, setpoint and loading time hold in every new plan.

    `pieces` is how many of it, where the rest is to cook somewhere else.
    """

    day: date
    load: str
    pit: str
    zone: str | None
    setpoint_c: float | None
    load_at: datetime
    pieces: int | None = None


@dataclass(frozen=True, slots=True)
class OccasionFacts:
    """What a person changed of a serving time of one day: an order's name, when it is due, struck or not.

    `name` is that of an order the ledger alone knows, `at` where it is due at another time than the house
    says; both None where that was not said.
    """

    day: date
    service: str
    name: str | None = None
    at: datetime | None = None
    struck: bool = False


@dataclass(frozen=True, slots=True)
class RegroupFacts:
    """Loads of a day that a person wants split or joined, by the number of the entry that says so.

    Split, `pieces` of `load` go in a load of their own, named `other`; joined (`pieces` is None), `other` is
    cooked with `load`.
    """

    seq: int
    day: date
    load: str
    other: str
    pieces: int | None = None


@dataclass(frozen=True, slots=True)
class SaleFacts:
    """Portions sold of one item at one service, and when it ran out."""

    day: date
    service: str
    item: str
    sold: int = 0
    sold_out_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class ReadingFacts:
    """A temperature somebody or something read, as it was last corrected."""

    seq: int
    at: datetime
    who: str
    place: str
    load: str | None
    load_day: date | None
    temperature_c: float
    as_read_c: float | None = None
    corrected_by: int | None = None


@dataclass(frozen=True, slots=True)
class WeighedFacts:
    """One line of a batch's recipe as it was last weighed; `reader` is the second person who read it."""

    day: date
    batch: str
    line: int
    ingredient: str
    grams: float
    asked_g: float
    who: str
    at: datetime
    reader: str | None = None


@dataclass(frozen=True, slots=True)
class UseFacts:
    """What one step of a load took of one batch; `batch_day` is the day of the plan that names the batch."""

    day: date
    step: str
    batch: str
    load: str
    batch_day: date
    lot: str | None
    kg: float
    who: str
    at: datetime


@dataclass(frozen=True, slots=True)
class WatchFacts:
    """Food under a rule that runs: what and how much, since when, from which load, and what became of it.

    `made_on` is the day the food was made, for its date mark. `frozen` are the days it went into the freezer
    and came out, as `2026-12-20/2026-12-24 2026-12-26/`, the last one open while it is in.
    """

    id: str
    kind: WatchKind
    what: str
    seq: int
    started_at: datetime
    started_by: str
    amount: str | None = None
    load: str | None = None
    load_day: date | None = None
    place: str | None = None
    way: str | None = None
    from_watch: str | None = None
    made_on: date | None = None
    frozen: str = ""
    ended_at: datetime | None = None
    ended_by: str | None = None
    how: WatchEnd | None = None


@dataclass(frozen=True, slots=True)
class AlarmFacts:
    """What was last said to an alarm at which level of it: put off `until` then, or answered for good."""

    key: str
    level: int
    who: str
    at: datetime
    seq: int
    until: datetime | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class PlacingFacts:
    """A probe put into a load of a day at a moment; out of all loads where `load` is None."""

    seq: int
    probe: str
    at: datetime
    who: str
    load: str | None
    load_day: date | None


@dataclass(frozen=True, slots=True)
class StruckFacts:
    """A span, both ends in it, in which what a probe fed does not count."""

    seq: int
    probe: str
    since: datetime
    until: datetime
    who: str
    why: str | None = None


def _times(facts: LoadFacts | BatchFacts, order: tuple[str, ...]) -> dict[str, datetime]:
    found = {stage: getattr(facts, f"{stage}_at") for stage in order}
    return {stage: at for stage, at in found.items() if at is not None}


Facts = (
    LoadFacts
    | StepFacts
    | BatchFacts
    | PitFacts
    | PromiseFacts
    | PinFacts
    | OccasionFacts
    | RegroupFacts
    | SaleFacts
    | ReadingFacts
    | WeighedFacts
    | UseFacts
    | WatchFacts
    | AlarmFacts
    | PlacingFacts
    | StruckFacts
)
