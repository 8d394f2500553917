"""Disks that fail: python -m tests.faults.disk [--every N] [--work TEXT] [--only TEXT] [--lines]

A scripted day is worked once for each of the disk's operations, with that operation refused: each write,
sync, cut of a file, name and read, once or from there on, with the disk full (ENOSPC) or failing (EIO). Who
is told that something could not be recorded tries again; after three times the disk is put right. In the end
all that was acknowledged must be there, nothing half, nothing that was told as not recorded, and the ledger
must go on. In the same way a backup is put back, see refused_restore.py. `--lines` prints each line that was
told, and how often.
"""

import argparse
import json
import sys
from collections import Counter
from contextlib import suppress
from functools import partial
from itertools import count
from pathlib import Path

from board.errors import BoardError
from board.ledger import read
from board.ledger.open import Ledger, create_ledger, open_ledger
from tests.faults import acts, after, check, hand
from tests.faults.layer import ERRORS, Layer, enter, run_under
from tests.faults.refused_restore import one_restore
from tests.faults.restore import KINDS
from tests.faults.table import Tally, print_table
from tests.faults.ways import ENOUGH, WAYS, Way, unplain
from tests.ledger.by_hand import DAY, EVENING, ZONE

SECONDS = 60.0
TRIES = 3  # before the disk is put right


def main(arguments: list[str] | None = None) -> int:
    """Work the day for each operation refused, print a table; 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="only every N-th operation")
    parser.add_argument("--work", default="", help="only what has this in its name: day, restore")
    parser.add_argument("--only", default="", help="only the ways that have this in their name")
    parser.add_argument("--lines", action="store_true", help="print what was told")
    wanted = parser.parse_args(arguments)
    works = [name for name in WORKS if wanted.work in name]
    if not works:
        parser.error(f"--work: no work has {wanted.work} in its name")
    layer, lines, code = Layer(), Counter[str](), 0
    for work in works:
        tallies = {name: Tally() for name in WAYS if wanted.only in name}
        for name, tally in tallies.items():
            at = 1
            while WORKS[work](layer, WAYS[name], at, tally, lines) and len(tally.wrong) < ENOUGH:
                at += wanted.every
        code |= print_table(f"{work}, with one of the disk's operations refused", tallies)
    if wanted.lines:
        for line, times in lines.most_common():
            print(f"{times:>7}  {line}")
    return code


def one_day(layer: Layer, way: Way, at: int, tally: Tally, lines: Counter[str]) -> bool:
    """The day with one operation refused; whether the day was long enough to meet it."""
    layer.fresh()
    path, paper = layer.folder / "board.db", layer.folder.parent / "hand.told"
    paper.write_text("")
    layer.refuse(at, way.classes, ERRORS[way.error], way.times, short=way.short)
    ended = hand.cut_off([hand.start(lambda: work(layer, path, paper))], SECONDS)
    met = layer.said("failed") > 0
    layer.settle()
    hands = check.told([paper])
    wrong = check.complaints(path, hands) + after.goes_on(path) + lies(paper) + unplain(hands)
    if ended != [0]:
        wrong.append(f"the hand ended with {ended[0]}")
    tally.take(hands, [f"{line} (operation {at})" for line in wrong])
    lines.update(line.replace(str(layer.folder), "…") for told in hands.values() for line in told.lines)
    return met


def work(layer: Layer, path: Path, paper: Path) -> None:
    """The scripted day, by somebody who does not give up."""
    enter()
    with acts.paper(paper) as out:
        ledger = founded(layer, path, out)
        for number, one in enumerate(acts.a_day()):
            at = EVENING + number * acts.MINUTE / 2
            for attempt in count(1):
                if acts.attempt(out, one, ledger, "hand", at):
                    break
                if attempt == TRIES:
                    layer.put_right()
                elif attempt > TRIES:
                    raise RuntimeError(f"{one.name} is not taken though the disk is right")
            look(ledger)
        ledger.close()


def founded(layer: Layer, path: Path, out: int) -> Ledger:
    """The house's ledger, made or, where it was made in spite of what was told, opened."""
    for attempt in count(1):
        acts.say(out, {"who": "hand", "try": "found", "entries": 0})
        try:
            ledger = (
                open_ledger(path) if path.exists() else create_ledger(path, "Cinder & Rye", ZONE, path.parent)
            )
        except BoardError as error:
            acts.say(out, {"told": str(error)})
        else:
            acts.say(out, {"acknowledged": []})
            return ledger
        if attempt == TRIES:
            layer.put_right()
    raise AssertionError


def look(ledger: Ledger) -> None:
    """What a board asks between two acts; a disk that cannot be read is told."""
    with suppress(BoardError), ledger.reading():
        read.entries(ledger, since_seq=0)
        read.load_states(ledger, DAY)
        read.readings(ledger, place="north")
        read.current_plan(ledger, DAY)


def lies(paper: Path) -> list[str]:
    """Acts found recorded already at the second try, though the first was told as not recorded."""
    found, tried, last = [], "", ""
    for text in paper.read_text("utf-8").splitlines():
        line = json.loads(text)
        if line.get("already") and check.UNDECIDED not in last:
            found.append(f"told that it was not recorded, and it was: {tried}: {last}")
        tried = line.get("try", tried)
        last = line.get("told", "" if "acknowledged" in line else last)
    return found


WORKS = {
    "a scripted day": one_day,
    "board restore over a sound ledger": partial(one_restore, KINDS[0]),
    "board restore while a board is open": partial(one_restore, KINDS[1]),
    "board restore in place of a damaged one": partial(one_restore, KINDS[2]),
}


if __name__ == "__main__":
    run_under(["-m", "tests.faults.disk", *sys.argv[1:]])
    sys.exit(main())
