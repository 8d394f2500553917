"""What salt spreading through a solid is told in: the solid's lines, and the shares its parts have."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """One direction salt comes from: its half thickness or radius, m, and the exponent of its area."""

    half_m: float
    g: float = 0.0


Solid = tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Shares:
    """What the middle, the whole on average and the outside have, as fractions of what they end with."""

    middle: float
    mean: float
    outside: float

    @property
    def middle_of_mean(self) -> float:
        """The middle over the mean; 0 where nothing has come in."""
        return self.middle / self.mean if self.mean > 0 else 0.0

    @property
    def outside_of_mean(self) -> float:
        """The outside over the mean; 0 where nothing has come in."""
        return self.outside / self.mean if self.mean > 0 else 0.0
