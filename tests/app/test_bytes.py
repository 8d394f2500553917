"""What really goes to a terminal: no colour where none is wanted, the terminal's own where they are."""

import os
import re
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from board.app.stopping import TERMINATED
from tests.terminal import Terminal

KEYS = (b"2", b"3", b"4", b"5", b"0", b"1", b"t")  # every view, and a dialog
BARE = {
    "",
    "0",
    "1",
    "2",
    "4",
    "7",
    "22",
    "24",
    "27",
}  # ECMA-48, SGR: reset, bold, faint, underlined, reversed
OWN = BARE | {str(n) for start in (30, 40, 90, 100) for n in (*range(start, start + 8), start + 9) if n < 109}


def rendition(folder: Path, environment: Mapping[str, str]) -> tuple[set[str], bytes]:
    """The parameters of all that sets a colour while the demo is gone through, and all that was painted."""
    set_there = "".join(f"os.environ[{name!r}] = {value!r}; " for name, value in environment.items())
    run = f"import os; {set_there}from board.cli import main; main()"
    told = {**os.environ, "BOARD_SETTINGS": str(folder / "settings.toml"), "TMPDIR": str(folder)}
    terminal = Terminal([sys.executable, "-c", run, "demo"], environment=told)
    try:
        assert terminal.until(b"Tallow", 90)
        for key in KEYS:
            terminal.settle()
            terminal.press(key)
        terminal.settle()
        terminal.process.terminate()
        assert terminal.end() == TERMINATED
    finally:
        if terminal.process.poll() is None:
            terminal.process.kill()
    found = re.findall(rb"\x1b\[([0-9;:]*)m", terminal.painted)
    return {part for one in found for part in one.decode().split(";")}, terminal.painted


@pytest.mark.parametrize("ascii_only", [False, True], ids=["glyphs", "ascii"])
def test_no_color_writes_no_colour(ascii_only: bool, tmp_path: Path) -> None:
    """With NO_COLOR no sequence sets a colour; in ASCII no byte beyond it is written either."""
    environment = {"NO_COLOR": "1", "BOARD_ASCII": "yes" if ascii_only else "no"}
    found, painted = rendition(tmp_path, environment)
    assert {"1", "7"} <= found <= BARE
    assert painted.isascii() is ascii_only


def test_the_terminals_own_colours_are_all_that_plain_writes(tmp_path: Path) -> None:
    """The theme of the terminal's own colours sets none but its sixteen and its usual ones."""
    found, _ = rendition(tmp_path, {"BOARD_THEME": "terminal"})
    assert {"1", "7", "31", "39", "49"} <= found <= OWN
