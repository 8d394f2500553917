"""The chain over a ledger's entries: a link added with each, its head, and where it is broken."""

from typing import NamedTuple

from board.ledger.links import START, Stored, line, link
from board.ledger.open import Ledger


class Head(NamedTuple):
    """The last entry's number and link: together they stand for the whole record up to there."""

    seq: int
    sha256: str


def head(ledger: Ledger) -> Head:
    """The head of the chain; the start of it where there is no entry."""
    row = ledger.row("SELECT seq, sha256 FROM links WHERE seq = (SELECT max(seq) FROM links)")
    return Head(row["seq"], row["sha256"]) if row else Head(0, START)


def link_at(ledger: Ledger, seq: int) -> str:
    """The link of an entry, which stands for the record up to there; "" where there is no such entry."""
    row = ledger.row("SELECT sha256 FROM links WHERE seq = ?", (seq,))
    return str(row["sha256"]) if row else ""


def add(ledger: Ledger, entry: Stored) -> None:
    """Link a new entry to the one before it, inside the caller's transaction."""
    up = ledger.uptime()
    found = link(head(ledger).sha256, line(entry, up))
    ledger.db.execute("INSERT INTO links VALUES (?, ?, ?, ?)", (entry.seq, found, *up))
