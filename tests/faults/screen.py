"""A board on the screen whose disk fails: python -m tests.faults.screen [--rounds N]

A note is typed once for each of the disk's operations that it takes, with that operation refused. Either it
is recorded and the dialog is gone, or it is not and its words still stand in the dialog, with a line to act
on; once the disk is put right, Enter records it. Never is it there twice, and the board always goes on.
"""

import argparse
import asyncio
import sqlite3
import sys
from contextlib import closing
from datetime import timedelta
from itertools import count
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Input

from board.app.app import BoardApp
from board.app.dialogs.ask import Ask
from board.ledger import write
from board.ledger.open import open_ledger
from tests.app.boards import NOW, board, night_ledger
from tests.app.pictures import screen_text, settled
from tests.faults import check, hand
from tests.faults.layer import ERRORS, FOREVER, Class, Layer, enter, run_under
from tests.faults.table import Tally, print_table

SECONDS = 900.0
WAYS = {
    "a write, disk full": (Class.WRITE, "ENOSPC", 1),
    "all writes from one on, disk full": (Class.WRITE, "ENOSPC", FOREVER),
    "a sync": (Class.SYNC, "EIO", 1),
    "all syncs from one on": (Class.SYNC, "EIO", FOREVER),
    "a read": (Class.READ, "EIO", 1),
    "all from one on, reads too": (Class(31), "EIO", FOREVER),
}


def main(arguments: list[str] | None = None) -> int:
    """Type notes on a failing disk, print a table; 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=100, help="at most so many operations of each way")
    wanted = parser.parse_args(arguments)
    layer = Layer()
    layer.fresh()

    def job() -> None:
        enter()
        sys.exit(asyncio.run(_board(layer, wanted.rounds)))

    (ended,) = hand.cut_off([hand.start(job)], SECONDS)
    return ended


async def _board(layer: Layer, rounds: int) -> int:
    """One board, and all notes on it."""
    tallies = {name: Tally() for name in WAYS}
    path = layer.folder / "board.db"
    with night_ledger(path) as ledger:
        app = board(ledger)
        async with app.run_test(size=(100, 30)) as pilot:
            await settled(app, pilot)
            for name, tally in tallies.items():
                for at in count(1):
                    met, wrong = await _typed(layer, app, pilot, name, at)
                    tally.take({}, wrong)
                    if not met or at >= rounds:
                        break
    tallies["in the end"] = Tally()
    tallies["in the end"].take({}, check.complaints(path, {}))
    return print_table("a note typed on a failing disk", tallies)


async def _typed(
    layer: Layer, app: BoardApp, pilot: Pilot[None], name: str, at: int
) -> tuple[bool, list[str]]:
    """One note: whether an operation was refused, and what was wrong."""
    path, text = layer.folder / "board.db", f"{name} {at}"
    with open_ledger(path) as other:  # so that the board has something to read anew
        write.note(other, "the other board's", who="Max", at=NOW, noted_at=NOW + timedelta(seconds=at))
    classes, error, times = WAYS[name]
    await pilot.press("n")
    app.screen.query_one(Input).value = text
    layer.refuse(at, classes, ERRORS[error], times)
    await pilot.press("enter")
    await settled(app, pilot)
    app.keep_up()
    await settled(app, pilot)
    met = layer.said("failed") > 0
    layer.put_right()
    there, open_still = _times_there(path, text), isinstance(app.screen, Ask)
    wrong = []
    if there == open_still:
        wrong.append(
            f"there {there} times, and the dialog {'stays' if open_still else 'is gone'}: {_line(app)}"
        )
    if open_still:
        if app.screen.query_one(Input).value != text:
            wrong.append("what was typed is gone")
        await pilot.press("enter")
        await settled(app, pilot)
    if _times_there(path, text) != 1 or isinstance(app.screen, Ask):
        wrong.append(f"in the end it is there {_times_there(path, text)} times: {_line(app)}")
    while isinstance(app.screen, Ask):
        await pilot.press("escape")
    return met, wrong


def _times_there(path: Path, text: str) -> int:
    with closing(sqlite3.connect(path)) as db:
        found = db.execute("SELECT count(*) FROM entries WHERE json_extract(data, '$.text') = ?", (text,))
        return int(found.fetchone()[0])


def _line(app: BoardApp) -> str:
    return " ".join(line for line in screen_text(app).splitlines() if "ledger" in line or "disk" in line)


if __name__ == "__main__":
    run_under(["-m", "tests.faults.screen", *sys.argv[1:]])
    sys.exit(main())
