"""When food passed a temperature on its way down: a moment where readings are near, a window where not."""

from collections.abc import Sequence
from math import inf
from typing import NamedTuple

from board.safety.log import Stretch, slack_k


class Window(NamedTuple):
    """The earliest and the latest minute at which something can have happened."""

    earliest: float
    latest: float


def left_above(stretches: Sequence[Stretch], c: float, unread_from: float | None = None) -> Window | None:
    """When it first fell below `c`; None where it never did, or was never as hot.

    A stretch without trusted readings before it may hide an earlier fall, and so opens the window; so does
    a lost beginning, `unread_from` its first minute.
    """
    floor = c - slack_k()
    hidden = unread_from
    for stretch in stretches:
        if stretch.from_c >= floor > stretch.to_c:
            passed = _passed(stretch, floor)
            return passed if hidden is None else Window(hidden, passed.latest)
        if not stretch.trusted and hidden is None:
            hidden = stretch.from_minute
    return None


def came_down_to(stretches: Sequence[Stretch], c: float, after: Window) -> Window | None:
    """When it was first at or below `c` after a fall that began in a window; None where no reading is.

    That it was so in a stretch nobody read, warmer at both ends, helps nobody: it is warm again.
    """
    roof = c + slack_k()
    for stretch in stretches:
        if stretch.to_minute < after.latest:
            continue
        if stretch.from_c <= roof and stretch.from_minute >= after.latest:
            return Window(stretch.from_minute, stretch.from_minute)
        if stretch.to_c <= roof:
            return _passed(stretch, roof)
    return None


def down_for_good(
    stretches: Sequence[Stretch], c: float, there: Window, before: float = inf
) -> Window | None:
    """When it was at or below `c` to stay, once `there`, as far as a minute; None where it is not.

    The last reading that shows it warmer again counts, and a stretch nobody read may hide that it was.
    """
    roof = c + slack_k()
    warmer = [s.to_minute for s in stretches if s.to_c > roof and there.latest < s.to_minute < before]
    back = came_down_to(stretches, c, Window(warmer[-1], warmer[-1])) if warmer else there
    if back is None:
        return None
    unread = [s.to_minute for s in stretches if not s.trusted and there.latest <= s.from_minute < before]
    return Window(back.earliest, max([back.latest, *unread[-1:]]))


def _passed(stretch: Stretch, c: float) -> Window:
    if not stretch.trusted:
        return Window(stretch.from_minute, stretch.to_minute)
    if stretch.from_c <= c:
        return Window(stretch.from_minute, stretch.from_minute)
    share = (stretch.from_c - c) / (stretch.from_c - stretch.to_c)
    at = stretch.from_minute + share * (stretch.to_minute - stretch.from_minute)
    return Window(at, at)
