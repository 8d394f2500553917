"""What cores do once they are pulled: how warm at the end of a rest, and their whole course through it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.possible import check
from board.cooking.sampling import drawn
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble, joined
from board.cooking.solver.running import Trace
from board.cooking.spans import span_of
from board.house.spans import Span

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class CoreCourse:
    """One member's core, the slowest piece's, from loading through its rest.

    `minutes` from loading, rising, and as many `core_c`; off the pit at `pulled_minute`, infinite where it
    never comes off.
    """

    minutes: Floats
    core_c: Floats
    pulled_minute: float


def core_after_rest(
    cook: Cook, *, members: int = 32, seed: int = 0, using: Parameters | None = None
) -> Span | None:
    """The core, °C, when a cook's rest is over; None where no member comes to its pull.

    The slowest piece's, after `cook.rest`. Raises CookingError for a cook that cannot be.
    """
    courses = core_courses([cook], members=members, seed=seed, using=using)[0]
    ended = [course.core_c[-1] for course in courses if np.isfinite(course.pulled_minute)]
    return span_of(np.array(ended)) if ended else None


def core_courses(
    cooks: Sequence[Cook], *, members: int, seed: int = 0, using: Parameters | None = None
) -> list[tuple[CoreCourse, ...]]:
    """Every member's core of each cook, in order, on its pit and through its rest.

    Same cook, members and seed give the same courses whatever other cooks are asked with it. Raises
    CookingError for a cook that cannot be.
    """
    chosen = using or parameters()
    for cook in cooks:
        check(cook)
    if not cooks:
        return []
    trace = Trace([], [], [])
    parts = [ensemble(cook, drawn(cook, members, seed, chosen), chosen) for cook in cooks]
    course = run(joined(parts), constants(chosen), trace)
    pulled = np.where(course.reached, course.pulled_s / 60.0, np.inf)
    minutes, cores = np.array(trace.seconds).T / 60.0, np.array(trace.core).T
    found = [_course(*row) for row in zip(minutes, cores, pulled, strict=True)]
    return [tuple(found[i * members : (i + 1) * members]) for i in range(len(cooks))]


def _course(minutes: Floats, core_c: Floats, pulled_minute: float) -> CoreCourse:
    """One member's own steps; a step taken again to land on a moment leaves two rows of one time."""
    known = ~np.isnan(minutes)
    rising, first = np.unique(minutes[known], return_index=True)
    return CoreCourse(rising, core_c[known][first], float(pulled_minute))
