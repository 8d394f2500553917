"""The tables, indexes and triggers: just those of a fresh ledger."""

import sqlite3
from functools import lru_cache
from typing import NamedTuple

from board.ledger.doctor.finding import Look, some
from board.ledger.lean import Database
from board.ledger.schema import migrations

OWN = ("sqlite_", "_sqlite_")  # kept by SQLite and by the migrations themselves


class Thing(NamedTuple):
    """A table, index, trigger or view, by the words that make it."""

    type: str
    name: str
    sql: str


def look_at_shape(connection: sqlite3.Connection) -> Look:
    """Whatever guards the record and finds things in it is there and unchanged."""
    wanted, found = fresh(), shape_of(connection)
    faults = [f"the {thing.type} {name} is missing" for name, thing in wanted.items() if name not in found]
    changed = [thing for name, thing in found.items() if name in wanted and thing != wanted[name]]
    faults += [f"the {thing.type} {thing.name} was changed" for thing in changed]
    others = [thing for name, thing in found.items() if name not in wanted]
    faults += [f"the trigger {one.name} is none of the program's" for one in others if one.type == "trigger"]
    notes = tuple(
        f"the {one.type} {one.name} is none of the program's" for one in others if one.type != "trigger"
    )
    return Look("tables", f"{len(wanted)} tables, indexes and triggers", some(faults), notes)


@lru_cache(maxsize=1)
def fresh() -> dict[str, Thing]:
    """The shape of a ledger that this program makes."""
    db = Database(memory=True, execute_plugins=False)
    try:
        migrations.apply(db)
        return shape_of(db.conn)
    finally:
        db.close()


def shape_of(connection: sqlite3.Connection) -> dict[str, Thing]:
    """What a file has, by name."""
    rows = connection.execute("SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL")
    things = (Thing(type, name, " ".join(sql.split())) for type, name, sql in rows)
    return {thing.name: thing for thing in things if not thing.name.startswith(OWN)}
