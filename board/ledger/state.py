"""What the ledger knows now, as plain data."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import Any


class LoadStage(StrEnum):
    """Where a load stands."""

    PLANNED = "planned"
    PREPPED = "prepped"
    ON = "on"
    WRAPPED = "wrapped"
    PULLED = "pulled"
    RESTING = "resting"
    HOLDING = "holding"
    SERVED = "served"
    LOST = "lost"


OFF_AND_THERE = (LoadStage.PULLED, LoadStage.RESTING, LoadStage.HOLDING)  # off its pit, not gone


class BatchStage(StrEnum):
    """Where a batch stands."""

    DUE = "due"
    MADE = "made"
    READY = "ready"
    USED = "used"
    DISCARDED = "discarded"


class WatchKind(StrEnum):
    """The rule that runs over some food while it is watched."""

    COOLING = "cooling"
    REHEATING = "reheating"
    THAWING = "thawing"
    TEMPERING = "tempering"
    HOT_HOLD = "hot hold"
    COLD_HOLD = "cold hold"
    DATE_MARKED = "date-marked"


class WatchEnd(StrEnum):
    """What became of the food when its watch ended."""

    DONE = "done"
    USED = "used"
    DISCARDED = "discarded"


class RightClock(StrEnum):
    """Whose time is right where a machine's clock and the board's differ."""

    MACHINE = "machine"
    BOARD = "board"


class ProbeWay(StrEnum):
    """What a probe was checked in."""

    ICE = "ice"
    BOILING = "boiling"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the record: what happened, when, who says so, and when it was written.

    `undoes` is the seq of the entry this one takes back; `undone` tells that a later entry took
    this one back. Nothing is ever changed or removed. `already` tells that what was asked for was
    in the record before, so that nothing was written and this is the entry found.
    """

    seq: int
    at: datetime
    noted_at: datetime
    who: str
    kind: str
    subject: str
    data: Mapping[str, Any]
    undoes: int | None = None
    undone: bool = False
    already: bool = False


@dataclass(frozen=True, slots=True)
class LoadState:
    """A load as it stands: the plan's facts and what has been marked since.

    `pit` and, where its part of it is known, `zone` are where it is or will be, since `moved_at` when it
    came there from another; `dropped` tells that it was started and that the plan in force no longer names
    it.
    """

    id: str
    day: date
    stage: LoadStage
    since: datetime | None
    on_at: datetime | None
    wrapped_at: datetime | None
    pulled_at: datetime | None
    portions_left: int
    last_core_c: float | None
    last_core_at: datetime | None
    cut: str = ""
    item: str = ""
    pit: str = ""
    pieces: int = 0
    portions: int = 0
    prepped_at: datetime | None = None
    resting_at: datetime | None = None
    holding_at: datetime | None = None
    served_at: datetime | None = None
    lost_at: datetime | None = None
    dropped: bool = False
    moved_at: datetime | None = None
    moved_from: str | None = None
    zone: str | None = None
    moved_from_zone: str | None = None


@dataclass(frozen=True, slots=True)
class BatchState:
    """A batch as it stands, with its lot number once made."""

    id: str
    day: date
    stage: BatchStage
    made_at: datetime | None
    made_by: str | None
    lot: str | None
    recipe: str = ""
    kind: str = ""
    amount_kg: float = 0.0
    make_by: datetime | None = None
    ready_from: datetime | None = None
    use_by: datetime | None = None
    ready_at: datetime | None = None
    used_at: datetime | None = None
    discarded_at: datetime | None = None
    dropped: bool = False
    discarded_why: str | None = None


@dataclass(frozen=True, slots=True)
class Weight:
    """One line of a recipe on the scale: its place in the recipe from 1, asked for and shown, in grams."""

    line: int
    ingredient: str
    asked_g: float
    grams: float


@dataclass(frozen=True, slots=True)
class Read:
    """A temperature to record, of a place or of a load's core."""

    temperature_c: float
    place: str | None = None
    load: str | None = None


@dataclass(frozen=True, slots=True)
class Took:
    """How many kilograms a step of a load takes of a batch of a planned day."""

    batch: str
    day: date
    kg: float


@dataclass(frozen=True, slots=True)
class StepState:
    """A step of the plan in force, and when and by whom it was done."""

    id: str
    day: date
    at: datetime
    ends_at: datetime
    what: str
    person: str | None
    load: str | None
    batch: str | None
    pit: str | None
    minutes: float
    done_at: datetime | None = None
    done_by: str | None = None


@dataclass(frozen=True, slots=True)
class SaleState:
    """Portions of one item sold at one service, and when it ran out."""

    day: date
    service: str
    item: str
    sold: int
    sold_out_at: datetime | None


@dataclass(frozen=True, slots=True)
class PitState:
    """A pit as it stands: lit since when, asked for what, last seen at what."""

    id: str
    lit_at: datetime | None
    setpoint_c: float | None
    last_air_c: float | None
    last_air_at: datetime | None


ReadingKey = int | tuple[str, datetime]


@dataclass(frozen=True, slots=True)
class Timing:
    """How the time of a reading is known, where some clock near it was wrong.

    `boot` is the boot of the machine by whose count it is, empty where it is by none. Of a reading that a
    wrong clock wrote, `written_at` is what that wrote, and `or_at` when else it may have been.
    """

    boot: str
    written_at: datetime | None = None
    or_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """A measured temperature of a load's core, a pit, a cooler, a hold, a brine or a watch.

    Where somebody corrected it, `corrected_by` is that entry and `as_read_c` what was first written. One that
    a `probe` fed has it also as `who`, and shares the entry `seq` with others of that moment. `timing` is
    there where some clock near it was wrong.
    """

    seq: int
    at: datetime
    who: str
    place: str
    temperature_c: float
    load: str | None = None
    as_read_c: float | None = None
    corrected_by: int | None = None
    probe: str | None = None
    timing: Timing | None = None

    @property
    def is_doubtful(self) -> bool:
        """Whether a wrong clock wrote its time."""
        return self.timing is not None and self.timing.written_at is not None

    @property
    def written_at(self) -> datetime:
        """Its time as it was written."""
        return (self.timing and self.timing.written_at) or self.at

    @property
    def or_at(self) -> datetime:
        """When else it may have been taken; its time where that is not doubtful."""
        return (self.timing and self.timing.or_at) or self.at

    @property
    def is_untimed(self) -> bool:
        """Whether nobody knows when it was taken: a wrong clock wrote that, and no machine's count tells."""
        return self.is_doubtful and self.timing is not None and not self.timing.boot

    @property
    def key(self) -> ReadingKey:
        """What tells it from all others: its entry, or its probe and moment where it was fed."""
        return self.seq if self.probe is None else (self.probe, self.at)


@dataclass(frozen=True, slots=True)
class PlanVersion:
    """A committed plan's place in the history: its number, who committed it and why."""

    version: int
    day: date
    at: datetime
    who: str
    reason: str
    changes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LedgerHouse:
    """Whose ledger this is: the house's name, its zone and the folder of its files."""

    name: str
    zone: str
    folder: str
