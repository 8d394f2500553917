"""What a remedy is: what is done, when the load is then ready, the chance, and what it costs."""

from dataclasses import dataclass
from enum import StrEnum

from board.house.spans import TimeSpan


class Kind(StrEnum):
    """What is done for a load."""

    RAISE = "raise"
    WRAP = "wrap"
    RAISE_AND_WRAP = "raise and wrap"
    MOVE = "move"
    PULL_LOWER = "pull lower"
    SHORTER_REST = "shorter rest"
    OTHER_FIRST = "other first"
    LOWER = "lower"
    HOLD = "hold"
    BOX = "box"
    NOTHING = "nothing"


class CostKind(StrEnum):
    """What a remedy asks in return; lighter ones come before heavier ones in a list."""

    HANDS = "hands"  # minutes of one person's hands
    FIRE = "fire"  # a pit is lit that was not, or sooner
    BACK = "back"  # the setpoint must be put back when another load goes on
    SOFTER_BARK = "softer bark"
    DRIER = "drier"  # a hotter pit, or a long wait
    FIRMER = "firmer"  # pulled sooner than the house likes it
    JUICIER_BOARD = "juicier board"  # a short rest lets more juice run on the board
    NO_MARGIN = "no margin"  # pulled at the safety rule's own core
    WAIT_AT_CORE = "wait at core"  # minutes it stays on at its core before it may come off
    OTHER_EARLIER = "other earlier"  # another load is done so many minutes sooner
    OTHER_LATER = "other later"
    FEWER = "fewer"  # so many portions only
    SWAPPED = "swapped"  # this load then serves when the other was to
    PROBE = "probe"  # it must be probed while it waits
    HELD = "held"  # minutes it waits after it is ready


class Reason(StrEnum):
    """Why a remedy is not offered."""

    AT_ITS_HIGHEST = "at its highest"
    OTHERS_CANNOT = "others cannot"
    OTHER_OVERHELD = "other overheld"
    ALREADY_WRAPPED = "already wrapped"
    NEVER_WRAPPED = "never wrapped"
    CORE_UNKNOWN = "core unknown"
    TOO_SOON = "too soon"
    NO_HOTTER_PIT = "no hotter pit"
    OUT_OF_USE = "out of use"  # before it would be done there
    SET_OTHERWISE = "set otherwise"  # for other meat, before it would be done there
    TOO_HOT = "too hot"  # for its cut
    NO_ROOM = "no room"
    RAW_POULTRY = "raw poultry"
    MOVED_ONCE = "moved once"
    NOT_SAFE = "not safe"
    AT_ITS_LEAST = "at its least"
    NO_OTHER_LOAD = "no other load"
    NO_HELP = "no help"
    CORE_TOO_COOL = "core too cool"
    TOO_LONG = "too long"
    NO_HOT_HOLD = "no hot hold"
    OTHERS_LATE = "others late"


@dataclass(frozen=True, slots=True)
class Cost:
    """One thing a remedy asks in return; the rest says how much, and `load` of which load (its id)."""

    kind: CostKind
    minutes: float = 0.0
    portions: int = 0
    load: str = ""
    celsius: float | None = None


@dataclass(frozen=True, slots=True)
class Action:
    """What is done: to which pit or zone of it, at what setpoint or core, in which hold, with what load."""

    kind: Kind
    pit: str = ""
    setpoint_c: float | None = None
    core_c: float | None = None
    hold: str = ""
    other: str = ""
    is_unlit: bool = False
    zone: str | None = None


@dataclass(frozen=True, slots=True)
class Remedy:
    """One thing that would help: the ready time it leads to, and the chance to be ready in time."""

    action: Action
    ready: TimeSpan
    chance: float
    costs: tuple[Cost, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A remedy that is not offered, and why; `about` is the id of a pit, a hold or a load."""

    kind: Kind
    reason: Reason
    about: str = ""


@dataclass(frozen=True, slots=True)
class Advice:
    """What helps a load (its id), best first, beside doing nothing; `is_early` when nothing hurries."""

    load: str
    nothing: Remedy
    remedies: tuple[Remedy, ...]
    left_out: tuple[LeftOut, ...] = ()
    is_early: bool = False

    @property
    def best(self) -> Remedy | None:
        """The one to try first."""
        return self.remedies[0] if self.remedies else None
