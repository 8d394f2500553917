"""`board restore` with one of the disk's operations refused: all of the old or all of the new, and as told.

Told that it was restored, it is; told that it was not, the ledger is as it was, and the same command does it
once the disk is right.
"""

import contextlib
import io
import sys
import time
from collections import Counter
from functools import cache
from pathlib import Path

from board import cli
from board.ledger.open import open_ledger
from tests.faults import check, hand
from tests.faults.layer import ERRORS, Layer, enter
from tests.faults.restore import KINDS, Begun, lay, left, made
from tests.faults.table import Tally
from tests.faults.ways import Way, unplain

SECONDS = 60.0


def one_restore(kind: str, layer: Layer, way: Way, at: int, tally: Tally, lines: Counter[str]) -> bool:
    """Put a backup back with one operation refused; whether the restore was long enough to meet it."""
    path, paper = layer.folder / "board.db", layer.folder.parent / "said"
    layer.fresh()
    begun = lay(_made(layer.folder.parent / "made"), path, kind)
    board = [_board(path, paper)] if kind == KINDS[1] else []
    layer.settle()
    layer.refuse(at, way.classes, ERRORS[way.error], way.times, short=way.short)
    code, told = _command(path, begun, paper)
    is_met = layer.said("failed") > 0
    layer.settle()
    hand.cut_off(board, 0)
    wrong = _wrong(path, kind, begun, code, told, paper)
    tally.take({"hand": told}, [f"{line} (operation {at})" for line in wrong])
    lines.update(line.replace(str(layer.folder), "…") for line in told.lines)
    return is_met


def _board(path: Path, paper: Path) -> int:
    """A board that has the ledger open; killed later, it leaves the log to whoever opens the ledger next."""
    paper.unlink(missing_ok=True)

    def job() -> None:
        with open_ledger(path):
            paper.touch()
            time.sleep(SECONDS)

    board = hand.start(job)
    while not paper.exists():
        time.sleep(0.001)
    return board


def _command(path: Path, begun: Begun, paper: Path) -> tuple[int, check.Told]:
    """`board restore` as it is: how it ended, and what it told."""

    def job() -> None:
        enter()
        said, talk = io.StringIO(), io.StringIO()
        command = ["restore", str(begun.backup), "--yes", "--who", "Ines", "--ledger", str(path)]
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(talk):
            code = cli.run(command)
        paper.write_text(talk.getvalue())
        sys.exit(code)

    paper.write_text("")
    (code,) = hand.cut_off([hand.start(job)], SECONDS)
    if code == 0:
        return code, check.Told(acknowledged=[["restored"]])
    lines = [line for line in paper.read_text().splitlines() if line.startswith("board: ")]
    return code, check.Told(lines=lines, open=[1] * any(check.UNDECIDED in line for line in lines))


def _wrong(path: Path, kind: str, begun: Begun, code: int, told: check.Told, paper: Path) -> list[str]:
    outcome, wrong = left(path, kind, begun)
    wrong += unplain({"hand": told})
    if code not in (0, 2) or (code == 2 and len(told.lines) != 1):
        wrong.append(f"it ended with {code}: {paper.read_text()}")
    if (code == 0) != (outcome == "new") and not told.open:
        wrong.append(f"it ended with {code} and the {outcome}: {told.lines}")
    if outcome == "old":
        again, _ = _command(path, begun, paper)
        outcome, more = left(path, kind, begun)
        wrong += more
        if (again, outcome) != (0, "new"):
            wrong.append(
                f"once the disk is right it ends with {again} and the {outcome}: {paper.read_text()}"
            )
    return wrong


@cache
def _made(folder: Path) -> Path:
    """Where a ledger, its backup and entries beyond lie to begin with."""
    folder.mkdir()
    made(folder / "kept")
    return folder
