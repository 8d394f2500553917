"""Probes that send readings by themselves, and how much of what they send a house keeps."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

WALK_IN = "walk-in"


class ProbeReads(StrEnum):
    """What a probe reads: the air of a place, or the core of meat it is put into."""

    AIR = "air"
    MEAT = "meat"


@dataclass(frozen=True, slots=True)
class Probe:
    """One probe of the house.

    `place` is the pit, the hold or the walk-in whose air it reads, or the pit a meat probe hangs at: it
    then reads the one load that is there, or in that `zone` of it. `sent_as` are the names its messages give
    it, `unit` the degrees of messages that name none, C or F; None where every message must name its own. It
    is silent after `silent_minutes` without a reading, None by the house's usual.
    """

    id: str
    name: str
    reads: ProbeReads
    place: str | None
    sent_as: tuple[str, ...]
    zone: str | None = None
    unit: str | None = None
    silent_minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Keeping:
    """How much of what probes send is kept, and when a probe counts as silent.

    A reading is kept `every_minutes` after the last one kept, or sooner where it is `change_k` off that.
    """

    every_minutes: float
    change_k: float
    silent_minutes: float


@dataclass(frozen=True, slots=True)
class Aside:
    """How many messages of one feed, set aside within so many minutes, somebody has to be told of."""

    messages: int
    minutes: float


@dataclass(frozen=True, slots=True)
class Silence:
    """After how many minutes without a reading each probe of a house counts as silent."""

    usual_minutes: float
    own_minutes: tuple[tuple[str, float], ...] = ()

    def minutes(self, probe: str | None) -> float:
        """Of one probe by its id; one the house has no more, as usual."""
        return next((minutes for id, minutes in self.own_minutes if id == probe), self.usual_minutes)


def named_by(probes: Mapping[str, Probe]) -> dict[str, Probe]:
    """The probes by each name that messages give them."""
    return {name: probe for probe in probes.values() for name in probe.sent_as}
