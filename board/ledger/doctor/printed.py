"""A head of the chain that was printed once, beside the ledger as it is now."""

import re
import sqlite3
from typing import NamedTuple

from board.errors import LedgerError
from board.ledger.doctor.finding import PRINTED, Look

FEWEST = 8  # digits of a link, to tell two records apart
PAGE = re.compile(rf"(\d{{1,18}}):([0-9a-f]{{{FEWEST},64}})…?")


class Printed(NamedTuple):
    """An entry's number and the first digits of its link, as they stand on paper."""

    seq: int
    digits: str


def printed(text: str) -> Printed:
    """What stands on a page, as `258:9f2ce01b77aa03d4`.

    Raises:
        LedgerError: it is none.
    """
    found = PAGE.fullmatch("".join(text.lower().split()))
    if found is None:
        raise LedgerError(
            f"--printed: found '{text}', allowed an entry's number, a colon and {FEWEST} to 64 digits, "
            "as at the foot of a printed record: 258:9f2ce01b77aa03d4"
        )
    return Printed(int(found[1]), found[2])


def look_at_printed(connection: sqlite3.Connection, one: Printed) -> Look:
    """Whether the record up to an entry is the one that a page was printed from."""
    row = connection.execute("SELECT sha256 FROM links WHERE seq = ?", (one.seq,)).fetchone()
    faults: tuple[str, ...] = ()
    if row is None:
        faults = (f"the page was printed from a record with an entry {one.seq}, which is missing here",)
    elif not str(row[0]).startswith(one.digits):
        faults = (f"the page was printed from another record: it parts at entry {one.seq} or before",)
    return Look(PRINTED, f"the record up to entry {one.seq}", faults)
