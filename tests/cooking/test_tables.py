"""The cooking sums' numbers stand in tables, each with its meaning and its source."""

from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

import pytest

from board.cooking.tables import table

TABLES = sorted(path.name.removesuffix(".toml") for path in (files("board.cooking") / "data").iterdir())


def numbers(of: Mapping[str, Any], *names: str) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every number of a table, by the names that lead to it."""
    for name, row in of.items():
        if isinstance(row, Mapping):
            if "value" in row:
                yield ".".join((*names, name)), row
            else:
                yield from numbers(row, *names, name)


@pytest.mark.parametrize("name", TABLES)
def test_every_number_says_what_it_is_and_whence(name: str) -> None:
    """A value stands with its unit, its meaning and its source, or says that it has none."""
    bare = [
        key for key, row in numbers(table(name)) if not (row["unit"] and row["meaning"] and row["source"])
    ]
    assert not bare


def test_there_are_numbers_to_look_at() -> None:
    """The tables told in that form hold most of the numbers."""
    assert sum(1 for name in TABLES for _ in numbers(table(name))) > 60
