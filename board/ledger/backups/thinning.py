"""Which backups may go: all of the last day stay, then one a day, a week, a month.

Pure. A backup made before something was changed for good, or dated in the future by a wrong clock, stays.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta, tzinfo

from board.ledger.backups.named import Backup, Kind

# Of each age the newest of a day, a week or a month stays; the figures are common practice, no source.
ALL_FOR = timedelta(days=1)
DAILY_FOR = timedelta(days=14)
WEEKLY_FOR = timedelta(days=60)
STAYING = (Kind.MIGRATION, Kind.RESTORE)
AT_ONCE = 3  # no more go at a time, so that one day with a wrong clock does not cost them all


def needless(backups: Sequence[Backup], now: datetime, zone: tzinfo) -> list[Backup]:
    """The backups that may go now, the oldest first; days are those of the house's zone."""
    seen: set[tuple[object, ...]] = set()
    found: list[Backup] = []
    for backup in sorted(backups, key=lambda one: (one.at, one.seq), reverse=True):
        stretch = _stretch(backup, now, zone)
        if stretch is None:
            continue
        if stretch in seen:
            found.append(backup)
        seen.add(stretch)
    return found[::-1][:AT_ONCE]


def _stretch(backup: Backup, now: datetime, zone: tzinfo) -> tuple[object, ...] | None:
    """The day, week or month of which one backup stays; None for one that stays whatever else there is."""
    age = now - backup.at
    if backup.kind in STAYING or age < ALL_FOR:
        return None
    day = backup.at.astimezone(zone).date()
    if age < DAILY_FOR:
        return ("day", day)
    if age < WEEKLY_FOR:
        return ("week", day.isocalendar()[:2])
    return ("month", day.year, day.month)
