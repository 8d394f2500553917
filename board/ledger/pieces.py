"""Entries as their columns hold them, with their links and documents, however little sense they make."""

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass

from board.ledger.links import ENTRIES, START, Stored, line, link
from board.ledger.uptime import UNKNOWN, Uptime

QUERY = """SELECT e.seq, e.at, e.noted_at, e.who, e.kind, e.subject, e.data, e.undoes,
    l.sha256, l.boot, l.up_ms, p.document
    FROM entries e LEFT JOIN links l ON l.seq = e.seq LEFT JOIN plans p ON p.seq = e.seq"""


@dataclass(frozen=True, slots=True)
class Piece:
    """An entry with its link, and the document of the plan that it commits."""

    entry: Stored
    sha256: str | None
    up: Uptime = UNKNOWN
    document: str | None = None

    def follows(self, previous: str) -> bool:
        """Whether it is the entry that was written after the link before it."""
        return self.sha256 == link(previous, line(self.entry, self.up))

    @property
    def seal(self) -> str:
        """What tells it from any other entry, its own link included, whatever came before."""
        return link(self.sha256 or "", line(self.entry, self.up))


def pieces(connection: sqlite3.Connection) -> Iterator[Piece]:
    """All entries of a ledger, by number; in one from before there were links, with those they will get."""
    if connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'links'").fetchone():
        for row in connection.execute(f"{QUERY} ORDER BY e.seq"):
            yield as_piece(row)
        return
    documents = dict(connection.execute("SELECT seq, document FROM plans"))
    previous = START
    for row in connection.execute(ENTRIES):
        entry = Stored(*row)
        previous = link(previous, line(entry, UNKNOWN))
        yield Piece(entry, previous, UNKNOWN, documents.get(entry.seq))


def as_piece(row: tuple[object, ...]) -> Piece:
    """The piece that a row of `QUERY` holds."""
    sha256, boot, up_ms, document = row[8:]
    up = UNKNOWN if sha256 is None else Uptime(boot, up_ms)  # type: ignore[arg-type]
    return Piece(Stored(*row[:8]), sha256, up, document)  # type: ignore[arg-type]
