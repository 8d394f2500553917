"""Alarms about backups: none could be made, or what was recorded lately is on this machine alone."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from board.house.spans import minutes_between
from board.house.wording import duration
from board.ledger.backups.daily import Stands
from board.views.alarm import Alarm, AlarmKind, spell
from board.views.days import when
from board.views.facts import Facts
from board.views.text import Tone, inert

# A day's copy may wait for the next morning's stick, and a week's may not; common practice, no source.
ALONE_FOR, FAR_TOO_LONG = timedelta(hours=36), timedelta(days=7)


def backup_alarms(facts: Facts, stands: Stands, failing_since: datetime | None) -> Iterator[Alarm]:
    """What is wrong with the backups of a ledger, by how they stand and since when none could be made."""
    if failing_since is not None:
        yield Alarm(
            key=f"backup/none/{spell(failing_since)}",
            level=1,
            kind=AlarmKind.BACKUP,
            says=inert(stands.problem),
            todo="",
            tone=Tone.CARE,
            since=failing_since,
        )
    lacking = stands.lacking_since
    if lacking is None or facts.now - lacking < ALONE_FOR:
        return
    alone = duration(minutes_between(lacking, facts.now))
    last = f"the last copy is of {when(facts, stands.copied.at)}" if stands.copied else "no copy was made yet"
    yield Alarm(
        key=f"backup/copy/{spell(lacking)}",
        level=2 if facts.now - lacking >= FAR_TOO_LONG else 1,
        kind=AlarmKind.BACKUP,
        says=f"what was recorded in the last {alone} is on this machine alone, {last}",
        todo=inert(stands.copy_problem),
        tone=Tone.CARE,
        since=lacking + ALONE_FOR,
    )
