"""How warm a core still is at the end of its rest."""

import numpy as np

from board.cooking.cook import Cook
from board.cooking.physics.parameters import Parameters, parameters
from board.cooking.possible import check
from board.cooking.sampling import drawn
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.running import Trace
from board.cooking.spans import span_of
from board.house.spans import Span


def core_after_rest(
    cook: Cook, *, members: int = 32, seed: int = 0, using: Parameters | None = None
) -> Span | None:
    """The core, °C, when a cook's rest is over; None where no member comes to its pull.

    The slowest piece's, after `cook.rest`. Raises CookingError for a cook that cannot be.
    """
    check(cook)
    chosen = using or parameters()
    trace = Trace([], [], [])
    course = run(ensemble(cook, drawn(cook, members, seed, chosen), chosen), constants(chosen), trace)
    core = np.array(trace.core)
    last = (~np.isnan(core)).cumsum(axis=0).argmax(axis=0)
    ended = core[last, np.arange(members)][course.reached]
    return span_of(ended) if ended.size else None
