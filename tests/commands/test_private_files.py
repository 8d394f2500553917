"""Whatever a command writes, only its owner may read: POSIX modes, whatever the shell's umask allows."""

import os
import subprocess
import sys
from pathlib import Path

GROUP_AND_OTHERS = 0o077
REPOSITORY = Path(__file__).parents[2]


def command(folder: Path, *words: str) -> None:
    """A command as a process of its own, under a umask that allows everything."""
    told = subprocess.run(
        [sys.executable, "-c", "from board.cli import main; main()", *words],
        cwd=folder,
        env={**os.environ, "BOARD_WHO": "ines", "PYTHONPATH": str(REPOSITORY)},
        umask=0,
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode in (0, 1), told.stderr


def test_ledger_house_exports_and_backups_are_private(tmp_path: Path) -> None:
    """A house begun, marked, printed, exported and backed up leaves nothing that another may open."""
    away = tmp_path / "stick"
    away.mkdir(mode=0o700)
    house = tmp_path / "house"
    command(tmp_path, "house", "new", str(house))
    command(house, "show", "opening")
    command(house, "reading", "walk-in", "40 F")
    command(house, "record", "--pdf", "record.pdf", "--csv", "record.csv")
    command(house, "backup", "--to", str(away))
    written = list(tmp_path.rglob("*"))
    assert {"board.db", "record.pdf", "record.csv"} <= {path.name for path in written}
    assert any(path.is_relative_to(away) for path in written)
    modes = {path: path.stat().st_mode for path in written}
    assert [f"{path}: {mode:o}" for path, mode in modes.items() if mode & GROUP_AND_OTHERS] == []
