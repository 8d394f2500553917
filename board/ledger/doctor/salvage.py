"""What can still be read of a ledger's file, entry by entry where it must be."""

import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from board.ledger import links
from board.ledger.doctor.raw import BROKEN, looking
from board.ledger.pieces import Piece, as_piece, pieces


@dataclass(frozen=True, slots=True)
class Source:
    """The entries and links that could be read from a file, by number, and the last number it knows of."""

    pieces: Mapping[int, Piece]
    links: Mapping[int, str]
    last: int


def source_of(path: Path) -> Source:
    """All that can be read of a file; nothing of one that is beyond reading."""
    try:
        with looking(path) as connection:
            return _read(connection)
    except BROKEN:
        return Source({}, {}, 0)


def _read(connection: sqlite3.Connection) -> Source:
    try:
        found = {piece.entry.seq: piece for piece in pieces(connection)}
        sha256s = {seq: piece.sha256 for seq, piece in found.items() if piece.sha256 is not None}
        return Source(found, sha256s, max(_last(connection), *found, 0))
    except BROKEN:
        return _read_one_by_one(connection, _last(connection))


def _read_one_by_one(connection: sqlite3.Connection, last: int) -> Source:
    """Each entry, link and document that lies on a page which can be read."""
    found: dict[int, Piece] = {}
    sha256s: dict[int, str] = {}
    for seq in range(1, last + 1):
        link = _row(connection, "SELECT sha256, boot, up_ms FROM links WHERE seq = ?", seq)
        entry = _row(connection, f"SELECT * FROM ({links.ENTRIES}) WHERE seq = ?", seq)
        document = _row(connection, "SELECT document FROM plans WHERE seq = ?", seq)
        if link is not None:
            sha256s[seq] = str(link[0])
        if entry is not None:
            found[seq] = as_piece((*entry, *(link or (None, None, None)), document[0] if document else None))
    return Source(found, sha256s, last)


def _row(connection: sqlite3.Connection, sql: str, seq: int) -> tuple[object, ...] | None:
    with suppress(*BROKEN):
        row: tuple[object, ...] | None = connection.execute(sql, (seq,)).fetchone()
        return row
    return None


def _last(connection: sqlite3.Connection) -> int:
    """The highest number that anything readable knows of."""
    last = 0
    for sql in (
        "SELECT max(seq) FROM sqlite_sequence WHERE name = 'entries'",
        "SELECT max(seq) FROM entries",
        "SELECT max(seq) FROM links",
    ):
        with suppress(*BROKEN):
            number = connection.execute(sql).fetchone()[0]
            last = max(last, number if isinstance(number, int) else 0)
    return last
