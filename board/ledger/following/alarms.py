"""What was last said to an alarm, one entry further."""

from board.ledger.facts import AlarmFacts
from board.ledger.state import Entry
from board.ledger.times import moment


def alarm(_: AlarmFacts | None, entry: Entry) -> AlarmFacts:
    """The last answer stands in place of what was said before."""
    data = entry.data
    until = moment(data["until"]) if "until" in data else None
    return AlarmFacts(entry.subject, data["level"], entry.who, entry.at, entry.seq, until, data.get("why"))
