"""Which entries a span of the record covers, and one number that tells them from any others.

The digest is SHA-256 (FIPS 180-4) over a line of canonical JSON for each entry covered, by number. So a
page printed from an altered record, or with an entry left out, shows another digest.
"""

import hashlib
from collections.abc import Iterable, Mapping
from datetime import datetime

from board.ledger import record
from board.ledger.open import Ledger
from board.ledger.overlay import EACH_PROBE
from board.ledger.state import Entry
from board.ledger.times import stamp

# the entries with a reading of a span
_FED = (
    f"{EACH_PROBE} SELECT f.seq FROM probes JOIN fed f ON f.probe = probes.probe AND f.at >= ? AND f.at < ?"
)


def covered(ledger: Ledger, since: datetime, until: datetime) -> list[Entry]:
    """What happened in a span, and whatever was later said of that: taken back, corrected, struck, acted on.

    Of what probes fed it is each entry with a reading of the span, however late that came. Signatures are
    about the record, not part of what they sign.
    """
    span = (stamp(since), stamp(until))
    happened = "e.kind NOT IN ('signature', 'fed') AND e.at >= ? AND e.at < ?"
    rows = ledger.rows(f"{record.SELECT} WHERE {happened} ORDER BY e.seq", span)
    rows += ledger.rows(f"{record.SELECT} WHERE e.seq IN ({_FED})", span)
    found = {row["seq"]: record.as_entry(row) for row in rows}
    later = "e.kind IN ('undo', 'correction', 'action', 'struck')"
    for entry in map(record.as_entry, ledger.rows(f"{record.SELECT} WHERE {later} ORDER BY e.seq")):
        concerns = _strikes(entry, *span) if entry.kind == "struck" else _concerns(entry, found)
        if entry.seq not in found and concerns:
            found[entry.seq] = entry
    signed = {entry.seq for entry in found.values() if entry.data.get("kind") == "signature"}
    return [found[seq] for seq in sorted(found) if seq not in signed]


def _strikes(later: Entry, since: str, until: str) -> bool:
    """Whether a strike takes out of a span what a probe fed in it."""
    return bool(later.data["since"] < until and later.data["until"] >= since)


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
