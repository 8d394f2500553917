"""Leaving the board in a real terminal: asked to, told to, cut off, or by a fault of ours."""

import os
import signal
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.terminal import Terminal

RUN = "from board.cli import main; main()"
FAULT = f"""
from board.app.app import BoardApp
def fault(self):
    pin = "8520"
    raise RuntimeError(f"a fault of ours {{len(pin)}} \\x1b]0;title\\x07")
BoardApp.action_help = fault
{RUN}
"""


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[Terminal]:
    """The demo, painted, in a terminal of its own."""
    yield from _demo(RUN, tmp_path)


@pytest.fixture
def faulty(tmp_path: Path) -> Iterator[Terminal]:
    """A demo whose help fails with an exception."""
    yield from _demo(FAULT, tmp_path)


def _demo(code: str, folder: Path) -> Iterator[Terminal]:
    told = {**os.environ, "BOARD_SETTINGS": str(folder / "settings.toml"), "TMPDIR": str(folder)}
    terminal = Terminal([sys.executable, "-c", code, "demo"], environment=told)
    try:
        assert terminal.until(b"Tallow", 90)
        assert terminal.until(b"Do next", 30)
        yield terminal
    finally:
        if terminal.process.poll() is None:
            terminal.process.kill()


def test_q_ends_with_nought_and_a_clean_terminal(demo: Terminal) -> None:
    """q ends the whole command with exit code 0 and gives the terminal back."""
    demo.press(b"q")
    assert demo.end() == 0
    assert demo.left_clean


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP"])
def test_being_told_to_stop_leaves_the_terminal_clean(name: str, demo: Terminal) -> None:
    """SIGTERM and SIGHUP end the board with 143, screen, cursor and mouse given back."""
    os.kill(demo.process.pid, getattr(signal, name))
    assert demo.end() == 143
    assert demo.left_clean


def test_being_told_to_stop_while_planning_leaves_the_terminal_clean(demo: Terminal) -> None:
    """A search at work neither holds the board back nor changes how it ends."""
    demo.press(b"2")
    demo.press(b"G")
    assert demo.until(b"planning", 30)
    os.kill(demo.process.pid, signal.SIGTERM)
    assert demo.end() == 143
    assert demo.left_clean


def test_being_told_to_stop_in_a_dialog_leaves_the_terminal_clean(demo: Terminal) -> None:
    """With a question open and half an answer typed the board ends alike."""
    demo.press(b"n")
    demo.settle()
    demo.press(b"half a no")
    demo.settle()
    os.kill(demo.process.pid, signal.SIGHUP)
    assert demo.end() == 143
    assert demo.left_clean


def test_a_fault_of_ours_leaves_the_terminal_clean_and_says_so(faulty: Terminal) -> None:
    """An exception ends the board with 70 (sysexits(3)), and is told once the terminal is given back: where
    it failed and what to do, but neither what it had in hand nor what a terminal obeys.
    """
    faulty.press(b"?")
    assert faulty.end() == 70
    assert faulty.left_clean
    told = faulty.painted.split(b"\x1b[?1049l")[-1]
    assert b"a fault of ours 4" in told
    assert b"Open it again with: board" in told
    assert b"locals" not in told
    assert b"8520" not in told.replace(b'pin = "8520"', b"")
    assert b"\x1b]0;" not in told


def test_what_the_demo_kept_goes_with_it(demo: Terminal, tmp_path: Path) -> None:
    """However the demo is ended, its ledger does not stay behind."""
    assert list(tmp_path.glob("board-demo-*"))
    os.kill(demo.process.pid, signal.SIGTERM)
    demo.end()
    assert not list(tmp_path.glob("board-demo-*"))


def test_a_terminal_that_is_gone_ends_the_board(demo: Terminal) -> None:
    """When its window is closed the board does not go on without one."""
    demo.hang_up()
    end = time.monotonic() + 20
    while demo.process.poll() is None and time.monotonic() < end:
        time.sleep(0.05)
    assert demo.process.poll() is not None
