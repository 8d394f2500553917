"""Whether a ledger is sound and holds what was acknowledged, by plain SQLite and sums of this file alone.

It shares no line with the program: neither its fold nor its doctor. Each complaint is a sentence.
"""

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

COLUMNS = "seq, at, noted_at, who, kind, subject, data, undoes"
UNDECIDED = "look in the record"  # what a line says that leaves open whether the entry is there
Row = dict[str, Any]


@dataclass(slots=True)
class Told:
    """What one person was told: acknowledged rows, and how many entries may be there beside them."""

    acknowledged: list[list[Any]] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)
    open: list[int] = field(default_factory=list)  # entries of each act that was left undecided


def told(paths: Iterable[Path]) -> dict[str, Told]:
    """What each person was told, from the files their hands wrote."""
    found: dict[str, Told] = defaultdict(Told)
    for path in paths:
        tried = None
        for text in path.read_text("utf-8").splitlines():
            line = json.loads(text)
            if "try" in line:
                if tried:
                    found[tried["who"]].open.append(tried["entries"])
                tried = line
            elif "acknowledged" in line:
                found[tried["who"]].acknowledged += line["acknowledged"]
                tried = None
            else:
                found[tried["who"]].lines.append(line["told"])
                if UNDECIDED in line["told"]:
                    found[tried["who"]].open.append(tried["entries"])
                tried = None
        if tried:
            found[tried["who"]].open.append(tried["entries"])
    return found


def rows_of(path: Path) -> list[list[Any]]:
    """All entries of a ledger as they are now; none where there is no ledger."""
    if not path.exists():
        return []
    with closing(sqlite3.connect(path)) as db:
        return [list(row) for row in db.execute(f"SELECT {COLUMNS} FROM entries ORDER BY seq")]


def complaints(path: Path, hands: dict[str, Told], before: Sequence[list[Any]] = ()) -> list[str]:
    """All that is wrong with a ledger after a fault; none when everything acknowledged is there, and sound.

    `before` are the entries that were there when the hands began.
    """
    if not path.exists():
        lost = len(before) + sum(len(told.acknowledged) for told in hands.values())
        return [f"the ledger is gone, with {lost} acknowledged"] if lost else []
    try:
        with closing(sqlite3.connect(path)) as db:
            db.row_factory = sqlite3.Row
            return list(_complaints(path, db, hands, before))
    except (sqlite3.Error, ValueError, TypeError, KeyError, AttributeError) as error:
        return [f"it cannot be read: {error}"]


def _complaints(
    path: Path, db: sqlite3.Connection, hands: dict[str, Told], before: Sequence[list[Any]]
) -> Iterator[str]:
    for check in ("integrity_check", "foreign_key_check"):
        found = [tuple(row) for row in db.execute(f"PRAGMA {check}")]
        if found not in ([], [("ok",)]):
            yield f"{check}: {found[:3]}"
    rows = [dict(row) for row in db.execute(f"SELECT {COLUMNS} FROM entries ORDER BY seq")]
    if [row["seq"] for row in rows] != list(range(1, len(rows) + 1)):
        yield "a number is missing in the record"
    if [list(row.values()) for row in rows[: len(before)]] != list(before):
        yield "entries that were there before are not as they were"
    yield from _acknowledged(rows, hands)
    yield from _chain(db, rows)
    yield from _plans(db, rows)
    yield from _state(db, rows)
    yield from _backups(path, rows)


def _acknowledged(rows: list[Row], hands: dict[str, Told]) -> Iterator[str]:
    """What was acknowledged is there as it was; what was not is whole acts that were left undecided."""
    kept = {row["seq"]: list(row.values()) for row in rows}
    for who, said in hands.items():
        lost = [one[0] for one in said.acknowledged if kept.get(one[0]) != one]
        if lost:
            yield f"lost of {who}'s: {len(lost)} acknowledged, the first {lost[0]}"
        known = {one[0] for one in said.acknowledged}
        beside = sum(1 for row in rows if row["who"] == who and row["seq"] not in known)
        if beside not in _sums(said.open):
            yield f"{beside} of {who}'s are there that nobody was told of, with {said.open} left undecided"


def _sums(parts: list[int]) -> set[int]:
    """What some of these numbers add up to, none of them included."""
    sums = {0}
    for part in parts:
        sums |= {one + part for one in sums}
    return sums


def _backups(path: Path, rows: list[Row]) -> Iterator[str]:
    """Each backup that has its name is whole, and holds the record as it was up to some entry."""
    for backup in path.with_name(f"{path.name}.backups").glob("[!.]*.db"):
        if backup.stem.endswith(("-damaged", "-restore")):  # what stood there before another was put back
            continue
        with closing(sqlite3.connect(f"{backup.as_uri()}?mode=ro", uri=True)) as db:
            kept = db.execute(f"SELECT {COLUMNS} FROM entries ORDER BY seq").fetchall()
            sound = db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        if not sound or kept != [tuple(row.values()) for row in rows[: len(kept)]]:
            yield f"the backup {backup.name} does not hold what the record held"


