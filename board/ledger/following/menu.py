"""A promise and what is sold of it, one entry further."""

from dataclasses import replace
from datetime import date

from board.ledger.facts import PromiseFacts, SaleFacts
from board.ledger.state import Entry


def promise(_: PromiseFacts | None, entry: Entry) -> PromiseFacts:
    """The portions last promised."""
    data = entry.data
    return PromiseFacts(date.fromisoformat(data["day"]), data["service"], data["item"], data["portions"])


def sale(facts: SaleFacts | None, entry: Entry) -> SaleFacts:
    """What was sold so far, and when it ran out."""
    data = entry.data
    so_far = facts or SaleFacts(date.fromisoformat(data["day"]), data["service"], data["item"])
    if entry.kind == "sold out":
        return replace(so_far, sold_out_at=entry.at)
    return replace(so_far, sold=so_far.sold + data["portions"])
