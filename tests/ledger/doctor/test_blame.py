"""A damaged ledger is told of in one line, wherever its damage makes the program fall."""

import json
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from board import cli
from board.commands.demo import HOUSE, demo_ledger
from board.errors import LedgerError
from board.house.files import read_house
from board.house.seeds import seed_house
from board.ledger.doctor.blame import blaming
from board.ledger.open import open_ledger

from .tampering import make_evening, tampering

DB = sqlite3.Connection


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's ledger."""
    path = tmp_path_factory.mktemp("demo") / "board.db"
    folder = seed_house(HOUSE)
    ledger, _ = demo_ledger(path, read_house(folder), folder, None)
    ledger.close()
    return path


def misspell(db: DB) -> None:
    """Lose a letter of a plan's document."""
    db.execute("UPDATE plans SET document = replace(document, '\"portions\"', '\"potions\"')")


def mistime(db: DB) -> None:
    """Make a time that is none."""
    db.execute("PRAGMA ignore_check_constraints = ON")
    db.execute("UPDATE entries SET noted_at = '2026-12-18Tcoffee'")


def stain(db: DB) -> None:
    """Let the data of entries be no JSON any more."""
    db.execute("PRAGMA ignore_check_constraints = ON")
    db.execute("UPDATE entries SET data = '{coffee' WHERE kind = 'reading' OR kind = 'note'")


def misplace(db: DB) -> None:
    """Let loads stand at a stage there is not."""
    db.execute("UPDATE loads SET stage = 'onn'")


def lose(db: DB) -> None:
    """Take a whole table away."""
    db.execute("DROP TABLE steps")


@pytest.mark.parametrize("damage", [misspell, mistime, stain, misplace, lose])
def test_a_command_on_a_damaged_ledger_ends_in_one_line(
    demo: Path, path: Path, damage: Callable[[DB], None], capsys: pytest.CaptureFixture[str]
) -> None:
    """Whatever of it is damaged, the line names the ledger and where to look; never a traceback."""
    shutil.copy(demo, path)
    with tampering(path) as db:
        damage(db)
    ends = [
        cli.run([*command, "--at", "2026-12-19T05:40", "--ledger", str(path)])
        for command in (["show", "opening"], ["show", "record"], ["record", "--from", "2026-12-18"])
    ]
    said = capsys.readouterr().err
    assert cli.Exit.BAD_INPUT in ends
    assert said.count("\n") == ends.count(cli.Exit.BAD_INPUT)
    assert str(path) in said
    assert "board doctor" in said
    assert cli.run(["doctor", "--ledger", str(path)]) == cli.Exit.BAD_NEWS


def test_the_programs_own_errors_go_through(path: Path) -> None:
    """A sound ledger is not blamed."""
    make_evening(path)
    with pytest.raises(KeyError, match="own"), open_ledger(path), blaming(path):
        raise KeyError("own")


def test_a_damaged_ledger_is_blamed(path: Path) -> None:
    """The line says what the doctor found first."""
    with tampering(make_evening(path)) as db:
        db.execute("DELETE FROM pits")
    with (
        pytest.raises(LedgerError, match="is damaged: pits lacks north; board doctor --mend mends"),
        blaming(path),
    ):
        raise KeyError("lit_at")


def test_doctor_and_mend_as_commands(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 1 with the faults and what to do, 0 once mended; JSON for scripts; 2 where there is no ledger."""
    asked = ["doctor", "--ledger", str(path)]
    assert cli.run(asked) == cli.Exit.BAD_INPUT
    assert capsys.readouterr().err == f"board: there is no ledger {path}; name it with --ledger\n"
    with closing(sqlite3.connect(make_evening(path), isolation_level=None)) as db:
        db.execute("DELETE FROM pits")
    assert cli.run(asked) == cli.Exit.BAD_NEWS
    out = capsys.readouterr().out
    assert "    wrong: pits lacks north\n" in out
    assert out.endswith("board doctor --mend mends what can be, and keeps the file as it is now.\n")
    assert cli.run([*asked, "--mend", "--who", "Ada"]) == cli.Exit.DONE
    told = capsys.readouterr()
    assert "was wrong: pits lacks north\nthe file as it was is kept: " in told.err
    assert told.out.endswith("The ledger is sound.\n")
    assert cli.run([*asked, "--printed", "2:00000000"]) == cli.Exit.BAD_NEWS
    out = capsys.readouterr().out
    assert "whole, but it is not the record that the page was printed from" in out
    assert "--mend" not in out
    assert cli.run([*asked, "--json"]) == cli.Exit.DONE
    document = json.loads(capsys.readouterr().out)
    assert document["sound"]
    assert all(look["faults"] == [] for look in document["looks"])
