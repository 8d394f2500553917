"""What has been in a house: services sold and loads cooked, which later days are learned from."""

from dataclasses import dataclass
from datetime import date, time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from board.house.model import WrapMaterial


@dataclass(frozen=True, slots=True)
class Sale:
    """One past service's sales of one item."""

    day: date
    service: str
    item: str
    sold: int
    left: int = 0
    sold_out_at: time | None = None


@dataclass(frozen=True, slots=True)
class PastCook:
    """One finished load, from which the house's pits and cuts are learned.

    `mass_kg` is the mean raw mass of a piece; `minutes` run from loading to the last piece coming off,
    `first_minutes` to the first one; `core_c` is the last one's core then, None where nobody read it and the
    load was done as its cut usually is. `wrap` went on at `wrap_core_c` or at `wrap_minute`; `air_c` is the
    mean of the pit's air as it was read beside the meat. `is_untimed` tells that clocks which did not agree
    wrote its times, and nobody has put that right.
    """

    day: date
    cut: str
    pit: str
    pieces: int
    mass_kg: float
    setpoint_c: float
    minutes: float
    start_c: float
    core_c: float | None = None
    wrap: "WrapMaterial | None" = None
    wrap_core_c: float | None = None
    wrap_minute: float | None = None
    first_minutes: float | None = None
    air_c: float | None = None
    is_untimed: bool = False
