"""The record followed again from its first entry, into a ledger without any: what every state must be."""

import json
import sqlite3
from collections.abc import Iterable
from typing import Any

from board.ledger import overlay, store
from board.ledger.keys import Key, borne_on, planned_keys
from board.ledger.links import Stored
from board.ledger.open import Ledger
from board.ledger.pieces import Piece
from board.ledger.state import Entry
from board.ledger.times import moment

# What an entry with damaged data can set off in what follows it.
UNFIT = (
    ValueError,
    TypeError,
    LookupError,
    ArithmeticError,
    AttributeError,
    AssertionError,
    RecursionError,
    StopIteration,
    sqlite3.IntegrityError,
    sqlite3.InterfaceError,
    sqlite3.ProgrammingError,
)


def replay(pieces: Iterable[Piece], into: Ledger) -> dict[int, str]:
    """Write the pieces as they are and let the state follow, in one transaction.

    Returns:
        The numbers of the entries that could not be written or followed, with why; nothing follows from them.
    """
    unfit: dict[int, str] = {}
    with into.writing():
        for piece in pieces:
            try:
                with into.db.atomic():
                    _take(into, piece)
            except UNFIT as error:
                unfit[piece.entry.seq] = f"{type(error).__name__} {error}".strip()
    return unfit


def _take(into: Ledger, piece: Piece) -> None:
    stored = piece.entry
    into.db.execute("INSERT INTO entries VALUES (?, ?, ?, ?, ?, ?, ?, ?)", stored)
    if piece.sha256 is not None:
        into.db.execute("INSERT INTO links VALUES (?, ?, ?, ?)", (stored.seq, piece.sha256, *piece.up))
    entry = entry_of(stored)
    keys: Iterable[Key] = borne_on(entry)
    if entry.kind == "plan":
        keys = _planned(into, entry, piece.document)
    store.take_in(into, entry, keys)
    if entry.kind == "fed":
        overlay.take_in(into, entry)
    overlay.follow(into, entry)


def _planned(into: Ledger, entry: Entry, document: str | None) -> list[Key]:
    """Keep a plan's document; it bears on what it names and on what the one before it named."""
    if document is None:
        return []
    row = into.row("SELECT document FROM plans WHERE day = ? ORDER BY version DESC LIMIT 1", (entry.subject,))
    version = entry.data["version"]
    into.db.execute("INSERT INTO plans VALUES (?, ?, ?, ?)", (entry.seq, entry.subject, version, document))
    before = planned_keys(json.loads(row["document"])) if row else frozenset[Key]()
    return sorted(planned_keys(json.loads(document)) | before)


def entry_of(stored: Stored) -> Entry:
    """The entry that columns hold.

    Raises:
        ValueError: its moments or its data are none.
    """
    data: Any = json.loads(stored.data)
    if not isinstance(data, dict):
        raise TypeError("the data are no table")
    at, noted_at = moment(stored.at), moment(stored.noted_at)
    return Entry(stored.seq, at, noted_at, stored.who, stored.kind, stored.subject, data, stored.undoes)
