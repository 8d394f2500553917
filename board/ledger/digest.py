"""Which entries a span of the record covers, and one number that tells them from any others.

The digest is SHA-256 (FIPS 180-4) over a line of canonical JSON for each entry covered, by number. So a
page printed from an altered record, or with an entry left out, shows another digest.
"""

import hashlib
from collections.abc import Iterable, Mapping
from datetime import datetime

from board.ledger import record
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.times import stamp


def covered(ledger: Ledger, since: datetime, until: datetime) -> list[Entry]:
    """What happened in a span, and whatever was later said of that: taken back, corrected, acted on.

    Signatures are about the record, not part of what they sign.
    """
    rows = ledger.rows(
        f"""{record.SELECT} WHERE e.kind <> 'signature' AND e.at >= ? AND e.at < ? ORDER BY e.seq""",
        (stamp(since), stamp(until)),
    )
    found = {row["seq"]: record.as_entry(row) for row in rows}
    later = ledger.rows(f"{record.SELECT} WHERE e.kind IN ('undo', 'correction', 'action') ORDER BY e.seq")
    for entry in map(record.as_entry, later):
        if entry.seq not in found and _concerns(entry, found):
            found[entry.seq] = entry
    signed = {entry.seq for entry in found.values() if entry.data.get("kind") == "signature"}
    return [found[seq] for seq in sorted(found) if seq not in signed]


def _concerns(later: Entry, found: Mapping[int, Entry]) -> bool:
    """Whether a later entry is about one of those found, or about a watch or load that they tell of."""
    if later.kind == "undo":
        return later.undoes in found
    if "entry" in later.data:
        return later.data["entry"] in found
    own = [entry for entry in found.values() if entry.subject == later.subject]
    if "watch" in later.data:
        return any(entry.kind == "watch" for entry in own)
    return any(entry.kind == "load" and entry.data["day"] == later.data["day"] for entry in own)


def digest(entries: Iterable[Entry]) -> str:
    """The digest of some entries, as 64 hexadecimal digits."""
    total = hashlib.sha256()
    for entry in entries:
        line = {
            "seq": entry.seq,
            "at": stamp(entry.at),
            "noted_at": stamp(entry.noted_at),
            "who": entry.who,
            "kind": entry.kind,
            "subject": entry.subject,
            "data": entry.data,
            "undoes": entry.undoes,
        }
        total.update(record.canonical(line).encode() + b"\n")
    return total.hexdigest()
