"""A reading, and food that is watched, one entry further."""

from dataclasses import replace
from datetime import date

from board.ledger.facts import ReadingFacts, WatchFacts
from board.ledger.state import Entry, WatchEnd, WatchKind
from board.ledger.times import moment


def reading(facts: ReadingFacts | None, entry: Entry) -> ReadingFacts | None:
    """A reading as taken, or as put right since."""
    if entry.kind == "correction":
        return facts and _corrected(facts, entry)
    day = entry.data.get("day")
    return ReadingFacts(
        seq=entry.seq,
        at=entry.at,
        who=entry.who,
        place=entry.subject,
        load=entry.subject if day else None,
        load_day=date.fromisoformat(day) if day else None,
        temperature_c=entry.data["temperature_c"],
    )


def _corrected(facts: ReadingFacts, entry: Entry) -> ReadingFacts:
    """A reading as it is right; what was first written stays beside it."""
    first = facts.as_read_c
    if first is None and "temperature_c" in entry.data:
        first = facts.temperature_c
    right = float(entry.data.get("temperature_c", facts.temperature_c))
    at = moment(entry.data["at"]) if "at" in entry.data else facts.at
    return replace(facts, at=at, temperature_c=right, as_read_c=first, corrected_by=entry.seq)


def watch(facts: WatchFacts | None, entry: Entry) -> WatchFacts | None:
    """Food from when it came under a rule until it left it."""
    data = entry.data
    if entry.kind == "watch":
        day, made_on = data.get("day"), data.get("made_on")
        return WatchFacts(
            id=entry.subject,
            kind=WatchKind(data["watch"]),
            what=data["what"],
            seq=entry.seq,
            started_at=entry.at,
            started_by=entry.who,
            amount=data.get("amount"),
            load=data.get("load"),
            load_day=date.fromisoformat(day) if day else None,
            place=data.get("place"),
            way=data.get("way"),
            from_watch=data.get("from_watch"),
            made_on=date.fromisoformat(made_on) if made_on else None,
        )
    if facts is None:
        return None
    if entry.kind == "frozen":
        return replace(facts, frozen=f"{facts.frozen} {data['on']}/".strip())
    if entry.kind == "thawed":
        return replace(facts, frozen=facts.frozen + data["on"])
    return replace(facts, ended_at=entry.at, ended_by=entry.who, how=WatchEnd(data["how"]))
