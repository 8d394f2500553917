"""A ledger's file read without writing a byte to it, also where text in it is text no more."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

# How SQLite fails on a damaged file; it repeats damaged text in what it says, which is then text no more.
BROKEN = (sqlite3.DatabaseError, UnicodeDecodeError)


@contextmanager
def looking(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection for reading one moment of a file; broken text comes as escapes that keep its bytes."""
    connection = sqlite3.connect(path.absolute().as_uri() + "?mode=ro", uri=True, isolation_level=None)
    with closing(connection):
        connection.text_factory = _text
        connection.execute("BEGIN")
        yield connection


def quoted(name: str) -> str:
    """A name out of a ledger's file as SQL takes it, whatever is in it: in double quotes, as SQLite's are."""
    return '"' + name.replace('"', '""') + '"'


def _text(found: bytes) -> str:
    return found.decode("utf-8", "surrogateescape")
