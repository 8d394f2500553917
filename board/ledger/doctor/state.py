"""The state: each row of it what following the record gives, and no row besides."""

import sqlite3
from collections.abc import Iterator
from typing import Any

from board.house.wording import count
from board.ledger.doctor.finding import Look, some
from board.ledger.doctor.naming import Naming
from board.ledger.doctor.shape import fresh
from board.ledger.open import Ledger
from board.ledger.pieces import Piece, pieces
from board.ledger.replay import replay

# What is the record itself, or is kept beside it and does not follow from it.
BESIDE = frozenset({"entries", "links", "plans", "house", "signers", "feeds", "aside"})


def look_at_state(connection: sqlite3.Connection, again: Ledger, house: Naming) -> Look:
    """All tables of state beside those of the same record followed again from its first entry.

    Args:
        connection: the ledger looked at.
        again: an empty ledger, that holds the whole record afterwards.
        house: how it tells times and people.
    """
    seen: dict[int, Piece] = {}
    unfit = replay(pieces(connection), again)
    if unfit:
        seen = {piece.entry.seq: piece for piece in pieces(connection) if piece.entry.seq in unfit}
    faults = [f"nothing follows from {house.entry(seen[seq])}: {why}" for seq, why in unfit.items()]
    tables = state_tables(connection)
    for table in tables:
        faults += differences(table, connection, again.db.conn)
    return Look("the state", f"{count(len(tables), 'table')} beside what the record gives", some(faults))


def state_tables(connection: sqlite3.Connection) -> list[str]:
    """The tables of state that are there."""
    rows = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    there = {name for (name,) in rows}
    known = (thing.name for thing in fresh().values() if thing.type == "table")
    return [name for name in known if name in there and name not in BESIDE]


def differences(table: str, found: sqlite3.Connection, right: sqlite3.Connection) -> Iterator[str]:
    """Each row of a table that is not as it should be, in words."""
    columns, key = _columns(right, table)
    if set(_columns(found, table)[0]) != set(columns):
        return
    there, wanted = _rows(found, table, columns, key), _rows(right, table, columns, key)
    have, want = next(there, None), next(wanted, None)
    while have or want:
        if want is None or (have is not None and _order(have[0]) < _order(want[0])):
            assert have is not None
            yield f"{table} has {_told(have[0])}, which follows from no entry"
            have = next(there, None)
        elif have is None or _order(want[0]) < _order(have[0]):
            yield f"{table} lacks {_told(want[0])}"
            want = next(wanted, None)
        else:
            if have[1] != want[1]:
                yield f"{table}: {_told(have[0])} is not what the record gives"
            have, want = next(there, None), next(wanted, None)


def _rows(
    connection: sqlite3.Connection, table: str, columns: list[str], key: list[str]
) -> Iterator[tuple[tuple[Any, ...], tuple[Any, ...]]]:
    """The rows of a table with their keys, in order of the key."""
    sql = f"SELECT {', '.join((*key, *columns))} FROM {table} ORDER BY {', '.join(key)}"
    for row in connection.execute(sql):
        yield row[: len(key)], row[len(key) :]


def _columns(connection: sqlite3.Connection, table: str) -> tuple[list[str], list[str]]:
    """The columns of a table, and those of its primary key in their order."""
    rows = connection.execute(f"PRAGMA table_info({table})").fetchall()
    key = [row[1] for row in sorted(rows, key=lambda row: row[5]) if row[5]]
    return [row[1] for row in rows], key


def _order(key: tuple[Any, ...]) -> tuple[Any, ...]:
    """Keys in SQLite's order: nothing, numbers, text."""
    return tuple(
        (0, 0) if part is None else (2, part) if isinstance(part, str) else (1, part) for part in key
    )


def _told(key: tuple[Any, ...]) -> str:
    return "/".join(str(part) for part in key)
