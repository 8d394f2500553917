"""What follows from the record: the state of one thing, from the entries that bear on it.

Pure. `advance` takes the state one entry further; `fold` starts from nothing. Both are used on
every write, so that the stored state is always what replaying the record gives.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from board.ledger.facts import Facts
from board.ledger.following import alarms, batches, loads, menu, probes, readings
from board.ledger.state import Entry
from board.ledger.times import moment


def standing(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that nobody took back, without the entries that took others back."""
    found = list(entries)
    undone = {entry.undoes for entry in found}
    return [entry for entry in found if entry.undoes is None and entry.seq not in undone]


def righted(entries: Iterable[Entry]) -> list[Entry]:
    """The entries in force, each at the time it was last put right, without the corrections."""
    found = standing(entries)
    times = {
        e.data["entry"]: moment(e.data["at"]) for e in found if e.kind == "correction" and "at" in e.data
    }
    return [replace(e, at=times.get(e.seq, e.at)) for e in found if e.kind != "correction"]


def fold(family: str, entries: Iterable[Entry]) -> Facts | None:
    """The state of one thing from all entries that bear on it, in the order of the record.

    A reading follows its own corrections, which may be of its degrees too. A plan's entry carries, as data,
    the plan's piece about this thing under "planned", or None where that plan does not name it; that of a
    step that used batches, what it took of this one under "took".
    """
    facts: Facts | None = None
    for entry in standing(entries) if family == "reading" else righted(entries):
        facts = advance(family, facts, entry)
    return facts


def advance(family: str, facts: Facts | None, entry: Entry) -> Facts | None:
    """The state after one more entry that takes nothing back."""
    return FAMILIES[family](facts, entry)


FAMILIES: Mapping[str, Callable[[Any, Entry], Facts | None]] = {
    "load": loads.load,
    "step": loads.step,
    "batch": batches.batch,
    "pit": loads.pit,
    "promise": menu.promise,
    "pin": loads.pin,
    "occasion": menu.occasion,
    "regroup": loads.regroup,
    "sale": menu.sale,
    "reading": readings.reading,
    "weighing": batches.weighed,
    "use": batches.use,
    "watch": readings.watch,
    "alarm": alarms.alarm,
    "placing": probes.placing,
    "struck": probes.struck,
}
