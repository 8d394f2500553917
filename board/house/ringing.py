"""When the board rings: the usual limits, and what a house says instead."""

from functools import cache

from board.house.model import AlarmLimits, House
from board.house.shipped import shipped
from board.house.tables import Table


@cache
def usual() -> AlarmLimits:
    """The limits of data/alarms.toml."""
    figures = {name: float(row["minutes"]) for name, row in shipped("alarms").items()}
    return AlarmLimits(
        late_minutes=figures["late"],
        very_late_minutes=figures["very_late"],
        spare_minutes=figures["spare"],
        settle_minutes=figures["settle"],
        pit_off_k=None,
        pit_minutes=figures["pit_off"],
        pit_unread_minutes=figures["pit_unread"],
        hold_minutes=figures["hold"],
        batch_minutes=figures["batch"],
        check_minutes=figures["check"],
    )


def limits_of(house: House) -> AlarmLimits:
    """A house's own limits, else the usual ones."""
    return house.alarms or usual()


def read_alarms(given: Table | None) -> AlarmLimits | None:
    """What a house says of when the board rings; None where it says nothing."""
    if given is None:
        return None
    known = usual()
    found = AlarmLimits(
        late_minutes=given.minutes_above_nought("late", known.late_minutes),
        very_late_minutes=given.minutes_above_nought("very_late", known.very_late_minutes),
        spare_minutes=given.minutes("spare", known.spare_minutes),
        settle_minutes=given.minutes("settle", known.settle_minutes),
        pit_off_k=given.difference_k("pit_off") if given.has("pit_off") else None,
        pit_minutes=given.minutes_above_nought("pit", known.pit_minutes),
        pit_unread_minutes=given.minutes_above_nought("pit_unread", known.pit_unread_minutes),
        hold_minutes=given.minutes("hold", known.hold_minutes),
        batch_minutes=given.minutes("batch", known.batch_minutes),
        check_minutes=given.minutes("check", known.check_minutes),
    )
    given.done()
    return found
