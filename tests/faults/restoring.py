"""Power cuts while a backup is put back: python -m tests.faults.restoring [--rounds N] [--seed S]

A ledger of some entries is backed up and goes on; then the backup is restored, over the sound ledger or over
one whose first page is gone, and the power goes at one of the disk's operations. What is left must be the
ledger as it was or the backup with the entry that tells of the restore, sound and going on; where the old one
was damaged, restoring again must bring the backup.
"""

import argparse
import sys
from datetime import UTC, timedelta
from itertools import islice
from pathlib import Path
from random import Random

from board.ledger.backups.catalogue import back_up
from board.ledger.backups.named import Kind
from board.ledger.backups.restore import restore
from board.ledger.open import open_ledger
from board.ledger.typed import Said
from tests.faults import acts, after, check, hand, power_cut
from tests.faults.layer import Layer, enter, run_under
from tests.faults.table import Tally, print_table
from tests.ledger.by_hand import EVENING

SECONDS = 60.0
WAYS = ("over a sound ledger", "over a damaged ledger")
OPERATIONS = {WAYS[0]: 370, WAYS[1]: 62}  # of a restore, about


def main(arguments: list[str] | None = None) -> int:
    """Cut, look, print a table; 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args(arguments)
    layer, tallies = Layer(), {way: Tally() for way in WAYS}
    for number in range(wanted.rounds):
        way = WAYS[number % len(WAYS)]
        wrong = one_round(layer, way, Random(f"{wanted.seed}/{number}"))
        tallies[way].take({}, wrong)
    return print_table("the power cut while a backup is put back", tallies)


def one_round(layer: Layer, way: str, luck: Random) -> list[str]:
    """Restore, cut, look."""
    layer.fresh()
    path, paper = layer.folder / "board.db", layer.folder.parent / "hand.told"
    after.found(path)
    _go_on(path, luck, paper)
    backup = back_up(path, Kind.ASKED, EVENING, UTC).path
    backed_up = check.rows_of(path)
    _go_on(path, luck, paper)
    whole = check.rows_of(path)
    if way == WAYS[1]:
        with path.open("r+b") as file:
            file.write(bytes(4096))
    layer.settle()
    layer.arm(cut_at=luck.randint(1, OPERATIONS[way]))

    def job() -> None:
        enter()
        put_back(path, backup)

    (ended,) = hand.cut_off([hand.start(job)], SECONDS)
    power_cut.cut(layer, luck, torn=luck.random() < 0.8)
    wrong = [f"the restore ended with {ended}"] if ended not in (0, -9) else []
    if way == WAYS[1] and not _is(path, backed_up):
        put_back(path, backup, later=True)
    if way == WAYS[0] and ended and check.rows_of(path) == whole:
        return wrong + check.complaints(path, {}, whole) + after.goes_on(path)
    if not _is(path, backed_up):
        wrong.append("it is neither as it was nor the backup with the restore told")
    return wrong + check.complaints(path, {}, backed_up) + after.goes_on(path)


def put_back(path: Path, backup: Path, *, later: bool = False) -> None:
    """Restore as the command does."""
    at = EVENING + timedelta(hours=2 if later else 1)
    restore(path, backup, Said("Max", at, at))


def _is(path: Path, backed_up: list[list[object]]) -> bool:
    """Whether a ledger is the backup and one entry more that tells of it."""
    try:
        open_ledger(path).close()  # what was about to be put in place is
        rows = check.rows_of(path)
    except Exception:
        return False
    return rows[:-1] == backed_up and rows[-1][4] == "restored"


def _go_on(path: Path, luck: Random, paper: Path) -> None:
    with open_ledger(path) as ledger:
        some = (one for one in acts.anything(luck) if one.name != "backup")
        acts.perform(ledger, islice(some, 12), "Ines", paper)


if __name__ == "__main__":
    run_under(["-m", "tests.faults.restoring", *sys.argv[1:]])
    sys.exit(main())
