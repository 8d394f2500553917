"""Power cuts: python -m tests.faults.power [--rounds N] [--seed S] [--synchronous FULL|NORMAL|OFF]

Each round lets one to three hands write to a ledger on a disk that loses what was not synced, cuts the power
at one of the disk's operations, opens what is left, and looks whether all that was acknowledged is there.
With NORMAL or OFF in place of the program's own FULL it must find losses: that proves the proof.
"""

import argparse
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from random import Random

from board.errors import BoardError
from board.ledger import open as opening
from board.ledger.open import create_ledger, open_ledger
from tests.faults import acts, after, check, hand, power_cut
from tests.faults.layer import ERRORS, Class, Layer, enter, run_under
from tests.faults.table import Tally, print_table
from tests.ledger.by_hand import ZONE

SECONDS = 60.0  # no round takes so long; a hand that hangs is cut off
Work = Callable[[Path, Path, Random], None]


def scripted(path: Path, told: Path, _: Random) -> None:
    """The day from the script, from the making of the ledger on."""
    with create_ledger(path, "Cinder & Rye", ZONE, path.parent) as ledger:
        acts.perform(ledger, acts.a_day(), told.stem, told)


def at_random(path: Path, told: Path, luck: Random) -> None:
    """Any acts, leaving and coming back now and then."""
    for _ in range(3):
        with suppress(BoardError), open_ledger(path) as ledger:  # a disk that fails is told, and tried again
            some = [one for one, _ in zip(acts.anything(luck), range(12), strict=False)]
            acts.perform(ledger, some, told.stem, told)


@dataclass(frozen=True, slots=True)
class Way:
    """How many hands do what; how much of what was not synced lands; whether a sync fails before the cut."""

    work: Work
    hands: int = 1
    torn: bool = True
    failing: bool = False


OPERATIONS = 900  # of one hand that is not cut off, about
WAYS = {
    "a scripted day, nothing lands": Way(scripted, torn=False),
    "a scripted day, some lands": Way(scripted),
    "one hand, some lands": Way(at_random),
    "three hands, nothing lands": Way(at_random, hands=3, torn=False),
    "three hands, some lands": Way(at_random, hands=3),
    "a sync fails, then the power": Way(at_random, failing=True),
}


def main(arguments: list[str] | None = None) -> int:
    """Cut, look, print a table; 1 where anything was lost."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--synchronous", choices=("FULL", "NORMAL", "OFF"), default="FULL")
    parser.add_argument("--only", default="", help="rounds of the kinds that have this in their name")
    wanted = parser.parse_args(arguments)
    if wanted.synchronous != "FULL":
        sync_less(wanted.synchronous)
    layer, tallies = Layer(), {name: Tally() for name in WAYS if wanted.only in name}
    for number in range(wanted.rounds):
        name = list(tallies)[number % len(tallies)]
        one_round(layer, WAYS[name], Random(f"{wanted.seed}/{number}"), tallies[name])
    return print_table(f"power cuts, synchronous={wanted.synchronous}", tallies)


def one_round(layer: Layer, way: Way, luck: Random, tally: Tally) -> None:
    """Write, cut, look."""
    layer.fresh()
    path = layer.folder / "board.db"
    if way.work is at_random:
        after.found(path)
    before = check.rows_of(path)
    layer.settle()
    layer.arm(cut_at=luck.randint(1, OPERATIONS * way.hands), **(_failing(luck) if way.failing else {}))
    papers = [layer.folder.parent / f"hand-{n}.told" for n in range(way.hands)]
    ended = hand.cut_off([hand.start(job_of(way, path, paper, luck)) for paper in papers], SECONDS)
    power_cut.cut(layer, luck, torn=way.torn)
    hands = check.told(papers)
    wrong = check.complaints(path, hands, before) + after.goes_on(path)
    tally.take(hands, wrong + ["a hand ended in a traceback"] * (hand.IT_FELL in ended))


def _failing(luck: Random) -> dict[str, int]:
    return {
        "fail_at": luck.randint(1, OPERATIONS // 20),
        "fail_classes": Class.SYNC,
        "fail_errno": ERRORS["EIO"],
        "fail_times": luck.randint(1, 3),
    }


def job_of(way: Way, path: Path, paper: Path, luck: Random) -> Callable[[], None]:
    """What one hand does on the failing disk."""
    paper.write_text("")
    own = Random(luck.random())

    def job() -> None:
        enter()
        way.work(path, paper, own)

    return job


def sync_less(synchronous: str) -> None:
    """Have connections of this command sync less than the program asks for."""
    real = opening._connect

    def connect(path: Path) -> opening.Database:
        db = real(path)
        db.execute(f"PRAGMA synchronous = {synchronous}")
        return db

    opening._connect = connect


if __name__ == "__main__":
    run_under(["-m", "tests.faults.power", *sys.argv[1:]])
    sys.exit(main())
