"""The chain's arithmetic: each link is SHA-256 (FIPS 180-4) over the one before and its entry's line.

So a changed, inserted, missing or reordered entry breaks every link from there on. A tail that was cut
off leaves a whole, shorter chain: that is told by a head kept elsewhere, on a printed page or in a backup.
"""

import json
from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import NamedTuple

from board.ledger.uptime import UNKNOWN, Uptime

START = "0" * 64  # what stands before the first entry
ENTRIES = "SELECT seq, at, noted_at, who, kind, subject, data, undoes FROM entries ORDER BY seq"


class Stored(NamedTuple):
    """An entry as its columns hold it, `data` as the text that lies there."""

    seq: int
    at: str
    noted_at: str
    who: str
    kind: str
    subject: str
    data: str
    undoes: int | None


def line(entry: Stored, up: Uptime) -> str:
    """All that a link vouches for, as one line of JSON with sorted keys."""
    told = entry._asdict() | up._asdict()
    return json.dumps(told, sort_keys=True, separators=(",", ":"), ensure_ascii=False, default=repr)


def link(previous: str, line: str) -> str:
    """The link of an entry's line after the link before it, as 64 hexadecimal digits."""
    return sha256(f"{previous}\n{line}".encode("utf-8", "surrogateescape")).hexdigest()


def linked(entries: Iterable[Stored]) -> Iterator[tuple[int, str, str, int | None]]:
    """The links of entries from the first on, with no count of the machine's, as rows of their table."""
    previous = START
    for entry in entries:
        previous = link(previous, line(entry, UNKNOWN))
        yield entry.seq, previous, *UNKNOWN
