"""Where a probe is, and which of what it fed does not count, one entry further."""

from datetime import date

from board.ledger.facts import PlacingFacts, StruckFacts
from board.ledger.state import Entry
from board.ledger.times import moment


def placing(_: PlacingFacts | None, entry: Entry) -> PlacingFacts:
    """A probe put into a load, or taken out of all."""
    day = entry.data.get("day")
    load_day = date.fromisoformat(day) if day else None
    return PlacingFacts(entry.seq, entry.subject, entry.at, entry.who, entry.data.get("load"), load_day)


def struck(_: StruckFacts | None, entry: Entry) -> StruckFacts:
    """A span of a probe's readings that somebody struck."""
    since, until = moment(entry.data["since"]), moment(entry.data["until"])
    return StruckFacts(entry.seq, entry.subject, since, until, entry.who, entry.data.get("why"))
