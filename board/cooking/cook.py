"""A cook to be estimated, and what the estimate answers."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from board.cooking.known import Known
from board.house.library import pit_prior
from board.house.model import Cut, Pit, PitKind, Wrap
from board.house.spans import Span, Spread

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PitAir:
    """The air a piece meets on a pit.

    `h_c` W/(m² K) and `humidity` kg/kg dry air are ranges (low and high taken as one in twenty);
    `control_band_c` is the swing of the air about its setpoint, `unevenness_c` the difference between
    the hottest and the coldest place; `known` what the house's own cooks teach of a cut there.
    """

    kind: PitKind
    h_c: Spread
    humidity: Spread
    control_band_c: float
    unevenness_c: float = 8.0
    known: Known | None = None

    @classmethod
    def of(cls, pit: Pit) -> "PitAir":
        """The air of one of the house's pits, as uneven as its kind."""
        uneven = pit_prior(pit.kind).unevenness_c.usual
        return cls(pit.kind, pit.h_c_w_m2k, pit.humidity_ratio, pit.control_band_c, uneven)

    @classmethod
    def usual(cls, kind: PitKind) -> "PitAir":
        """The air of a pit of which only the kind is known."""
        prior = pit_prior(kind)
        return cls(kind, prior.h_c, prior.humidity, prior.control_band_c.usual, prior.unevenness_c.usual)


@dataclass(frozen=True, slots=True)
class AirCurve:
    """A pit's air over a cook: straight between knots, flat before the first and after the last.

    `minutes` from loading, never falling; `celsius` as many; up to `measured_until` (minutes) it was read,
    from there on it is expected. `departure_k` is one standard deviation of what its readings leave open;
    as much of the control band as without readings where None.
    """

    minutes: tuple[float, ...]
    celsius: tuple[float, ...]
    measured_until: float = 0.0
    departure_k: float | None = None

    @property
    def knots(self) -> tuple[tuple[float, float], ...]:
        """(minute, °C) of each knot; two at one minute are a jump."""
        return tuple(zip(self.minutes, self.celsius, strict=True))

    def at(self, minute: float) -> float:
        """The air at a minute, °C; after the jump where there is one."""
        return float(np.interp(minute, self.minutes, self.celsius))

    def over(self, minutes: Floats) -> Floats:
        """The air at given minutes, °C."""
        return np.interp(minutes, self.minutes, self.celsius)


@dataclass(frozen=True, slots=True)
class Move:
    """A load carried over to another pit so many minutes after loading."""

    minute: float
    pit: PitAir
    setpoint_c: float


@dataclass(frozen=True, slots=True)
class Rest:
    """What follows the pull: `place` is room, cooler (an insulated box) or hold.

    `hold_c` is the hold's setpoint, `hold_humidity` its relative humidity, 0 to 1; a usual hold's where None.
    `then` is one more place it goes to from there.
    """

    place: str
    minutes: float
    hold_c: float | None = None
    hold_humidity: float | None = None
    then: "Rest | None" = None


@dataclass(frozen=True, slots=True)
class Cook:
    """Pieces of one cut that go on one pit together.

    `mass_kg` is the mean raw mass of a piece, known; the load is done when the slowest of its `pieces` has
    reached `until_core_c` and has softened as `tender_minutes` at 93 °C in the core would, whichever comes
    last (`Cut.end_core_c` and `Cut.tender_minutes` are a cut's usual end). The pit's air is `air` where that
    is given, else the setpoint throughout. A wrap goes on at its core, or at `wrap_minute` where that is
    given.
    """

    cut: Cut
    mass_kg: float
    pieces: int
    pit: PitAir
    setpoint_c: float
    until_core_c: float
    start_c: float = 4.0
    wrap: Wrap | None = None
    rest: Rest | None = None
    altitude_m: float = 0.0
    air: AirCurve | None = None
    wrap_minute: float | None = None
    move: Move | None = None
    tender_minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class Stall:
    """The stretch in which the core hardly rises, in minutes from loading, and where it stands."""

    from_minute: float
    to_minute: float
    core_c: float


@dataclass(frozen=True, slots=True)
class Curve:
    """The core's span, the middle surface temperature and the middle loss at a row of minutes."""

    minutes: Floats
    core_p10: Floats
    core_p50: Floats
    core_p90: Floats
    surface_p50: Floats
    loss_percent_p50: Floats


@dataclass(frozen=True, slots=True)
class Paths:
    """Every member's core at a common row of minutes, as members by minutes; NaN once it is pulled.

    `done_at_core` is false for a cook that must be tender too.
    """

    minutes: Floats
    core: NDArray[np.float32]
    until_core_c: float
    done_at_core: bool = True


@dataclass(frozen=True, slots=True)
class ThinEnd:
    """The thin end of a piece that has one: when it is at the core asked, and its core at the pull.

    `minutes` is None where it never gets there before the thick end does.
    """

    minutes: Span | None
    core_c: Span


@dataclass(frozen=True, slots=True)
class Estimate:
    """How long a load takes, from loading to its slowest piece at its end, and what it loses.

    `member_minutes` holds each member's answer (the cap of two days for one that never comes);
    `pulled_core_c` is the core at the pull, above the one asked where tenderness comes last;
    `loss_percent` counts juice and fat; `peak_after_pull_c` is asked for by a rest; `stall`, `curve`,
    `paths` and `thin_end` by `curves`.
    """

    minutes: Span
    member_minutes: Floats
    wrap_minutes: Span | None
    loss_percent: Span
    pulled_core_c: Span
    peak_after_pull_c: Span | None = None
    stall: Stall | None = None
    curve: Curve | None = None
    paths: Paths | None = field(default=None, repr=False)
    thin_end: ThinEnd | None = None