def _chain(db: sqlite3.Connection, rows: list[Row]) -> Iterator[str]:
    """Each link is the SHA-256 of the one before and of its entry's line, as docs/ledger.md has it."""
    before = "0" * 64
    links = {row["seq"]: dict(row) for row in db.execute("SELECT * FROM links")}
    if sorted(links) != [row["seq"] for row in rows]:
        yield "there is not one link an entry"
        return
    for row in rows:
        link = links[row["seq"]]
        line = row | {"boot": link["boot"], "up_ms": link["up_ms"]}
        text = json.dumps(line, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        before = sha256(f"{before}\n{text}".encode()).hexdigest()
        if before != link["sha256"]:
            yield f"the chain is broken at entry {row['seq']}"
            return


def _plans(db: sqlite3.Connection, rows: list[Row]) -> Iterator[str]:
    documents = dict(db.execute("SELECT seq, document FROM plans").fetchall())
    expected = {row["seq"]: json.loads(row["data"])["sha256"] for row in rows if row["kind"] == "plan"}
    if {seq: sha256(text.encode()).hexdigest() for seq, text in documents.items()} != expected:
        yield "the plans' documents are not those of the record"


def _state(db: sqlite3.Connection, rows: list[Row]) -> Iterator[str]:
    """Readings, fires, promises, sales and loads as they follow from the record."""
    undone = {row["undoes"] for row in rows}
    standing = [
        row | {"data": json.loads(row["data"])}
        for row in rows
        if row["undoes"] is None and row["seq"] not in undone
    ]
    for table, expected in (
        ("SELECT seq, at, temperature_c FROM readings", _readings(standing)),
        ("SELECT probe, at, temperature_c FROM fed", _fed(standing)),
        ("SELECT id, lit_at IS NOT NULL, setpoint_c FROM pits", _pits(standing)),
        ("SELECT day, service, item, portions FROM promises", _promises(standing)),
        ("SELECT day, service, item, sold FROM sales", _sales(standing)),
    ):
        found = {tuple(row) for row in db.execute(table)}
        if found != expected:
            yield f"state does not follow from the record: {sorted(found ^ expected, key=str)[:3]}"
    for day, load, *stages in db.execute("SELECT day, id, on_at, wrapped_at, pulled_at FROM loads"):
        if stages != _stages(standing, day, load):
            yield f"the stages of {load} do not follow from the record: {stages}"


def _fed(standing: list[Row]) -> set[tuple[Any, ...]]:
    return {
        (probe, at, degrees)
        for row in standing
        if row["kind"] == "fed"
        for probe, at, _, _, _, degrees in row["data"]["readings"]
    }


def _readings(standing: list[Row]) -> set[tuple[Any, ...]]:
    right: dict[int, Row] = defaultdict(dict)
    for row in standing:
        if row["kind"] == "correction":
            right[row["data"]["entry"]] |= row["data"]
    return {
        (
            row["seq"],
            right[row["seq"]].get("at", row["at"]),
            right[row["seq"]].get("temperature_c", row["data"]["temperature_c"]),
        )
        for row in standing
        if row["kind"] == "reading"
    }


def _pits(standing: list[Row]) -> set[tuple[Any, ...]]:
    fires: dict[str, tuple[Any, ...]] = {}
    for row in standing:
        if row["kind"] == "light":
            fires[row["subject"]] = (1, row["data"]["setpoint_c"])
        elif row["kind"] == "out":
            fires[row["subject"]] = (0, None)
    return {(pit, *fire) for pit, fire in fires.items()}


def _where(row: Row) -> tuple[str, str, str]:
    return row["data"]["day"], row["data"]["service"], row["data"]["item"]


def _promises(standing: list[Row]) -> set[tuple[Any, ...]]:
    """What was last promised; an order is a promise of its first line."""
    last = {_where(row): row["data"]["portions"] for row in standing if row["kind"] in ("promise", "order")}
    return {(*where, portions) for where, portions in last.items()}


def _sales(standing: list[Row]) -> set[tuple[Any, ...]]:
    sold: dict[tuple[str, str, str], int] = {}
    for row in standing:
        if row["kind"] in ("sale", "sold out"):
            sold[_where(row)] = sold.get(_where(row), 0) + row["data"].get("portions", 0)
    return {(*where, portions) for where, portions in sold.items()}


def _stages(standing: list[Row], day: str, load: str) -> list[str | None]:
    marked = {
        row["data"]["stage"]: row["at"]
        for row in standing
        if row["kind"] == "load" and (row["data"]["day"], row["subject"]) == (day, load)
    }
    return [marked.get(stage) for stage in ("on", "wrapped", "pulled")]
