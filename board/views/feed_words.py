"""What is recorded of probes that feed, in sentences."""

from dataclasses import replace
from datetime import datetime

from board.house.wording import count
from board.ledger.state import Entry
from board.views import names
from board.views.facts import Facts
from board.views.subjects import subject_name
from board.views.text import inert


def say_fed(_: Facts, entry: Entry) -> str:
    """How much a feed brought in one go."""
    readings = entry.data["readings"]
    probes = count(len({one[0] for one in readings}), "probe")
    return f"{count(len(readings), 'reading')} fed by {probes}"


def say_placed(facts: Facts, entry: Entry) -> str:
    """Which load a probe was put into."""
    probe = probe_name(facts, entry.subject)
    if not entry.data.get("load"):
        return f"{probe} taken out"
    load = replace(entry, subject=str(entry.data["load"]))
    return f"{probe} put into {subject_name(facts, load)}"


def say_struck(facts: Facts, entry: Entry) -> str:
    """Which span of what a probe fed does not count, and why."""
    ends = (datetime.fromisoformat(entry.data[end]) for end in ("since", "until"))
    since, until = (names.clock(facts.house, end) for end in ends)
    why = inert(str(entry.data.get("why", "")))
    read = count(int(entry.data["readings"]), "reading")
    says = f"{probe_name(facts, entry.subject)} does not count from {since} to {until}, {read}"
    return f"{says}: “{why}”" if why else says


def probe_name(facts: Facts, id: str) -> str:
    """A probe by the name the house gives it, else as it was written."""
    probe = facts.house.probes.get(id)
    return inert(probe.name if probe else id)
