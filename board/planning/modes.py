"""Which pits and zones a cut may cook on, and at which setpoints."""

from collections.abc import Iterable

from board.house.model import Cut, House, Pit, Zone

# Usual setpoints closer together than this are asked for as one: hand-fired pits swing wider.
_AS_ONE_K = 4.0
# More setpoints a cut and pit than this buy nothing: the nearest to the cut's usual ones are kept.
_SETTINGS_MOST = 3
# Limits written in other units come back rounded.
_ROUNDING_K = 0.05


def takes(pit: Pit, cut: Cut, zone: Zone | None = None) -> bool:
    """Whether the house cooks this cut on this pit at all, and one piece fits: in the zone, or in any."""
    if pit.takes and cut.id not in pit.takes:
        return False
    zones = (zone,) if zone is not None else pit.zones
    return any(cut.area_m2 <= each.area_m2 for each in zones) if zones else cut.area_m2 <= pit.area_m2


def places(pit: Pit) -> tuple[Zone | None, ...]:
    """The zones of a pit, or none where it is all one."""
    return pit.zones or (None,)


def warmer_k(zone: Zone | None) -> float:
    """How much hotter than the setpoint it is there."""
    return 0.0 if zone is None else zone.warmer_k


def warmer_here_k(house: House, pit: str, zone: str | None) -> float:
    """How much hotter than the pit's own air it is where a load lies; nothing where its zone is not known."""
    zones = house.pits[pit].zones if pit in house.pits else ()
    return warmer_k(next((one for one in zones if one.id == zone), None))


def palette(pit: Pit, cuts: Iterable[Cut]) -> tuple[float, ...]:
    """The setpoints worth asking of a pit on a day with these cuts: each cut's usual, within its reach.

    Usual setpoints that lie close together become their middle one.
    """
    low, high = pit.setpoint_c
    usual = (c.pit_c.usual - warmer_k(z) for c in cuts for z in places(pit) if takes(pit, c, z))
    wanted = sorted(round(min(max(setpoint, low), high), 1) for setpoint in usual)
    groups: list[list[float]] = []
    for setpoint in wanted:
        if groups and setpoint - groups[-1][-1] <= _AS_ONE_K:
            groups[-1].append(setpoint)
        else:
            groups.append([setpoint])
    return tuple(group[len(group) // 2] for group in groups)


def settings(cut: Cut, pit: Pit, offered: Iterable[float], zone: Zone | None = None) -> tuple[float, ...]:
    """The offered setpoints this cut may cook at on this pit, nearest to its usual where it lies first."""
    if not takes(pit, cut, zone):
        return ()
    more = warmer_k(zone)
    fit = [s for s in offered if _suits(cut, s + more)]
    return tuple(sorted(fit, key=lambda s: (abs(s + more - cut.pit_c.usual), s))[:_SETTINGS_MOST])


def turn_to(cut: Cut, pit: Pit, setpoint_c: float, zone: Zone | None = None) -> float | None:
    """The setpoint the pit may be brought to once this cut is wrapped; none where it has no other."""
    then = None if cut.wrap is None else cut.wrap.then_c
    if then is None or abs(then - setpoint_c) < _AS_ONE_K:
        return None
    low, high = pit.setpoint_c
    reached = low - _ROUNDING_K <= then <= high + _ROUNDING_K
    return then if reached and _suits(cut, then + warmer_k(zone)) else None


def _suits(cut: Cut, air_c: float) -> bool:
    return cut.pit_c.low - _ROUNDING_K <= air_c <= cut.pit_c.high + _ROUNDING_K
