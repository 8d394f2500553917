"""The clocks that wrote the record: where one was set is a note, since the order of entries holds."""

import sqlite3
from collections.abc import Iterator

from board.house.wording import duration, times_of
from board.ledger.clocks import Noted, clocks_of
from board.ledger.doctor.finding import Look, some
from board.ledger.doubtful import SAID_RIGHT
from board.ledger.pieces import pieces
from board.ledger.times import moment


def look_at_clocks(connection: sqlite3.Connection) -> Look:
    """Each place where a clock was set, and how many entries' times are doubtful for it."""
    found = clocks_of(_noted(connection), _told(connection))
    notes = [
        f"the clock was set {'on' if one.by.total_seconds() > 0 else 'back'} by "
        f"{duration(abs(one.by.total_seconds()) / 60)} between entries {one.after} and {one.before}"
        for one in found.sets
    ]
    doubtful = sum(last - first + 1 for doubt in found.doubts for first, last in doubt.spans)
    are = "is" if doubtful == 1 else "are"
    notes += [f"the {times_of(doubtful)} {are} doubtful for it; see board clock"] if doubtful else []
    return Look("clocks", "the machine's own count beside each entry's time", notes=some(notes))


def _told(connection: sqlite3.Connection) -> frozenset[int]:
    """The entries in which somebody says which clock is right."""
    return frozenset(seq for (seq,) in connection.execute(SAID_RIGHT))


def _noted(connection: sqlite3.Connection) -> Iterator[Noted]:
    for piece in pieces(connection):
        try:
            noted_at = moment(piece.entry.noted_at)
        except ValueError:  # told of by the look at the record
            continue
        yield Noted(piece.entry.seq, noted_at, *piece.up)
