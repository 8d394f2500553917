"""What keeps a ledger backed up by itself: the day's backup once it is due, and its copy off the machine."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from board.errors import BoardError
from board.ledger.backups.away import Copied, copy_away, last_copied
from board.ledger.backups.catalogue import back_up, backups_in, folder_of, is_due
from board.ledger.backups.named import Backup, Kind
from board.ledger.backups.sound import house_in, opened_to_read
from board.ledger.times import moment, zone_called


@dataclass(frozen=True, slots=True)
class Stands:
    """How the backups of a ledger stand: what could not be done, and since when entries lack a copy away."""

    problem: str = ""
    copy_problem: str = ""
    copied: Copied | None = None
    lacking_since: datetime | None = None


@dataclass(frozen=True, slots=True)
class _Seen:
    """What the ledger says by a look of its own: its last entry's number, and whose it is."""

    seq: int
    name: str
    zone: ZoneInfo


def make_due(ledger: Path, now: datetime) -> Backup | None:
    """Make the day's backup where it is due.

    Raises:
        LedgerError: it could not be made.
    """
    seen, found = _look(ledger), backups_in(folder_of(ledger))
    return back_up(ledger, Kind.DAILY, now, seen.zone) if is_due(found, seen.seq, now, seen.zone) else None


def copy_last(ledger: Path, to: Path, now: datetime) -> Copied | None:
    """Copy the newest backup into a folder off this machine, where it is not there yet; tells the last copy.

    One that a wrong clock dated ahead is not the newest for it, or no later one would ever be copied.

    Raises:
        LedgerError: it could not be copied.
    """
    found, copied = backups_in(folder_of(ledger)), last_copied(ledger)
    newest = next((one for one in found if one.at <= now), None)
    if newest is None or (copied is not None and (copied.to, copied.seq) == (str(to), newest.seq)):
        return copied
    seen = _look(ledger)
    copy_away(newest, ledger, to, seen.name, now=now, zone=seen.zone)
    return last_copied(ledger)


def keep_backed_up(ledger: Path, to: Path | None, now: datetime) -> Stands:
    """Do what is due, over its own connection, and tell how it stands; what can be told is not raised."""
    problem = copy_problem = ""
    try:
        make_due(ledger, now)
    except BoardError as error:
        problem = str(error)
    if to is None:
        return Stands(problem)
    try:
        copy_last(ledger, to, now)
    except BoardError as error:
        copy_problem = str(error)
    copied = last_copied(ledger)
    return Stands(problem, copy_problem, copied, _first_beyond(ledger, copied.seq if copied else 0))


def _look(ledger: Path) -> _Seen:
    with opened_to_read(ledger) as connection:
        seq = connection.execute("SELECT coalesce(max(seq), 0) FROM entries").fetchone()[0]
        name, zone = house_in(connection)
    return _Seen(seq, name, zone_called(zone, ledger))


def _first_beyond(ledger: Path, seq: int) -> datetime | None:
    """When the first entry after this one was written; None where there is none."""
    try:
        with opened_to_read(ledger) as connection:
            sql = "SELECT noted_at FROM entries WHERE seq > ? ORDER BY seq LIMIT 1"
            row = connection.execute(sql, (seq,)).fetchone()
    except BoardError:
        return None
    return moment(row[0]) if row else None
