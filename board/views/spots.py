"""Where a load is or was, in words: its pit, and the zone of it where the pit has zones."""

from datetime import date, datetime

from board.planning.plan import PlannedLoad
from board.views import names
from board.views.facts import Facts, pit_at, zone_at


def spot(facts: Facts, load: PlannedLoad, day: date, moment: datetime | None = None) -> str:
    """Where a load was at a moment, or is or is planned for now: `South, upper shelves`."""
    zone = zone_at(facts, load, day, moment)
    return names.spot_name(facts.house, pit_at(facts, load, day, moment), zone)
