"""How fast the board is in a real terminal, beside a bare Textual application in the same run.

    python -m tests.bench.board_speed [--runs N] [--days N]

Prints the first screen from the start of the process, a key to its painted screen with 60 loads on the
timeline and five years in the ledger, and the longest stall of the screen while the planner works.
Ratios carry over to other machines, milliseconds only roughly.
"""

import argparse
import compileall
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import board
from tests.terminal import Terminal

SIZE = (120, 36)
SIGN = b"On the pits"  # a title on the first screen of both
FIRST_QUIET = 0.6  # the first screen comes in several bursts while estimates arrive
DOWN, UP, RIGHT, LEFT = b"\x1b[B", b"\x1b[A", b"\x1b[C", b"\x1b[D"
TODAY = [b"2", b"["]
WALKS = {
    "a load down on the timeline": [*TODAY, *[DOWN] * 20],
    "hours moved and stretched": [*TODAY, *[RIGHT, b"+", b"-", LEFT] * 5],
    "a line down in Opening": [*[DOWN] * 10, *[UP] * 10],
    "another view": [b"1", b"3", b"4", b"5", b"2"] * 4,
}
STALLS = {"at rest": [], "while it plans anew": ["g"], "while it plans afresh": ["G"]}


def child(what: str, ledger: Path, *more: str) -> list[str]:
    """The command that runs one of the applications."""
    return [sys.executable, "-m", "tests.bench.board_child", what, str(ledger), *more]


def first_screen(command: Sequence[str]) -> float:
    """Seconds from starting a process to its first screen."""
    terminal = Terminal(command, SIZE, ENVIRONMENT)
    assert terminal.until(SIGN), "the application did not start"
    took = time.perf_counter() - terminal.began
    terminal.settle(quiet_seconds=FIRST_QUIET)
    terminal.press(b"q")
    terminal.end()
    return took


def walk(command: Sequence[str], keys: Sequence[bytes], lead: int = 0) -> list[float]:
    """Seconds from each key to the last paint it leads to; the first few only lead to the place."""
    terminal = Terminal(command, SIZE, ENVIRONMENT)
    assert terminal.until(SIGN), "the application did not start"
    terminal.settle(quiet_seconds=FIRST_QUIET)
    took: list[float] = []
    for n, key in enumerate(keys):
        began = time.perf_counter()
        terminal.press(key)
        painted = terminal.settle(first_seconds=0.25)
        if painted and n >= lead:  # a key at a list's end paints nothing
            took.append(painted - began)
        if n < lead:
            terminal.settle(quiet_seconds=FIRST_QUIET)
    terminal.press(b"q")
    terminal.end()
    return took


def stall(ledger: Path, keys: Sequence[str]) -> tuple[float, float, float]:
    """How late the screen's own clock is for a while, in seconds: worst, 99th percentile, median."""
    command = child("stall", ledger, *keys)
    said = subprocess.run(command, env=ENVIRONMENT, check=True, capture_output=True, text=True).stdout
    worst, high, middle = map(float, said.split()[-3:])
    return worst, high, middle


def line(what: str, seconds: Sequence[float]) -> None:
    """One line of the table."""
    middle, worst = 1000 * statistics.median(seconds), 1000 * max(seconds)
    print(f"{what:<42}{middle:>8.0f} ms{worst:>8.0f} ms{len(seconds):>6}")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=7)
    parser.add_argument("--days", type=int, default=5 * 365)
    wanted = parser.parse_args()
    compileall.compile_dir(Path(board.__file__).parent, quiet=1)  # as an installed package is
    with tempfile.TemporaryDirectory() as place:
        ledger = Path(place) / "board.db"
        subprocess.run(child("build", ledger, str(wanted.days)), check=True)
        print(f"{wanted.days} days of history, {ledger.stat().st_size / 1e6:.0f} MB")
        text = Path(place) / "screen.txt"
        text.write_text("\n".join(["On the pits", *(f"a line of text, number {n}" for n in range(30))]))
        ours, bare = child("open", ledger), [sys.executable, "-m", "tests.bench.bare", str(text)]
        print(f"{'':<42}{'median':>11}{'worst':>11}{'times':>6}")
        turns = [(first_screen(ours), first_screen(bare)) for _ in range(wanted.runs)]
        line("first screen", [one for one, _ in turns])
        line("first screen, bare application", [other for _, other in turns])
        for what, keys in WALKS.items():
            line(what, walk(ours, keys, len(TODAY) if keys[:2] == TODAY else 0))
        line("a line down, bare application", walk(bare, [DOWN] * 20))
        ratio = statistics.median(a for a, _ in turns) / statistics.median(b for _, b in turns)
        print(f"first screen against bare: {ratio:.2f} times")
        print(f"{'the screen late':<42}{'median':>11}{'99th':>11}{'worst':>11}")
        for what, pressed in STALLS.items():
            worst, high, middle = stall(ledger, pressed)
            print(f"{what:<42}{1000 * middle:>8.1f} ms{1000 * high:>8.1f} ms{1000 * worst:>8.1f} ms")


ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}

if __name__ == "__main__":
    main()
