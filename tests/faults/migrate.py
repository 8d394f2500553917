"""Old ledgers opened under faults: python -m tests.faults.migrate [--rounds N] [--every N] [--ledger TEXT]

Every kept ledger of an old version (as it was closed, all in the log that a killed program left, or as a
backup put there by hand) is opened, which backs it up and migrates it. The opening is killed with -9 at any
moment; two boards open it at once, also with one of them killed; the power goes at any of the disk's
operations; each of the disk's operations is refused in turn. What is left is the ledger as it was, or
migrated with a whole backup of what it was; the next opening ends migrated, and the doctor finds nothing.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from random import Random

from board.errors import BoardError
from board.ledger.open import open_ledger
from tests.faults import check, hand, old, power_cut
from tests.faults.layer import ERRORS, Class, Kind, Layer, enter, run_under
from tests.faults.old import Old
from tests.faults.power import sync_less
from tests.faults.table import Tally, print_table
from tests.faults.ways import ENOUGH, WAYS, Way, unplain

SECONDS = 60.0  # no opening takes so long
SOON = 0.01  # until two begin at the same moment
LONGEST = 1.2  # of the time that an opening takes undisturbed
SYNCS = 12  # of an opening, about
OPENED = "opened"


@dataclass(slots=True)
class Came:
    """What came of the rounds of one kind, and how far the ledgers were when the fault was over."""

    tally: Tally = field(default_factory=Tally)
    ends: Counter[str] = field(default_factory=Counter)


@dataclass(frozen=True, slots=True)
class Opening:
    """An old ledger, and how long its opening takes undisturbed, of how many of the disk's operations."""

    old: Old
    seconds: float
    operations: int
    turns: list[int]  # those that are no writes: what they settle is most at stake there


class Bench:
    """The failing disk, a place on it for an old ledger, and a paper beyond it for each of two openers."""

    def __init__(self, layer: Layer) -> None:
        self.layer, self.path = layer, layer.folder / "board.db"
        self.papers = [layer.folder.parent / f"opener-{n}.told" for n in range(2)]
        self._openings: dict[tuple[Path, old.Shape], Opening] = {}

    def opening(self, file: Path, shape: old.Shape) -> Opening:
        """A kept ledger in a shape, measured once."""
        if (file, shape) not in self._openings:
            one = old.made(file, shape)
            self.lay(one)
            began = time.monotonic()
            assert self.open(1) == [0]
            taken, done = time.monotonic() - began - SOON, self.layer.operations()
            turns = [number for number, each in enumerate(done, 1) if each.kind is not Kind.WRITE]
            self._openings[file, shape] = Opening(one, taken, len(done), turns)
        return self._openings[file, shape]

    def lay(self, one: Old) -> None:
        """Put an old ledger on a disk that does not fail."""
        self.layer.fresh()
        old.lay(one, self.path)
        self.layer.settle()
        for paper in self.papers:
            paper.write_text("")

    def open(self, openers: int, seconds: float = SECONDS) -> list[int]:
        """Have some open the ledger at the same moment, cut off after so long; how each ended."""
        return hand.cut_off(self.start(openers), seconds + SOON)

    def start(self, openers: int) -> list[int]:
        """Processes that open the ledger at the same moment."""
        at = time.monotonic() + SOON
        return [hand.start(_opener(self.path, paper, at)) for paper in self.papers[:openers]]

    def said(self) -> list[str]:
        """What each opener said: how it went, nothing where it was cut off."""
        return [paper.read_text() for paper in self.papers]


Round = Callable[[Bench, Opening, Random, Came], None]


def main(arguments: list[str] | None = None) -> int:
    """Open, disturb, look, print a table; 1 where anything was wrong."""
    wanted = _options().parse_args(arguments)
    if wanted.synchronous != "FULL":
        sync_less(wanted.synchronous)
    bench, kept = Bench(Layer()), old.kept(wanted.ledger)
    came = {name: Came() for name in KINDS if any(part in name for part in wanted.only)}
    for name, one in came.items():
        if name in REFUSED:
            refused(bench, kept, REFUSED[name], wanted.every, one)
            continue
        shuffled = Random(wanted.seed).sample(kept, len(kept))
        for number in range(wanted.rounds):
            opening = bench.opening(*shuffled[number % len(kept)])
            DRAWN[name](bench, opening, Random(f"{wanted.seed}/{name}/{number}"), one)
    code = print_table("old ledgers as they are opened", {name: one.tally for name, one in came.items()})
    for name, one in came.items():
        print(f"    {name}: {', '.join(f'{times} {end}' for end, times in sorted(one.ends.items()))}")
    return code


def _options() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=500, help="of each kind that is drawn [500]")
    parser.add_argument("--every", type=int, default=1, help="refuse only every N-th operation")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--only", nargs="+", default=[""], help="only kinds that have one of these in their names"
    )
    parser.add_argument("--ledger", default="", help="only ledgers that have this in their name: 07, closed")
    parser.add_argument("--synchronous", choices=("FULL", "NORMAL", "OFF"), default="FULL")
    return parser


