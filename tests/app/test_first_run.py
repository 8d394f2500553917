"""`board` in a real terminal where there is no house: left clean, or led to a board on a new one."""

import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from board.house.files import read_house
from tests.terminal import Terminal

RUN = "from board.cli import main; main()"


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """An empty folder to stand in."""
    (tmp_path / "here").mkdir()
    return tmp_path / "here"


@pytest.fixture
def terminal(here: Path, tmp_path: Path) -> Iterator[Terminal]:
    """`board` in that folder, its first page painted."""
    told = {**os.environ, "BOARD_SETTINGS": str(tmp_path / "settings.toml"), "TZ": "America/Denver"}
    found = Terminal([sys.executable, "-c", RUN], environment=told, folder=here)
    try:
        assert found.until(b"invented house", 90)
        found.settle()
        yield found
    finally:
        if found.process.poll() is None:
            found.process.kill()


def test_q_leaves_no_file_and_a_clean_terminal(terminal: Terminal, here: Path) -> None:
    """Left on the first page it ends with 0."""
    terminal.press(b"q")
    assert terminal.end() == 0
    assert terminal.left_clean
    assert list(here.iterdir()) == []


def test_ctrl_c_leaves_no_file_and_a_clean_terminal(terminal: Terminal, here: Path) -> None:
    """Interrupted in the middle of a question it ends with 130."""
    for keys in (b"\r", b"\r", b"Junip"):
        terminal.press(keys)
        terminal.settle()
    terminal.press(b"\x03")
    assert terminal.end() == 130
    assert terminal.left_clean
    assert list(here.iterdir()) == []


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP"])
def test_being_told_to_stop_leaves_no_file_and_a_clean_terminal(
    name: str, terminal: Terminal, here: Path
) -> None:
    """It ends with 143, as the board does."""
    os.kill(terminal.process.pid, getattr(signal, name))
    assert terminal.end() == 143
    assert terminal.left_clean
    assert list(here.iterdir()) == []


def test_the_invented_house_and_back(terminal: Terminal, here: Path) -> None:
    """The demo is seen and left; the first page is there again, and still nothing is written."""
    terminal.press(b"\x1b[B\r")
    assert terminal.until(b"Tallow", 90)
    terminal.settle()
    terminal.painted = b""
    terminal.press(b"q")
    assert terminal.until(b"invented house", 60)
    terminal.settle()
    terminal.press(b"q")
    assert terminal.end() == 0
    assert list(here.iterdir()) == []


def test_a_name_and_enter_lead_to_a_board_on_a_new_house(terminal: Terminal, here: Path) -> None:
    """What is guessed is good enough to begin with: the files read, the ledger is there, the board is up."""
    for keys in (b"\r", b"\r", b"Juniper Yard", b"\r", *[b"\x1b[C"] * 5):
        terminal.press(keys)
        terminal.settle()
    assert terminal.until(b"write it", 60)
    terminal.settle()
    terminal.painted = b""
    terminal.press(b"\x1b[F\r")
    assert terminal.until(b"Do next", 60)
    terminal.settle()
    terminal.press(b"q")
    assert terminal.end() == 0
    assert terminal.left_clean
    assert read_house(here).name == "Juniper Yard"
    assert (here / "board.db").is_file()
