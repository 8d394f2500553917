"""A few probes of an invented house, to send messages by."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from board.house.probes import Probe, ProbeReads, named_by

ZONE = ZoneInfo("America/Denver")
NOON = datetime(2026, 12, 9, 19, 0, tzinfo=UTC)
GRATE = Probe("north-grate", "North, grate", ProbeReads.AIR, "north", ("north-grate", "pit 1/air"), unit="F")
BARE = Probe("south-shelf", "South, shelf", ProbeReads.AIR, "south", ("south-shelf",))
MEAT = Probe("meat-1", "meat probe 1", ProbeReads.MEAT, "north", ("meat-1",), unit="C")
NAMED = named_by({one.id: one for one in (GRATE, BARE, MEAT)})


def minutes(count: float) -> timedelta:
    """So many minutes."""
    return timedelta(minutes=count)
