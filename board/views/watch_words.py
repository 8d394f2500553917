"""Entries of watches, corrections, actions, probe checks and signatures as sentences."""

from collections.abc import Mapping
from datetime import datetime, time, timedelta

from board.house.calendar import local
from board.house.wording import count, short_day
from board.ledger.state import Entry, ProbeWay, WatchEnd, WatchKind
from board.views import names
from board.views.facts import Facts, find_watch
from board.views.subjects import food, much_of, subject_name
from board.views.text import inert

_WATCH_SAYS: Mapping[WatchKind, str] = {
    WatchKind.COOLING: "{food} set to cool",
    WatchKind.REHEATING: "{food} set to reheat",
    WatchKind.THAWING: "{food} set to thaw",
    WatchKind.TEMPERING: "{food} taken out to temper",
    WatchKind.HOT_HOLD: "{food} put in the hot hold",
    WatchKind.COLD_HOLD: "{food} put in the cold hold",
    WatchKind.DATE_MARKED: "{food} date-marked",
}


def put_right(facts: Facts, entry: Entry) -> str:
    """What is right instead, after what an entry says; empty where nobody corrected it."""
    right = facts.corrected.get(entry.seq)
    says = _right(facts, right, told_at=entry.at) if right else ""
    return f"; corrected: {says}" if says else ""


def _right(facts: Facts, correction: Entry, told_at: datetime | None = None) -> str:
    """What a correction says is right; not its time where the entry is told at that already."""
    data = correction.data
    said = []
    if "temperature_c" in data:
        said.append(names.degrees(facts.house, float(data["temperature_c"])))
    if "at" in data and datetime.fromisoformat(data["at"]) != told_at:
        said.append(f"at {names.clock(facts.house, datetime.fromisoformat(data['at']))}")
    if "text" in data:
        said.append(f"“{inert(str(data['text']))}”")
    why = f" ({inert(str(data['why']))})" if data.get("why") else ""
    return " ".join(said) + why if said else ""


def say_correction(facts: Facts, entry: Entry) -> str:
    """A correction: of what, and what is right."""
    of = entry.data["of"]
    about = f" of {subject_name(facts, entry)}" if entry.subject else ""
    return f"entry {entry.data['entry']}, the {of}{about}, put right: {_right(facts, entry)}"


def say_watch(facts: Facts, entry: Entry) -> str:
    """What was begun to be watched, where and in what way."""
    data = entry.data
    what = much_of(data["what"], data.get("amount"))
    where = f", {names.place_name(facts.house, data['place'])}" if data.get("place") else ""
    way = f", {inert(data['way'])}" if data.get("way") else ""
    return _WATCH_SAYS[WatchKind(data["watch"])].format(food=what) + where + way


def say_watch_ended(facts: Facts, entry: Entry) -> str:
    """What became of the food that was watched."""
    how = WatchEnd(entry.data["how"])
    watch = find_watch(facts, entry.subject)
    name = f"{food(watch)}, {watch.kind}" if watch else inert(entry.subject)
    return f"{name}: done" if how is WatchEnd.DONE else f"{name}: {how.value}"


def say_freezer(facts: Facts, entry: Entry) -> str:
    """A lot that went into the freezer, or came out."""
    where = "into the freezer" if entry.kind == "frozen" else "out of the freezer"
    return f"{subject_name(facts, entry)} {where}"


def say_action(facts: Facts, entry: Entry) -> str:
    """What was done about something."""
    about = subject_name(facts, entry) if entry.subject else f"entry {entry.data['entry']}"
    return f"done about {about}: {inert(str(entry.data['text']))}"


def say_probe(facts: Facts, entry: Entry) -> str:
    """What a probe read in ice water or boiling water."""
    where = "ice water" if entry.data["way"] == ProbeWay.ICE else "boiling water"
    read = names.degrees(facts.house, float(entry.data["temperature_c"]))
    return f"{inert(entry.subject)} read {read} in {where}{put_right(facts, entry)}"


def say_signature(facts: Facts, entry: Entry) -> str:
    """Which days of the record were signed; with their times where they are not whole days."""
    since, until = (local(datetime.fromisoformat(entry.data[end]), facts.house) for end in ("since", "until"))
    if since.time() == until.time() == time():
        last = until.date() - timedelta(days=1)
        said = [short_day(day) for day in dict.fromkeys((since.date(), last))]
    else:
        said = [f"{short_day(day.date())} {names.clock(facts.house, day)}" for day in (since, until)]
    pin = " with a PIN" if "pin" in entry.data else ""
    return f"record of {' to '.join(said)} signed{pin}, {count(entry.data['entries'], 'entry')}"


_PIN_SET = {
    "first": "set a PIN",
    "changed": "set another PIN",
    "forgotten": "set another PIN without the old one",
}


def say_pin_set(facts: Facts, entry: Entry) -> str:
    """That somebody's PIN was set, and whether the one before was known."""
    who = names.person_name(facts.house, entry.who)
    return f"{who} {_PIN_SET.get(str(entry.data['how']), 'set a PIN')} for signing"