def _opener(path: Path, paper: Path, at: float) -> Callable[[], None]:
    """Who opens the ledger at a moment and says how it went; open, it is told at once."""

    def job() -> None:
        enter()
        time.sleep(max(0.0, at - time.monotonic()))
        try:
            open_ledger(path)
        except BoardError as error:
            paper.write_text(str(error))
        else:
            paper.write_text(OPENED)

    return job


def killed(bench: Bench, opening: Opening, luck: Random, came: Came) -> None:
    """One opener, killed at a random moment."""
    bench.lay(opening.old)
    _look(bench, opening.old, came, bench.open(1, luck.uniform(0, LONGEST * opening.seconds)))


def at_once(bench: Bench, opening: Opening, luck: Random, came: Came) -> None:
    """Two open it at the same moment: both have it open, and one backup is made."""
    bench.lay(opening.old)
    ended = bench.open(2)
    wrong = [f"it was not opened: {said}" for said in bench.said() if said != OPENED]
    if (backups := len(old.backups(bench.path))) != 1:
        wrong.append(f"there are {backups} backups")
    _look(bench, opening.old, came, ended, wrong)


def at_once_one_killed(bench: Bench, opening: Opening, luck: Random, came: Came) -> None:
    """Two open it at the same moment and the first is killed: the second has it open all the same."""
    bench.lay(opening.old)
    first, second = bench.start(2)
    hand.cut_off([first], SOON + luck.uniform(0, LONGEST * opening.seconds))
    ended = hand.cut_off([second], SECONDS)
    said = bench.said()[1]
    _look(bench, opening.old, came, ended, [f"it was not opened: {said}"] * (said != OPENED))


def _power(openers: int, *, torn: bool, failing: bool = False) -> Round:
    """The power goes at one of the operations, or when the opening is over; or syncs fail before."""

    def one_round(bench: Bench, opening: Opening, luck: Random, came: Came) -> None:
        bench.lay(opening.old)
        anywhere = luck.randint(1, opening.operations + opening.operations // 10)
        cut_at = luck.choice((anywhere, luck.choice(opening.turns)))
        bench.layer.arm(cut_at=cut_at, **(_failing(luck) if failing else {}))
        ended = bench.open(openers)
        power_cut.cut(bench.layer, luck, torn=torn)
        _look(bench, opening.old, came, ended)

    return one_round


def _failing(luck: Random) -> dict[str, int]:
    return {
        "fail_at": luck.randint(1, SYNCS),
        "fail_classes": Class.SYNC,
        "fail_errno": ERRORS["EIO"],
        "fail_times": luck.randint(1, 3),
    }


def refused(bench: Bench, kept: Sequence[tuple[Path, old.Shape]], way: Way, every: int, came: Came) -> None:
    """Each operation of each opening refused; or every N-th, beginning elsewhere with each ledger."""
    for number, which in enumerate(kept):
        one = bench.opening(*which).old
        for at in count(1 + number % every, every):
            bench.lay(one)
            bench.layer.refuse(at, way.classes, ERRORS[way.error], way.times, short=way.short)
            ended = bench.open(1)
            is_met = bench.layer.said("failed") > 0
            bench.layer.settle()
            said = bench.said()[0]
            plain = unplain({"opener": check.Told(lines=[said])}) if said != OPENED else []
            _look(bench, one, came, ended, plain, f" (operation {at})")
            if not is_met or len(came.tally.wrong) >= ENOUGH:
                break


def _look(
    bench: Bench, one: Old, came: Came, ended: Sequence[int], wrong: Sequence[str] = (), where: str = ""
) -> None:
    """Look at what is left, and count it."""
    opened = OPENED in bench.said()
    end, found = old.complaints(one, bench.path, opened=opened)
    fell = ["an opener ended in a traceback"] * (hand.IT_FELL in ended)
    came.ends[end] += 1
    told = check.Told(acknowledged=[[OPENED]] * opened)
    came.tally.take({"opener": told}, [f"{one.name}: {line}{where}" for line in (*wrong, *found, *fell)])


DRAWN: dict[str, Round] = {
    "killed": killed,
    "two at once": at_once,
    "two at once, one of them killed": at_once_one_killed,
    "the power goes, nothing lands": _power(1, torn=False),
    "the power goes, some lands": _power(1, torn=True),
    "two at once, the power goes": _power(2, torn=True),
    "a sync fails, then the power": _power(1, torn=True, failing=True),
}
REFUSED = {f"refused: {name}": way for name, way in WAYS.items()}
KINDS = (*DRAWN, *REFUSED)


if __name__ == "__main__":
    run_under(["-m", "tests.faults.migrate", *sys.argv[1:]])
    sys.exit(main())
