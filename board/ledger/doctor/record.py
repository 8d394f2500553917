"""The record: every entry there, each as it was written, none between that was not."""

import sqlite3
from hashlib import sha256

from board.house.wording import count
from board.ledger import links
from board.ledger.doctor.finding import RECORD, Look, numbers, some
from board.ledger.doctor.naming import Naming
from board.ledger.pieces import Piece, pieces
from board.ledger.replay import entry_of
from board.ledger.told import Told


def look_at_record(connection: sqlite3.Connection, told: Told, house: Naming) -> Look:
    """Numbers without a gap from 1 to the last ever given, each link right, all data readable."""
    faults: list[str] = []
    last, previous = 0, links.START
    for piece in pieces(connection):
        seq = piece.entry.seq
        gone = set(range(last + 1, seq)) - told.lost
        if gone:
            faults.append(f"missing: entry {numbers(gone)}")
        if not (told.stands(piece) or (not gone and piece.follows(previous))):
            faults.append(f"{house.entry(piece)} is not as it was written")
        elif why := unreadable(piece):
            faults.append(f"{house.entry(piece)} cannot be read: {why}")
        last, previous = seq, piece.sha256 or ""
    ever = last_given(connection)
    if set(range(last + 1, ever + 1)) - told.lost:
        faults.append(f"missing at the end: entry {numbers(range(last + 1, ever + 1))}")
    return Look(RECORD, f"{count(last, 'entry')}, each linked to the one before", some(faults), _notes(told))


def look_at_plans(connection: sqlite3.Connection, told: Told, house: Naming) -> Look:
    """Each committed plan's document is the one that its entry has the digest of."""
    faults, committed = [], 0
    for piece in pieces(connection):
        if piece.entry.kind == "plan" and piece.entry.seq not in told.plans:
            committed += 1
            if not has_its_document(piece):
                faults.append(f"{house.entry(piece)}: its document is missing or was changed")
    return Look("plans", f"{count(committed, 'committed plan')}, each with its document", some(faults))


def unreadable(piece: Piece) -> str:
    """Why an entry's columns hold no entry; empty where they do."""
    try:
        entry_of(piece.entry)
    except (ValueError, TypeError, RecursionError) as error:
        return " ".join(str(error).split())
    return ""


def has_its_document(piece: Piece) -> bool:
    """Whether a plan's entry has the document whose digest it holds."""
    if piece.document is None:
        return False
    found = sha256(piece.document.encode("utf-8", "surrogateescape")).hexdigest()
    try:
        return bool(entry_of(piece.entry).data.get("sha256") == found)
    except (ValueError, TypeError):
        return False


def last_given(connection: sqlite3.Connection) -> int:
    """The highest number that an entry ever had here, as SQLite keeps it (sqlite_sequence)."""
    row = connection.execute("SELECT max(seq) FROM sqlite_sequence WHERE name = 'entries'").fetchone()
    return row[0] if isinstance(row[0], int) else 0


def _notes(told: Told) -> tuple[str, ...]:
    notes = []
    if told.lost:
        notes.append(f"lost, and told by a mending: entry {numbers(told.lost)}")
    if told.taken:
        notes.append(f"kept as found, with nothing to prove it, and told: entry {numbers(told.taken)}")
    if told.plans:
        notes.append(f"plans whose document is lost, and told: entry {numbers(told.plans)}")
    return tuple(notes)
