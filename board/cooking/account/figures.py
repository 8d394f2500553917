"""The account of one cook, as figures."""

from dataclasses import dataclass
from enum import StrEnum

from board.house.spans import Span


class Part(StrEnum):
    """A stretch of a cook."""

    COLD = "cold"
    WARMING = "warming"
    STALL = "stall"
    LAST = "last"
    WRAPPED = "wrapped"
    SOFTENING = "softening"


class Change(StrEnum):
    """One thing done otherwise."""

    HOTTER = "hotter"
    HEAVIER = "heavier"
    COLDER = "colder"
    LATER_PULL = "later pull"
    SOFTER = "softer"
    OPEN = "open"
    PAPER = "paper"
    FOIL = "foil"
    QUICKER_PIT = "quicker pit"
    WET_PIT = "wet pit"
    ONE_PIECE = "one piece"


class Unknown(StrEnum):
    """What is not known of a cook before it is measured, in groups."""

    PIT_HEAT = "pit heat"
    PIT_AIR = "pit air"
    PIT_DAMP = "pit damp"
    PIECES = "pieces"
    SHAPE = "shape"
    MEAT = "meat"
    JUICE = "juice"
    WRAP = "wrap"
    START = "start"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch of the middle piece's cook.

    Its minutes, the core at its ends (°C), the heat it took in and what of that left as steam (J/kg raw).
    """

    part: Part
    minutes: float
    from_c: float
    to_c: float
    heat_j_kg: float
    steam_j_kg: float


@dataclass(frozen=True, slots=True)
class Worth:
    """What one change would bring: minutes later (negative: sooner) for `amount` (K, kg or a ratio)."""

    change: Change
    minutes: float
    amount: float = 0.0


@dataclass(frozen=True, slots=True)
class Spreading:
    """What one unknown alone does to the time, from its 10th to its 90th percentile.

    Minutes sooner and later than the middle (both positive), and its share of the variance of ln(time).
    """

    unknown: Unknown
    sooner: float
    later: float
    share: float


@dataclass(frozen=True, slots=True)
class Narrowed:
    """The span a cook that runs as the middle one would have, read regularly until then (minutes)."""

    after_minutes: float
    readings: int
    span: Span


@dataclass(frozen=True, slots=True)
class ByWeight:
    """One weight: what a rule that fits the usual weight says for it, and what the sums say (minutes)."""

    mass_kg: float
    by_rule: float
    here: float


@dataclass(frozen=True, slots=True)
class RuleOfThumb:
    """Hours by weight against the sums.

    `practice` is what practice gives for this weight at so many hours a kg (minutes, shortest and longest;
    None for a cut of the house alone); `weights` hold a rule that fits at the usual weight against the sums.
    """

    usual_kg: float
    practice: tuple[float, float] | None
    weights: tuple[ByWeight, ...]


@dataclass(frozen=True, slots=True)
class Account:
    """One cook's number taken apart.

    `middle` is the minutes of one piece with everything at its middle, `slowest` those of the slowest of the
    load's; `stretches` and the heat are the middle piece's, masses of water and fat a kg of raw meat.
    `pit_h` is the pit's heat transfer as it is known, W/m²K; `known_pit` the span if it were known.
    """

    middle: float
    slowest: float
    span: Span
    stretches: tuple[Stretch, ...]
    steamed_kg_kg: float
    dripped_kg_kg: float
    fat_kg_kg: float
    worths: tuple[Worth, ...]
    spreadings: tuple[Spreading, ...]
    pit_h: Span
    known_pit: Span
    narrowed: tuple[Narrowed, ...]
    rule: RuleOfThumb | None

    @property
    def heat_j_kg(self) -> float:
        """All the heat a kg of raw meat took in."""
        return sum(stretch.heat_j_kg for stretch in self.stretches)

    @property
    def steam_j_kg(self) -> float:
        """What of it left as steam."""
        return sum(stretch.steam_j_kg for stretch in self.stretches)
