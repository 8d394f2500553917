"""What a remedy is judged by: the load in question, what else is on the pits and in the holds, the time."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from board.cooking.cook import Cook
from board.house.model import Cut, House
from board.house.spans import TimeSpan, minutes_between
from board.planning.plan import PlannedLoad


@dataclass(frozen=True, slots=True)
class OnPit:
    """A load cooking now.

    `cook` is how it has gone since `on_at` and is expected to go on; `taken` its core readings (minutes,
    °C); `due` when it must be ready, its finishing work counted; `pull` when it is likely pulled. In its
    `zone` the air is `warmer_k` over the pit's; `turn_minute` (from loading) is when the pit is planned to be
    set to its load's `then_c`, where that is ahead; doors opened for other meat cost it `door_minutes` yet.
    """

    load: PlannedLoad
    cook: Cook
    on_at: datetime
    pit: str
    due: datetime
    pull: TimeSpan
    taken: tuple[tuple[float, float], ...] = ()
    is_wrapped: bool = False
    has_moved: bool = False
    zone: str | None = None
    warmer_k: float = 0.0
    turn_minute: float | None = None
    door_minutes: float = 0.0

    @property
    def key(self) -> str:
        """The load's id."""
        return self.load.id

    @property
    def cut(self) -> Cut:
        """What is cooked."""
        return self.cook.cut

    @property
    def after_minutes(self) -> float:
        """From its pull to ready, as planned: the work of pulling, then its rest."""
        return minutes_between(self.load.pull_at.p50, self.load.ready_at.p50)

    @property
    def then_c(self) -> float | None:
        """The setpoint its pit is still to be brought to with it on."""
        return self.load.then_c if self.turn_minute is not None else None

    @property
    def core_c(self) -> float | None:
        """The last core read."""
        return max(self.taken)[1] if self.taken else None

    def minutes(self, moment: datetime) -> float:
        """Minutes from loading to a moment."""
        return minutes_between(self.on_at, moment)


@dataclass(frozen=True, slots=True)
class Supply:
    """Portions of the same item from another load: when they are ready, and when they are needed."""

    load: PlannedLoad
    ready: TimeSpan
    due: datetime
    portions: int


@dataclass(frozen=True, slots=True)
class Stay:
    """Room taken in a hot hold for a while."""

    hold: str
    area_m2: float
    begin: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Scene:
    """One load in trouble, or not, and everything around it at one moment.

    `beside` are the other loads on any pit, `coming` those planned and not on yet; `lit` the setpoints of
    the pits that burn; `supplies` other loads of its item; `held` what the hot holds have and will have.
    """

    house: House
    now: datetime
    load: OnPit
    beside: tuple[OnPit, ...] = ()
    coming: tuple[PlannedLoad, ...] = ()
    lit: Mapping[str, float] | None = None
    supplies: tuple[Supply, ...] = ()
    held: tuple[Stay, ...] = ()

    @property
    def elapsed(self) -> float:
        """Minutes since the load went on."""
        return self.load.minutes(self.now)

    @property
    def setpoint_c(self) -> float:
        """What its pit is asked for now."""
        return (self.lit or {}).get(self.load.pit, self.load.load.setpoint_c)

    def sharing(self, pit: str) -> tuple[OnPit, ...]:
        """The other loads on a pit now."""
        return tuple(one for one in self.beside if one.pit == pit)

    def coming_to(self, pit: str, until: datetime) -> tuple[PlannedLoad, ...]:
        """The loads that go on a pit before a moment."""
        return tuple(load for load in self.coming if load.pit == pit and load.load_at < until)
