"""Mending: the record saved into a new file, and everything else made from it anew."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from board.errors import LedgerError
from board.ledger import read, record
from board.ledger.backups.catalogue import backups_in, folder_of
from board.ledger.backups.copy import connected, told, unfinished
from board.ledger.backups.swap import check_stands, file_at, finish, keep_aside, swap_in
from board.ledger.doctor.choosing import choose
from board.ledger.doctor.examine import examine
from board.ledger.doctor.file import PERMISSIONS, make_private
from board.ledger.doctor.finding import Findings, runs
from board.ledger.doctor.house import House, are_houses, houses
from board.ledger.doctor.printed import Printed
from board.ledger.doctor.raw import BROKEN, looking, quoted
from board.ledger.doctor.salvage import source_of
from board.ledger.doctor.signatures import broken_signatures
from board.ledger.faults import primary_code
from board.ledger.links import START
from board.ledger.open import Ledger, open_ledger
from board.ledger.pieces import pieces
from board.ledger.replay import replay
from board.ledger.told import KIND, Told, told_of
from board.ledger.typed import Said

BESIDE = ("signers", "aside", "feeds")  # what follows from no entry, copied as it is


@dataclass(frozen=True, slots=True)
class Mended:
    """What was wrong, where the file as it was is kept (None: its content was sound), and how it is now."""

    before: Findings
    kept: Path | None
    after: Findings


def mend(path: Path, who: str, now: datetime, pages: Sequence[Printed] = ()) -> Mended:
    """Mend what can be mended, once the file as it is lies in the backups' folder too.

    What is lost for good is told in a `mended` entry at the end of the record.

    Args:
        path: the ledger.
        who: mends it.
        now: when, for the entry.
        pages: heads of its chain that stand on printed pages, to look at afterwards.

    Raises:
        LedgerError: it is no ledger, nothing of it can be saved, it is in use, or there is no room.
    """
    with told(f"the ledger {path} could not be mended"):
        finish(path)
    stood = file_at(path)
    before = examine(path)
    kept = None
    if any(look.faults for look in before.looks if look.what != PERMISSIONS):
        with told(f"the ledger {path} could not be mended"), _held(path, stood):
            kept = _keep(path, now)
            with unfinished(folder_of(path)) as file:
                _save(path, file, before, kept, Said(who, now, now))
                swap_in(file, path, stood)
    make_private(path)
    return Mended(before, kept, examine(path, pages))


@contextmanager
def _held(path: Path, stood: tuple[int, int] | None) -> Iterator[None]:
    """Let nobody write meanwhile, where the file can still be held; it must be the one that was looked at."""
    with connected(path) as holder:
        try:
            holder.execute("BEGIN IMMEDIATE")
        except BROKEN as error:
            if primary_code(error) == sqlite3.SQLITE_BUSY:
                raise LedgerError(f"the ledger {path} is in use; leave the boards on it first") from error
        check_stands(path, stood)
        yield


def _keep(path: Path, now: datetime) -> Path:
    """The file and its log under another name, where no thinning of backups finds them."""
    folder = folder_of(path)
    folder.mkdir(mode=0o700, exist_ok=True)
    return keep_aside(path, folder / f"{now.astimezone(UTC):%Y-%m-%dT%H%M%S.%f}Z-before-mending.db")


def _save(path: Path, file: Path, before: Findings, kept: Path, said: Said) -> None:
    """Make of all that is found a sound ledger, which tells what is missing."""
    backups = [backup.path for backup in backups_in(folder_of(path))]
    own = source_of(path)
    chosen = list(choose(own, [source_of(backup) for backup in backups]))
    if not chosen:
        raise LedgerError(
            f"no entry of {path} can be read, nor of a backup in {folder_of(path)}; nothing was changed"
        )
    file.unlink()
    with open_ledger(file, create=True) as new:
        new.db.execute("PRAGMA foreign_keys = OFF")  # an entry may name one that is lost
        replay(chosen, new)
        last = max(own.last, chosen[-1].entry.seq)
        missing = _missing(new, last)
        _copy("house", [_told_house(path, backups)], new)
        for table in BESIDE if not missing.lost else BESIDE[:-1]:  # feeds are then read again from the start
            _copy(table, [path, *backups], new)
        with new.writing():
            new.db.execute("UPDATE sqlite_sequence SET seq = ? WHERE name = 'entries'", (last,))
            record.write(new, said, KIND, "", _data(before, kept, missing))


def _told_house(path: Path, backups: Sequence[Path]) -> Path:
    """The file to take the house from: no link vouches for it, so the latest backup's name and zone count."""
    here = _houses(path)
    for backup in backups:
        theirs = _houses(backup)
        if theirs is not None:
            same = here is not None and [row[:3] for row in here] == [row[:3] for row in theirs]
            return path if same else backup
    return path


def _houses(path: Path) -> list[House] | None:
    """What a file says of its house; None where that cannot be."""
    with suppress(*BROKEN), looking(path) as source:
        found = houses(source)
        return found if are_houses(found) else None
    return None


def _missing(new: Ledger, last: int) -> Told:
    """What the saved record lacks or cannot prove, beyond what was told before."""
    told, missing = told_of(new.db.conn), Told()
    previous, seqs = START, set()
    for piece in pieces(new.db.conn):
        seqs.add(piece.entry.seq)
        if not piece.follows(previous) and not told.stands(piece):
            missing.taken[piece.entry.seq] = piece.seal
        if piece.entry.kind == "plan" and piece.document is None:
            missing.plans.add(piece.entry.seq)
        previous = piece.sha256 or ""
    missing.lost.update(set(range(1, last + 1)) - seqs - told.lost)
    signed = read.entries(new, since_seq=0, kinds=("signature",))
    missing.signatures.update(one.seq for one in broken_signatures(new, signed))
    missing.plans -= told.plans
    missing.signatures -= told.signatures
    return missing


def _data(before: Findings, kept: Path, missing: Told) -> dict[str, Any]:
    data: dict[str, Any] = {"found": list(before.faults), "kept": kept.name}
    told = {
        "lost": [list(run) for run in runs(missing.lost)],
        "taken": {str(seq): sha256 for seq, sha256 in missing.taken.items()},
        "plans": sorted(missing.plans),
        "signatures": sorted(missing.signatures),
    }
    return data | {name: value for name, value in told.items() if value}


def _copy(table: str, paths: Sequence[Path], new: Ledger) -> None:
    """Take a table over from the first file in which it can be read, with rows such as it may hold."""
    for path in paths:
        try:
            with looking(path) as source:
                cursor = source.execute(f"SELECT * FROM {table}")
                columns = ", ".join(quoted(column[0]) for column in cursor.description)
                marks, rows = ", ".join("?" * len(cursor.description)), cursor.fetchall()
            with new.writing():
                new.db.conn.executemany(f"INSERT OR REPLACE INTO {table} ({columns}) VALUES ({marks})", rows)
        except BROKEN:
            continue
        return
