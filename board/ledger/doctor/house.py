"""Whose ledger it is: one house, in a zone there is, and the one that the backups are of."""

import sqlite3
from contextlib import suppress
from pathlib import Path
from zoneinfo import available_timezones

from board.ledger.backups.catalogue import backups_in, folder_of
from board.ledger.doctor.finding import Look, some
from board.ledger.doctor.raw import BROKEN, looking

House = tuple[object, ...]  # a row: id, name, zone, folder


def look_at_house(path: Path, connection: sqlite3.Connection) -> Look:
    """The row that no link vouches for, beside itself and the latest backup that can be read."""
    rows = houses(connection)
    faults = [] if are_houses(rows) else ["the ledger does not say of which house, or in which zone, it is"]
    for backup in backups_in(folder_of(path)):
        with suppress(*BROKEN), looking(backup.path) as kept:
            theirs = houses(kept)
            if [row[:3] for row in rows] != [row[:3] for row in theirs]:
                faults.append(f"the ledger is of another house or zone than its backup {backup.path.name}")
            break
    return Look("the house", "whose ledger it is", some(faults))


def houses(connection: sqlite3.Connection) -> list[House]:
    """All that a ledger says of its house; nothing where it was started without one."""
    return connection.execute("SELECT id, name, zone, folder FROM house").fetchall()


def are_houses(rows: list[House]) -> bool:
    """Whether these can be a ledger's: none, or one of a name and a known zone."""
    return not rows or (len(rows) == 1 and bool(rows[0][1]) and rows[0][2] in available_timezones())
