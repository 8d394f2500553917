"""Which pits a cut may cook on, and at which setpoints."""

from collections.abc import Iterable

from board.house.model import Cut, Pit

# More setpoints a cut and pit than this buy nothing: the nearest to the cut's usual ones are kept.
_SETTINGS_MOST = 3


def takes(pit: Pit, cut: Cut) -> bool:
    """Whether the house cooks this cut on this pit at all, and one piece fits."""
    return (not pit.takes or cut.id in pit.takes) and cut.area_m2 <= pit.area_m2


def palette(pit: Pit, cuts: Iterable[Cut]) -> tuple[float, ...]:
    """The setpoints worth asking of a pit on a day with these cuts: each cut's usual, within its reach."""
    low, high = pit.setpoint_c
    wanted = {round(min(max(cut.pit_c.usual, low), high), 1) for cut in cuts if takes(pit, cut)}
    return tuple(sorted(wanted))


def settings(cut: Cut, pit: Pit, offered: Iterable[float]) -> tuple[float, ...]:
    """The offered setpoints this cut may cook at on this pit, nearest to its usual first."""
    if not takes(pit, cut):
        return ()
    fit = [s for s in offered if cut.pit_c.low - 0.05 <= s <= cut.pit_c.high + 0.05]
    return tuple(sorted(fit, key=lambda s: (abs(s - cut.pit_c.usual), s))[:_SETTINGS_MOST])
