"""What the readings of a cook come to: those that count, those left out, and the time they narrow."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.commands.cook.measured import Measured
from board.cooking.cook import Estimate
from board.cooking.readings.left_out import LeftOut
from board.cooking.readings.revise import Revision, revise
from board.cooking.readings.sieve import Sieved, limits_of, sieve


@dataclass(frozen=True, slots=True)
class Taken:
    """The readings of a core and of its pit, sieved; `revision` is None where none of the core counts."""

    core: Sieved
    revision: Revision | None
    air_kept: int
    air_left_out: tuple[LeftOut, ...]

    @classmethod
    def of(cls, measured: Measured, found: Estimate, read: Sequence[tuple[float, float]]) -> "Taken":
        """The readings of a core sieved, and the estimate narrowed by those that count."""
        core = sieve(limits_of(measured.cook, found), read)
        revision = revise(found, core.kept) if core.kept else None
        return cls(core, revision, measured.air_kept, measured.air_left_out)
