"""Killed programs: python -m tests.faults.kill [--rounds N] [--seed S]

Each round has four processes write to a ledger (two boards' hands, a `board reading` after the other, and one
that makes a new ledger), kills all of them with -9 at a random moment, and looks whether all that was
acknowledged is there and the ledger goes on.
"""

import argparse
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Callable
from itertools import count
from pathlib import Path
from random import Random

from board import cli
from board.ledger.open import open_ledger
from tests.faults import acts, after, check, hand
from tests.faults.table import Tally, print_table

LONGEST = 0.25  # seconds until the kill
ROUNDS_OF_A_LEDGER = 20
PRINTED = re.compile(rb"\(entry (\d+)\)")


def main(arguments: list[str] | None = None) -> int:
    """Kill, look, print a table; 1 where anything was lost."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args(arguments)
    old, new = Tally(), Tally()
    with tempfile.TemporaryDirectory() as folder:
        for number in range(wanted.rounds):
            one_round(Path(folder), number, Random(f"{wanted.seed}/{number}"), old, new)
    return print_table("killed with -9", {"two boards and a command": old, "a ledger as it is made": new})


def one_round(folder: Path, number: int, luck: Random, old: Tally, new: Tally) -> None:
    """Write, kill, look; the ledger goes on through some rounds."""
    path, made = folder / "board.db", folder / "new" / "board.db"
    papers, printed = [folder / f"hand {n}.told" for n in range(2)], folder / "printed"
    if number % ROUNDS_OF_A_LEDGER == 0:
        for name in folder.glob("board.db*"):
            name.unlink() if name.is_file() else shutil.rmtree(name)
        after.found(path)
    shutil.rmtree(made.parent, ignore_errors=True)
    made.parent.mkdir()
    before = check.rows_of(path)
    for paper in (*papers, printed, folder / "new.told"):
        paper.write_bytes(b"")
    work = [_hand(path, paper, Random(luck.random()), number) for paper in papers]
    work += [_command(path, printed, number), _maker(made, folder / "new.told")]
    ended = hand.cut_off([hand.start(one) for one in work], luck.uniform(0.005, LONGEST))
    hands = check.told(papers)
    hands[f"command of {number}"] = _commanded(path, printed, number)
    fell = ["a hand ended in a traceback"] * (hand.IT_FELL in ended)
    old.take(hands, check.complaints(path, hands, before) + after.goes_on(path) + fell)
    maker = check.told([folder / "new.told"])
    new.take(maker, check.complaints(made, maker) + after.goes_on(made))


def _hand(path: Path, paper: Path, luck: Random, number: int) -> Callable[[], None]:
    """Any acts without an end; each round's people have names of their own."""

    def job() -> None:
        with open_ledger(path) as ledger:
            acts.perform(ledger, acts.anything(luck), f"{paper.stem} of {number}", paper)

    return job


def _command(path: Path, printed: Path, number: int) -> Callable[[], None]:
    """`board reading` over and over, as it is; its sentences go to a file, its word on no house nowhere."""

    def job() -> None:
        os.dup2(os.open(printed, os.O_WRONLY | os.O_APPEND), 1)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
        for n in count():
            said = ["reading", "north", f"{200 + n % 50} F", "--who", f"command of {number}"]
            if cli.run([*said, "--ledger", str(path)]):
                raise RuntimeError("a reading was refused")
            sys.stdout.flush()

    return job


def _maker(path: Path, paper: Path) -> Callable[[], None]:
    """A house's ledger and its first day, from nothing."""

    def job() -> None:
        after.found(path)
        with open_ledger(path) as ledger:
            acts.perform(ledger, acts.a_day(), "new", paper)

    return job


def _commanded(path: Path, printed: Path, number: int) -> check.Told:
    """What the command acknowledged in this round, and that one more reading of it may be there."""
    seqs = {int(seq) for seq in PRINTED.findall(printed.read_bytes())}
    rows = [row for row in check.rows_of(path) if row[3] == f"command of {number}"]
    kept = [row for row in rows if row[0] in seqs]
    missing = [[seq] for seq in seqs - {row[0] for row in kept}]
    return check.Told(acknowledged=kept + missing, open=[1])


if __name__ == "__main__":
    sys.exit(main())
