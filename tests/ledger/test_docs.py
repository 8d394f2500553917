"""docs/ledger.md says what the program does."""

import re
from pathlib import Path

from board.ledger.open import Ledger
from board.ledger.undo import UNDOABLE

DOCS = (Path(__file__).parents[2] / "docs" / "ledger.md").read_text(encoding="utf-8")


def test_every_kind_of_entry_is_documented() -> None:
    """The table of kinds is complete."""
    kinds = set(re.findall(r"^\| `([a-z ]+)` \|", DOCS.partition("## The state")[0], re.MULTILINE))
    assert kinds == {*UNDOABLE, "plan", "undo", "fed", "pin set", "restored", "mended"}


def test_every_table_and_column_is_documented(ledger: Ledger) -> None:
    """The tables of the record and of the state are complete, column by column."""
    stated = dict(
        re.findall(r"^\| `(\w+)` \| [^|]+ \| `([^`]+)` \|$", DOCS.partition("## The state")[2], re.MULTILINE)
    )
    stated |= dict(re.findall(r"`(entries|plans|links|bearing)\(([^)]+)\)`", DOCS))
    tables = {t.name: t for t in ledger.db.tables if not t.name.startswith(("sqlite_", "_sqlite_"))}
    assert {name: set(columns.split(", ")) for name, columns in stated.items()} == {
        name: {column.name for column in table.columns} for name, table in tables.items()
    }
