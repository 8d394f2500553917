"""Commands on a disk that fails: python -m tests.faults.commands [--every N] [--only TEXT]

Each command is run once for each of the disk's operations, with that operation refused. It ends with 0 where
it recorded something and with 2 where it did not, or says that nobody knows; never in a traceback.
"""

import argparse
import contextlib
import io
import sqlite3
import sys
from contextlib import closing
from itertools import count
from pathlib import Path

from board import cli
from board.ledger.open import create_ledger
from tests.faults import after, check, hand
from tests.faults.layer import ERRORS, FOREVER, Class, Layer, enter, run_under
from tests.faults.table import Tally, print_table
from tests.faults.ways import NEVER_SAID

HOUSE = Path(__file__).parents[2] / "seeds" / "hatch"
SECONDS = 60.0
COMMANDS = {
    "reading": ["reading", "walk-in", "38 F"],
    "mark": ["mark", "lit", "drum", "--setpoint", "225 F"],
    "watch": ["watch", "begin", "cooling", "beans"],
}
WAYS = {
    "disk full": (Class.WRITE | Class.NAME, "ENOSPC", FOREVER),
    "a write": (Class.WRITE, "EIO", 1),
    "a sync": (Class.SYNC, "EIO", 1),
    "a name": (Class.NAME, "EIO", 1),
    "a read": (Class.READ, "EIO", 1),
    "all from one on": (Class(31), "EIO", FOREVER),
}


def main(arguments: list[str] | None = None) -> int:
    """Run each, print a table; 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="only every N-th operation")
    parser.add_argument("--only", default="", help="only the commands that have this in their name")
    wanted = parser.parse_args(arguments)
    layer, tallies = Layer(), {}
    for name in COMMANDS:
        for way in WAYS if wanted.only in name else ():
            tally = tallies[f"{name}, {way}"] = Tally()
            for at in count(1, wanted.every):
                met, wrong = one(layer, name, way, at)
                tally.take({}, wrong)
                if not met:
                    break
    return print_table("a command with one of the disk's operations refused", tallies)


def one(layer: Layer, name: str, way: str, at: int) -> tuple[bool, list[str]]:
    """One command: whether an operation was refused, and what was wrong."""
    layer.fresh()
    path, paper = layer.folder / "board.db", layer.folder.parent / "said"
    create_ledger(path, "Cinder & Rye", "America/Denver", HOUSE).close()
    layer.settle()
    classes, error, times = WAYS[way]
    layer.refuse(at, classes, ERRORS[error], times)

    def job() -> None:
        enter()
        said = io.StringIO()
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
            code = cli.run([*COMMANDS[name], "--who", "Ada", "--ledger", str(path)])
        paper.write_text(said.getvalue())
        sys.exit(code)

    (code,) = hand.cut_off([hand.start(job)], SECONDS)
    met = layer.said("failed") > 0
    layer.settle()
    said = paper.read_text()
    with closing(sqlite3.connect(path)) as db:
        there = db.execute("SELECT count(*) FROM entries").fetchone()[0]
    wrong = check.complaints(path, {"Ada": check.Told(open=[1])}) + after.goes_on(path)
    untrue = (code == 0) != there and check.UNDECIDED not in said
    if code not in (0, 2) or untrue:
        wrong.append(f"{name} ended with {code}, {there} recorded: {said}")
    if any(word in said.casefold() for word in NEVER_SAID[:-1]):
        wrong.append(f"no plain line: {said}")
    return met, wrong


if __name__ == "__main__":
    run_under(["-m", "tests.faults.commands", *sys.argv[1:]])
    sys.exit(main())
