"""What the demo's night is told as: its events, who does them, and when a step was really done."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from board.house.calendar import on_shift
from board.house.model import House
from board.ledger import write
from board.ledger.open import Ledger
from board.planning.plan import Plan, PlannedLoad, PlannedStep

Act = Callable[[Ledger, dict[str, Any]], object]


@dataclass(frozen=True)
class Event:
    """One thing that happened: when, by whom, and how it is recorded."""

    at: datetime
    who: str
    act: Act


@dataclass(frozen=True)
class Night:
    """What night.toml tells, with the house it happened in and the plan it happened to."""

    house: House
    plan: Plan
    told: dict[str, Any]

    def moment(self, local: datetime) -> datetime:
        """A time on the house's clock as a moment."""
        return local.replace(tzinfo=ZoneInfo(self.house.zone))

    def first_of(self, cut: str) -> PlannedLoad | None:
        """The load of a cut that goes on first."""
        loads = [load for load in self.plan.loads if load.cut == cut]
        return min(loads, key=lambda load: load.load_at, default=None)

    def delay(self, load: PlannedLoad) -> timedelta:
        """How late a load went on."""
        late = [told for told in self.told.get("late", ()) if self.first_of(told["cut"]) == load]
        return timedelta(minutes=sum(told["minutes"] for told in late))


def done_at(night: Night, step: PlannedStep, load: PlannedLoad | None) -> datetime:
    """When a step was done: one of a late load as much later, its finishing work no later than it must be."""
    late = night.delay(load) if load else timedelta(0)
    if load is None or not late or step.at < load.load_at:
        return step.at
    if step.at < load.pull_at.p50 or step.what in ("pull", "rest", "hold"):
        return step.at + late
    return max(step.at, load.pull_at.p50 + late)


def core_read(load: PlannedLoad, core_c: float) -> Act:
    """A load's core is read."""
    return lambda ledger, said: write.take_reading(ledger, core_c, load=load.id, **said)


def place_read(place: str, celsius: float) -> Act:
    """The temperature of a pit, a hold or the walk-in is read."""
    return lambda ledger, said: write.take_reading(ledger, celsius, place=place, **said)


def awake(night: Night, moment: datetime) -> str:
    """Somebody on shift at a moment."""
    return next((person for person, *_ in on_shift(night.house, moment, moment)), "crew")
