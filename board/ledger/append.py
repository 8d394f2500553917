"""One more entry in the record, and the state that follows, in the caller's transaction."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from board.ledger import overlay, record, store
from board.ledger.fold import righted
from board.ledger.keys import Key, borne_on
from board.ledger.open import Ledger
from board.ledger.state import Entry
from board.ledger.typed import Said


def append(
    ledger: Ledger, said: Said, kind: str, subject: str, data: Mapping[str, Any], *, undoes: int | None = None
) -> Entry:
    """Write the entry and bring the state of all it bears on up to it."""
    entry = record.write(ledger, said, kind, subject, data, undoes=undoes)
    store.take_in(ledger, entry, borne_on(entry))
    overlay.follow(ledger, entry)
    return entry


def already(ledger: Ledger, seq: int) -> Entry:
    """The entry that says already what somebody wants to record."""
    found = record.find(ledger, seq)
    assert found is not None
    return replace(found, already=True)


def last(ledger: Ledger, key: Key, kind: str | None = None, **data: Any) -> Entry:
    """The last entry in force about a thing, of that kind and with these data where they are given."""
    entries = [e for e in righted(record.bearing_on(ledger, key)) if kind in (None, e.kind)]
    return next(entry for entry in reversed(entries) if data.items() <= entry.data.items())
