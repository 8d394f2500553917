"""Which probe of the house a message is of, in °C and at a moment; and which load a meat probe is in."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from board.house.degrees import to_celsius
from board.house.probes import Probe, ProbeReads
from board.probes.figures import TIMES
from board.probes.limits import bounds
from board.probes.reading import Fed, Sent, Told
from board.probes.refused import BadMessageError, quoted

_DIGITS = 2  # of a degree Celsius: finer than any probe of a kitchen


@dataclass(frozen=True, slots=True)
class OnPit:
    """A load that is, or was, on a pit and in a zone of it from one moment until another, None for still."""

    load: str
    day: date
    pit: str
    zone: str | None
    since: datetime
    until: datetime | None


def sent(told: Told, named: Mapping[str, Probe], zone: ZoneInfo, arrived: datetime) -> Sent:
    """The reading that a message tells of a probe of the house.

    Args:
        told: as the message says.
        named: the probes by each name that messages give them.
        zone: of the clock whose time a message gives without an offset.
        arrived: when the message came, which is its time where it gives none.

    Raises:
        BadMessageError: no probe of that name, no unit, no kitchen temperature, or a time that cannot be.
    """
    probe = named.get(told.probe)
    if probe is None:
        raise BadMessageError(f"found the probe {quoted(told.probe)}, allowed {_those(named)} of probes.toml")
    scale = told.unit or probe.unit
    if scale is None:
        raise BadMessageError(f"found no unit, allowed C or F; or give {probe.id} its unit in probes.toml")
    celsius = to_celsius(told.degrees) if scale == "F" else told.degrees
    known = bounds()
    if not known.coldest_c <= celsius <= known.hottest_c:
        raise BadMessageError(
            f"found {told.degrees:g} {scale}, allowed {known.coldest_c:g} to {known.hottest_c:g} C"
        )
    return Sent(probe.id, _moment(told.at, zone, arrived), round(celsius, _DIGITS))


def check_time(at: datetime, now: datetime) -> None:
    """Check that a reading is not still to come, nor older than any kitchen keeps.

    Raises BadMessageError, which names both times.
    """
    known = bounds()
    if at > now + known.ahead:
        raise BadMessageError(f"found the time {_shown(at)}, still to come: it is {_shown(now)} now")
    if at < now - known.behind:
        raise BadMessageError(
            f"found the time {_shown(at)}, allowed the last {known.behind.days} days; set the probe's clock"
        )


def measured(one: Sent, probe: Probe, on_pits: Iterable[OnPit]) -> Fed:
    """A reading with what it is of: the air of a place, or the one load that is where a meat probe hangs."""
    if probe.reads is ProbeReads.AIR:
        return Fed(one.probe, one.at, one.temperature_c, place=probe.place)
    there = [load for load in on_pits if _is_there(load, probe, one.at)]
    if len(there) != 1:
        return Fed(one.probe, one.at, one.temperature_c)
    return Fed(one.probe, one.at, one.temperature_c, load=there[0].load, day=there[0].day)


def _is_there(load: OnPit, probe: Probe, at: datetime) -> bool:
    here = load.pit == probe.place and (probe.zone is None or load.zone == probe.zone)
    return here and load.since <= at and (load.until is None or at < load.until)


def _moment(at: datetime | None, zone: ZoneInfo, arrived: datetime) -> datetime:
    """The moment meant: a time that a clock shows twice is the one near which the message came."""
    if at is None:
        return arrived
    if at.tzinfo is not None:
        return at
    try:
        both = {at.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1)}
        shown = [one for one in both if one.astimezone(zone).replace(tzinfo=None) == at.replace(fold=0)]
    except OverflowError:
        shown = []
    near = shown if len(shown) == 1 else [one for one in shown if abs(one - arrived) <= bounds().twice]
    if len(near) != 1:
        often = "twice" if shown else "never"
        raise BadMessageError(
            f"found the time {at:%Y-%m-%d %H:%M}, which a clock in {zone} showed {often}; allowed {TIMES}"
        )
    return near[0]


def _those(named: Mapping[str, Probe], most: int = 4) -> str:
    names = [*list(named)[:most], *(["…"] if len(named) > most else [])]
    return ", ".join(names) or "none, there are no probes"


def _shown(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="seconds")
