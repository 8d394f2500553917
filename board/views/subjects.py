"""What an entry is about, and what it says once corrected."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from board.ledger.facts import WatchFacts
from board.ledger.state import Entry
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.facts import Facts, find_load, find_watch, load_state
from board.views.text import inert

_LOADS_OWN = ("load", "move", "reading", "pin", "unpin")
_NOTED = re.compile(r"\d{4}-\d\d-\d\d/.+")  # a note that was written on a load's page


def reading_c(facts: Facts, entry: Entry) -> float:
    """What a reading is, as it was last corrected, °C."""
    right = facts.corrected.get(entry.seq)
    return float((right.data if right else {}).get("temperature_c", entry.data["temperature_c"]))


def food(watch: WatchFacts) -> str:
    """What is watched, and how much of it: `2 pans of pulled pork`."""
    return much_of(watch.what, watch.amount)


def much_of(what: str, amount: str | None) -> str:
    """Food with how much of it there is, where that is known."""
    return inert(f"{amount} of {what}" if amount else what)


def subject_name(facts: Facts, entry: Entry) -> str:
    """What a temperature or an action is of: a load, a watch's food, or a place."""
    plan = plan_of(facts, entry.data)
    load = find_load(plan, entry.subject)
    watch = find_watch(facts, entry.subject)
    if plan is not None and load is not None:
        return the_load(facts, plan, load)
    return food(watch) if watch else names.place_name(facts.house, entry.subject)


def the_load(facts: Facts, plan: Plan, load: PlannedLoad) -> str:
    """A load already spoken of: `the briskets`, with its pieces or its time where others may be meant."""
    others = [one for one in plan.loads if one.cut == load.cut and one.id != load.id]
    if not others:
        return names.the_pieces(facts.house, load)
    said = f"the {names.pieces(facts.house, load)}"
    if all(one.pieces != load.pieces for one in others):
        return said
    on = load_state(facts, load, plan.day).on_at or load.load_at
    return f"{said} (on {names.clock(facts.house, on)})"


def load_told(entry: Entry) -> str:
    """The key of the load that an entry is about; empty where it is about none."""
    data = entry.data
    if entry.kind == "note":
        return entry.subject if _NOTED.fullmatch(entry.subject) else ""
    if entry.kind == "undo":
        return load_told(replace(entry, kind=str(data["kind"]), data=data["data"], undoes=None))
    own = entry.kind in _LOADS_OWN or (entry.kind == "correction" and data.get("of") in _LOADS_OWN)
    load = data.get("load") or (entry.subject if own else "")
    return f"{data['day']}/{load}" if load and data.get("day") else ""


def is_about(action: Entry, key: str) -> bool:
    """Whether an action was said of a thing by its key, `watch:ID` or `load:DAY/ID`."""
    data = action.data
    kind, _, id = key.partition(":")
    by_load = kind == "load" and "load" in data and f"{data['day']}/{data['load']}" == id
    return by_load or (kind == "watch" and data.get("watch") == id)


def plan_of(facts: Facts, data: Mapping[str, Any]) -> Plan | None:
    """The plan of the day that an entry's data name."""
    day = data.get("day")
    return facts.plans.get(date.fromisoformat(day)) if day else None
