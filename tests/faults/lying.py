"""Disks that lie: python -m tests.faults.lying [--rounds N] [--seed S]

Each round lets a hand write to a ledger on a disk whose last syncs before the power goes said that all was
written, and of which any part is lost. Nothing can be promised there. What is counted is whether the doctor,
or the opening, finds it: an entry lost, changed or half there, a state or a backup that does not follow. What
neither can find is a record that ends sooner and is whole up to there; 1 where anything else goes unseen.
"""

import argparse
import sys
from collections import Counter
from pathlib import Path
from random import Random

from board.errors import BoardError
from board.ledger.doctor.examine import examine
from tests.faults import after, check, hand, power_cut
from tests.faults.layer import Layer, run_under
from tests.faults.power import OPERATIONS, SECONDS, Way, at_random, job_of

KINDS = {"the last sync": 1, "the last five": 5, "the last forty": 40, "all of them": 1_000_000}
OUTCOMES = ("nothing lost", "found by opening", "found by the doctor", "ends sooner", "MISSED")


def main(arguments: list[str] | None = None) -> int:
    """Write, lie, cut, look, print a table; 1 where anything but an earlier end went unseen."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args(arguments)
    layer, ends, missed = Layer(), {kind: Counter[str]() for kind in KINDS}, []
    for number in range(wanted.rounds):
        kind = list(KINDS)[number % len(KINDS)]
        outcome, wrong = one_round(layer, KINDS[kind], Random(f"{wanted.seed}/{number}"))
        ends[kind][outcome] += 1
        missed += [f"    {kind}: {line} (round {number})" for line in wrong if outcome == OUTCOMES[-1]]
    print("syncs that were lies, then the power")
    print(f"{'':<16}" + "".join(f"{outcome:>21}" for outcome in OUTCOMES))
    for kind, counted in ends.items():
        print(f"{kind:<16}" + "".join(f"{counted[outcome]:>21}" for outcome in OUTCOMES))
    print("\n".join(missed[:10]), end="\n" if missed else "")
    return int(bool(missed))


def one_round(layer: Layer, lies: int, luck: Random) -> tuple[str, list[str]]:
    """Write, lie, cut: what was found of it, and what an independent look finds."""
    layer.fresh()
    path, paper = layer.folder / "board.db", layer.folder.parent / "hand-0.told"
    after.found(path)
    layer.settle()
    layer.arm(cut_at=luck.randint(OPERATIONS // 10, OPERATIONS))
    hand.cut_off([hand.start(job_of(Way(at_random), path, paper, luck))], SECONDS)
    power_cut.cut(layer, luck, torn=True, lies=lies)
    try:
        is_found = not examine(path).sound
    except BoardError:
        return "found by opening", []
    if is_found:
        return "found by the doctor", []
    wrong = check.complaints(path, check.told([paper]))
    if not wrong:
        return "nothing lost", []
    return "ends sooner" if all(_is_of_the_end(line, path, paper) for line in wrong) else "MISSED", wrong


def _is_of_the_end(line: str, path: Path, paper: Path) -> bool:
    """Whether a complaint is but of entries beyond the last that is there, and all up to it are as told."""
    rows = {row[0]: row for row in check.rows_of(path)}
    told = [row for one in check.told([paper]).values() for row in one.acknowledged]
    return line.startswith("lost of") and all(rows.get(row[0], row) == row for row in told)


if __name__ == "__main__":
    run_under(["-m", "tests.faults.lying", *sys.argv[1:]])
    sys.exit(main())
