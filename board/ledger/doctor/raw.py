"""A ledger's file read without writing a byte to it, also where text in it is text no more."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from board.ledger.links import Stored
from board.ledger.replay import Piece
from board.ledger.uptime import UNKNOWN, Uptime

PIECES = """SELECT e.seq, e.at, e.noted_at, e.who, e.kind, e.subject, e.data, e.undoes,
    l.sha256, l.boot, l.up_ms, p.document
    FROM entries e LEFT JOIN links l ON l.seq = e.seq LEFT JOIN plans p ON p.seq = e.seq"""


@contextmanager
def looking(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection for reading one moment of a file; broken text comes as escapes that keep its bytes."""
    connection = sqlite3.connect(path.absolute().as_uri() + "?mode=ro", uri=True, isolation_level=None)
    with closing(connection):
        connection.text_factory = _text
        connection.execute("BEGIN")
        yield connection


def pieces(connection: sqlite3.Connection) -> Iterator[Piece]:
    """All entries with their links and documents, by number."""
    for row in connection.execute(f"{PIECES} ORDER BY e.seq"):
        yield piece(row)


def piece(row: tuple[object, ...]) -> Piece:
    """The piece that a row of `PIECES` holds."""
    sha256, boot, up_ms, document = row[8:]
    up = UNKNOWN if sha256 is None else Uptime(boot, up_ms)  # type: ignore[arg-type]
    return Piece(Stored(*row[:8]), sha256, up, document)  # type: ignore[arg-type]


def _text(found: bytes) -> str:
    return found.decode("utf-8", "surrogateescape")
