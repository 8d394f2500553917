"""Which pits a cut may cook on, and at which setpoints."""

from collections.abc import Iterable

from board.house.model import Cut, Pit

# Usual setpoints closer together than this are asked for as one: hand-fired pits swing wider.
_AS_ONE_K = 4.0
# More setpoints a cut and pit than this buy nothing: the nearest to the cut's usual ones are kept.
_SETTINGS_MOST = 3


def takes(pit: Pit, cut: Cut) -> bool:
    """Whether the house cooks this cut on this pit at all, and one piece fits."""
    return (not pit.takes or cut.id in pit.takes) and cut.area_m2 <= pit.area_m2


def palette(pit: Pit, cuts: Iterable[Cut]) -> tuple[float, ...]:
    """The setpoints worth asking of a pit on a day with these cuts: each cut's usual, within its reach.

    Usual setpoints that lie close together become their middle one.
    """
    low, high = pit.setpoint_c
    wanted = sorted(round(min(max(cut.pit_c.usual, low), high), 1) for cut in cuts if takes(pit, cut))
    groups: list[list[float]] = []
    for setpoint in wanted:
        if groups and setpoint - groups[-1][-1] <= _AS_ONE_K:
            groups[-1].append(setpoint)
        else:
            groups.append([setpoint])
    return tuple(group[len(group) // 2] for group in groups)


def settings(cut: Cut, pit: Pit, offered: Iterable[float]) -> tuple[float, ...]:
    """The offered setpoints this cut may cook at on this pit, nearest to its usual first."""
    if not takes(pit, cut):
        return ()
    fit = [s for s in offered if cut.pit_c.low - 0.05 <= s <= cut.pit_c.high + 0.05]
    return tuple(sorted(fit, key=lambda s: (abs(s - cut.pit_c.usual), s))[:_SETTINGS_MOST])
