"""The thin end of a piece, cooked beside its thick end: how far ahead of it it runs."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from board.cooking.cook import Cook, ThinEnd
from board.cooking.physics.parameters import Parameters
from board.cooking.sampling import Draws
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.cooking.solver.running import Trace
from board.cooking.spans import span_of

Floats = NDArray[np.float64]

NEVER_C = 1e4  # a core nothing comes to


def thin_end(
    cook: Cook, draws: Draws, pulled_s: Floats, wrapped_s: Floats, parameters: Parameters
) -> ThinEnd | None:
    """The thin end of each member until its thick end is pulled; None for a piece that has none.

    `pulled_s` and `wrapped_s` (NaN: never) are the thick ends' moments, s: the crew probes those. Heat that
    flows along the piece is left out, so the last centimetres are meant, not the middle of the flat.
    """
    size = cook.cut.size
    if size.thin_end_m is None:
        return None
    cut = replace(cook.cut, size=replace(size, thickness_m=size.thin_end_m, thin_end_m=None))
    members = ensemble(replace(cook, cut=cut, tender_minutes=0.0, rest=None), draws, parameters)
    never, wrap_s = np.full_like(pulled_s, NEVER_C), np.where(np.isnan(wrapped_s), np.inf, wrapped_s)
    members.aims = replace(members.aims, pull_c=never, wrap_c=never, wrap_s=wrap_s, last_s=pulled_s)
    trace = Trace([], [], [])
    run(members, constants(parameters), trace)
    seconds, core = np.array(trace.seconds).T, np.array(trace.core).T
    there = np.array([_first_at(cook.until_core_c, *path) for path in zip(seconds, core, strict=True)])
    at_pull = [_value_at(*path) for path in zip(pulled_s, seconds, core, strict=True)]
    came = there[~np.isnan(there)]
    return ThinEnd(span_of(came / 60.0) if came.size else None, span_of(np.array(at_pull)))


def _first_at(core_c: float, seconds: Floats, core: Floats) -> float:
    """When a core first stands at a temperature, s; NaN if it never does."""
    known = ~np.isnan(core)
    risen = np.maximum.accumulate(core[known])
    return float(np.interp(core_c, risen, seconds[known])) if risen[-1] >= core_c else np.nan


def _value_at(second: float, seconds: Floats, core: Floats) -> float:
    """The core at a moment."""
    known = ~np.isnan(core)
    return float(np.interp(second, seconds[known], core[known]))
