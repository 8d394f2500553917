"""What an entry of the record is told together with, and what it says there."""

from datetime import datetime

from board.ledger.state import Entry
from board.views import names
from board.views.facts import Facts
from board.views.subjects import subject_name


def fold_of(entry: Entry) -> str:
    """What an entry is told with: its item's sales at its service, or what its person read that minute."""
    if entry.undone:
        return ""
    data = entry.data
    if entry.kind == "sale":
        return f"sale|{data['day']}|{data['service']}|{data['item']}"
    if entry.kind == "reading":
        return f"reading|{entry.who}|{_minute(entry.at)}|{_minute(entry.noted_at)}"
    return ""


def _minute(moment: datetime) -> str:
    return moment.isoformat(timespec="minutes")


def part_of(facts: Facts, entry: Entry) -> tuple[str, int]:
    """What an entry says within its fold: a reading's place and degrees, or an item and its portions."""
    if entry.kind == "sale":
        return names.item_name(facts.house, str(entry.data["item"])), int(entry.data["portions"])
    if entry.kind == "reading":
        degrees = names.degrees(facts.house, float(entry.data["temperature_c"]))
        return f"{subject_name(facts, entry)} {degrees}", 0
    return "", 0
