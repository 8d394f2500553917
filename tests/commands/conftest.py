"""The demo's house with a ledger of its own, as on the morning it opens on, and a command run on it."""

from pathlib import Path

import pytest

from board.cli import run
from board.commands.demo import HOUSE, demo_ledger
from board.house.files import read_house
from board.house.seeds import seed_house

AT = "2026-12-19T05:40"


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The ledger's file; nothing is written to it."""
    path, folder = tmp_path_factory.mktemp("demo") / "board.db", seed_house(HOUSE)
    ledger, _ = demo_ledger(path, read_house(folder), folder, None)
    ledger.close()
    return path


def say(capsys: pytest.CaptureFixture[str], *typed: str) -> tuple[int, str, str]:
    """Run a command of the board; its exit code, output and talk."""
    code = run([*typed])
    told = capsys.readouterr()
    return int(code), told.out, told.err
