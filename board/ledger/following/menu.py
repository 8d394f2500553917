"""A promise and what is sold of it, one entry further."""

from dataclasses import replace
from datetime import date

from board.ledger.facts import OccasionFacts, PromiseFacts, SaleFacts
from board.ledger.state import Entry
from board.ledger.times import moment


def promise(_: PromiseFacts | None, entry: Entry) -> PromiseFacts:
    """The portions last promised."""
    data = entry.data
    return PromiseFacts(date.fromisoformat(data["day"]), data["service"], data["item"], data["portions"])


def occasion(facts: OccasionFacts | None, entry: Entry) -> OccasionFacts:
    """An order taken, a serving time put at another time of the day, or an order struck."""
    data = entry.data
    so_far = facts or OccasionFacts(date.fromisoformat(data["day"]), entry.subject)
    if entry.kind == "strike":
        return replace(so_far, struck=True)
    due = replace(so_far, at=moment(data["at"]))
    return due if entry.kind == "due" else replace(due, name=data["name"], struck=False)


def sale(facts: SaleFacts | None, entry: Entry) -> SaleFacts:
    """What was sold so far, and when it ran out."""
    data = entry.data
    so_far = facts or SaleFacts(date.fromisoformat(data["day"]), data["service"], data["item"])
    if entry.kind == "sold out":
        return replace(so_far, sold_out_at=entry.at)
    return replace(so_far, sold=so_far.sold + data["portions"])
