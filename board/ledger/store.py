"""The state: a row for each load, step, batch, weighing, use, pit, promise, …, kept by folding."""

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date, datetime
from enum import StrEnum
from functools import lru_cache
from typing import Any, TypeVar, get_type_hints

from board.ledger import facts as kept
from board.ledger import fold, record
from board.ledger.facts import Facts
from board.ledger.keys import Key
from board.ledger.open import Ledger, Row
from board.ledger.state import BatchStage, Entry, LoadStage, WatchEnd, WatchKind
from board.ledger.times import moment, stamp

AnyFacts = TypeVar("AnyFacts", bound=Facts)


@dataclass(frozen=True, slots=True)
class Table:
    """Where a family's state is kept: the table, its dataclass and how a key becomes its columns."""

    name: str
    facts: type[Facts]
    columns: tuple[str, ...]
    values: Callable[[Key], tuple[Any, ...]]


def _of_day(key: Key) -> tuple[Any, ...]:
    return (key.day, key.id)


def _of_menu(key: Key) -> tuple[Any, ...]:
    return (key.day, *key.id.split("/", 1))


def _of_line(key: Key) -> tuple[Any, ...]:
    batch, _, line = key.id.rpartition("/")
    return (key.day, batch, int(line))


def _of_seq(key: Key) -> tuple[Any, ...]:
    return (key.day, int(key.id))


DAY, MENU = ("day", "id"), ("day", "service", "item")
TABLES: Mapping[str, Table] = {
    "load": Table("loads", kept.LoadFacts, DAY, _of_day),
    "step": Table("steps", kept.StepFacts, DAY, _of_day),
    "batch": Table("batches", kept.BatchFacts, DAY, _of_day),
    "pit": Table("pits", kept.PitFacts, ("id",), lambda key: (key.id,)),
    "promise": Table("promises", kept.PromiseFacts, MENU, _of_menu),
    "pin": Table("pins", kept.PinFacts, ("day", "load"), _of_day),
    "occasion": Table("occasions", kept.OccasionFacts, ("day", "service"), _of_day),
    "regroup": Table("regroups", kept.RegroupFacts, ("day", "seq"), _of_seq),
    "sale": Table("sales", kept.SaleFacts, MENU, _of_menu),
    "weighing": Table("weighings", kept.WeighedFacts, ("day", "batch", "line"), _of_line),
    "use": Table("uses", kept.UseFacts, ("day", "step", "batch"), _of_menu),
    "reading": Table("readings", kept.ReadingFacts, ("seq",), lambda key: (int(key.id),)),
    "alarm": Table("alarms", kept.AlarmFacts, ("key",), lambda key: (key.id,)),
    "placing": Table("placings", kept.PlacingFacts, ("seq",), lambda key: (int(key.id),)),
    "struck": Table("struck", kept.StruckFacts, ("seq",), lambda key: (int(key.id),)),
    "watch": Table("watches", kept.WatchFacts, ("id",), lambda key: (key.id,)),
}


def take_in(ledger: Ledger, entry: Entry, keys: Iterable[Key]) -> None:
    """Note what a new entry bears on, and bring the state of each up to it."""
    for key in keys:
        ledger.db.execute("INSERT INTO bearing VALUES (?, ?, ?, ?)", (*key, entry.seq))
        if entry.undoes is not None or entry.kind == "correction":
            facts = rebuilt(ledger, key)
        else:
            facts = fold.advance(key.family, stored(ledger, key), about(ledger, entry, key))
        keep(ledger, key, facts)


def stored(ledger: Ledger, key: Key) -> Facts | None:
    """The state of one thing as its table holds it."""
    table = TABLES[key.family]
    row = ledger.row(f"SELECT * FROM {table.name} WHERE {_where(table)}", table.values(key))
    return as_facts(table.facts, row) if row else None


def rebuilt(ledger: Ledger, key: Key) -> Facts | None:
    """The state of one thing from the record alone."""
    return fold.fold(key.family, (about(ledger, entry, key) for entry in record.bearing_on(ledger, key)))


def keep(ledger: Ledger, key: Key, facts: Facts | None) -> None:
    """Put the state of one thing into its table."""
    table = TABLES[key.family]
    if facts is None:
        ledger.db.execute(f"DELETE FROM {table.name} WHERE {_where(table)}", table.values(key))
        return
    row = as_row(facts)
    marks = ", ".join("?" * len(row))
    ledger.db.execute(
        f"INSERT OR REPLACE INTO {table.name} ({', '.join(row)}) VALUES ({marks})", tuple(row.values())
    )


def about(ledger: Ledger, entry: Entry, key: Key) -> Entry:
    """The entry as it concerns one thing: a plan's is narrowed to its piece, a use's to what was taken."""
    if key.family == "use" and entry.kind == "step":
        took = next(one for one in entry.data["took"] if key.id == f"{entry.subject}/{one['batch']}")
        return replace(entry, data={**entry.data, "took": took})
    if entry.kind != "plan":
        return entry
    text = ledger.db.execute("SELECT document FROM plans WHERE seq = ?", (entry.seq,)).fetchone()[0]
    return replace(entry, data={"planned": _pieces(text)[key.family].get(key.id)})


@lru_cache(maxsize=4)  # a commit asks for each piece of one document in turn
def _pieces(text: str) -> Mapping[str, Mapping[str, Any]]:
    document = json.loads(text)
    return {
        family: {piece["id"]: piece for piece in document[name]}
        for family, name in (("load", "loads"), ("step", "steps"), ("batch", "batches"))
    }


def as_row(facts: Facts) -> Row:
    """The facts as column values."""
    return {field.name: _to_column(getattr(facts, field.name)) for field in fields(facts)}


def as_facts(kind: type[AnyFacts], row: Row) -> AnyFacts:
    """The facts that a row holds."""
    values: dict[str, Any] = {
        name: None if row[name] is None else read(row[name]) for name, read in COLUMNS[kind].items()
    }
    return kind(**values)


def _to_column(value: Any) -> Any:
    match value:
        case datetime():
            return stamp(value)
        case date():
            return value.isoformat()
        case StrEnum():
            return str(value)
        case bool():
            return int(value)
    return value


READERS: Mapping[Any, Callable[[Any], Any]] = {
    datetime: moment,
    date: date.fromisoformat,
    bool: bool,
    LoadStage: LoadStage,
    BatchStage: BatchStage,
    WatchKind: WatchKind,
    WatchEnd: WatchEnd,
}


def _readers(kind: type[Facts]) -> Mapping[str, Callable[[Any], Any]]:
    """How to read each column of a dataclass, from its field's type (None aside)."""
    found = {}
    for name, hint in get_type_hints(kind).items():
        known = [READERS[part] for part in (hint, *getattr(hint, "__args__", ())) if part in READERS]
        found[name] = known[0] if known else lambda value: value
    return found


def _where(table: Table) -> str:
    return " AND ".join(f"{column} = ?" for column in table.columns)


COLUMNS: Mapping[Any, Mapping[str, Callable[[Any], Any]]] = {
    table.facts: _readers(table.facts) for table in TABLES.values()
}
