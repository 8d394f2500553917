"""A house with probes, its ledger, and a clock of the test's own."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from board.cli import run
from board.house.files import read_house
from board.house.model import House
from board.house.probes import Keeping
from board.ledger.open import Ledger, create_ledger

PROBES = """
[north-grate]
place = "north"
unit = "F"

[meat-1]
reads = "meat"
place = "north"
unit = "C"

[walk-in-door]
place = "walk-in"
unit = "F"
"""
KEEP_ALL = Keeping(0.0, 1.0, 10.0)
NOW = datetime(2026, 12, 9, 19, 0, tzinfo=UTC)


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """The files of a house with a pit North and three probes, in the current folder."""
    assert run(["house", "new", str(tmp_path / "house")]) == 0
    capsys.readouterr()
    folder = tmp_path / "house"
    pit = next(iter(read_house(folder).pits))
    (folder / "probes.toml").write_text(PROBES.replace('"north"', f'"{pit}"'), encoding="utf-8")
    return folder


@pytest.fixture
def house(folder: Path) -> House:
    """That house; it keeps all that is sent."""
    return replace(read_house(folder), keeping=KEEP_ALL)


@pytest.fixture
def ledger(folder: Path, house: House) -> Iterator[Ledger]:
    """Its ledger."""
    with create_ledger(folder / "board.db", house.name, house.zone, folder) as opened:
        yield opened


def forget(ledger: Ledger) -> int:
    """Begin with a table of no readings, as each example of a property does; the last entry before it."""
    for table in ("fed", "feeds"):
        ledger.db.execute(f"DELETE FROM {table}")
    return int(ledger.rows("SELECT coalesce(max(seq), 0) AS seq FROM entries")[0]["seq"])
