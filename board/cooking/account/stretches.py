"""A path cut into the stretches a pitmaster speaks of."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from board.cooking.account.books import Path
from board.cooking.account.figures import Part, Stretch
from board.cooking.stall import stall_in

COLD_C = 20.0
SHORTEST_MINUTES = 1.0


def stretches(path: Path, hot_c: float | None) -> tuple[Stretch, ...]:
    """Cold to 20 °C, to the stall, in it, after it, and wrapped, in the order they came.

    Of a cook that waits for tenderness, what follows once the core is at `hot_c` is a stretch of its own.
    """
    cuts = _cuts(path, hot_c)
    found = []
    for (start, part), (end, _) in pairwise([*cuts, (path.pulled, Part.LAST)]):
        if end - start < SHORTEST_MINUTES:
            continue
        ends = [(path.at(values, start), path.at(values, end)) for values in (path.heat, path.steam)]
        heat, steam = (after - before for before, after in ends)
        found.append(
            Stretch(part, end - start, path.at(path.core_c, start), path.at(path.core_c, end), heat, steam)
        )
    return tuple(found)


def _cuts(path: Path, hot_c: float | None) -> list[tuple[float, Part]]:
    """The minute each stretch begins, and what it is."""
    grid = np.linspace(0.0, path.pulled, 400)
    core = np.interp(grid, path.minutes, path.core_c)
    stall = stall_in(grid, core)
    cuts = [(0.0, Part.COLD), (_first_at(path, COLD_C), Part.WARMING)]
    if stall:
        cuts += [(stall.from_minute, Part.STALL), (stall.to_minute, Part.LAST)]
    if path.wrapped is not None:
        cuts = [cut for cut in cuts if cut[0] < path.wrapped] + [(path.wrapped, Part.WRAPPED)]
    hot = path.pulled if hot_c is None else _first_at(path, hot_c)
    if hot < path.pulled - SHORTEST_MINUTES:
        cuts = [cut for cut in cuts if cut[0] < hot] + [(hot, Part.SOFTENING)]
    return sorted(cuts, key=lambda cut: cut[0])


def _first_at(path: Path, core_c: float) -> float:
    """The minute the core first reads so much; 0 where it starts there."""
    there: NDArray[np.bool_] = path.core_c >= core_c
    if not there.any():
        return path.pulled
    k = int(there.argmax())
    if k == 0:
        return 0.0
    cores, minutes = path.core_c[k - 1 : k + 1], path.minutes[k - 1 : k + 1]
    return float(np.interp(core_c, cores, minutes))
