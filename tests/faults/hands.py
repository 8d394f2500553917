"""Many hands: python -m tests.faults.hands [--minutes M] [--seed S]

Eight people record whatever comes (readings, marks, sales, undos, plans, backups), as fast as each can, a
feed flushes once a second, and two boards read, all on one ledger. In the end the counts must be equal, each
one's entries in the order they were acknowledged, and what the readers saw must have grown from the front.
Printed for each: how many, how many a second, how long the median, the p99 and the slowest took. Backups,
which copy and go over the whole ledger, stand in a row of their own.
"""

import argparse
import json
import os
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from itertools import count
from pathlib import Path
from random import Random
from statistics import median, quantiles

from board.ledger import feeding, read
from board.ledger.open import open_ledger
from board.probes.reading import Fed
from tests.faults import acts, after, check, hand
from tests.ledger.by_hand import DAY, EVENING

PEOPLE = 8
READERS = 2
PROBES = 20


def main(arguments: list[str] | None = None) -> int:
    """Let them write and read, look, print a table; 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "board.db"
        after.found(path)
        before = check.rows_of(path)
        until = time.monotonic() + 60.0 * wanted.minutes
        people = [f"person {n + 1}" for n in range(PEOPLE)]
        work = [_person(path, folder, who, Random(f"{wanted.seed}/{who}"), until) for who in people]
        work += [_feed(path, folder, until)] + [_reader(path, folder, n, until) for n in range(READERS)]
        ended = hand.cut_off([hand.start(one) for one in work], 60.0 * wanted.minutes + 120.0)
        wrong = [f"a process ended with {code}" for code in ended if code]
        papers = [folder / f"{who}.told" for who in (*people, "feed")]
        hands = check.told(papers)
        wrong += check.complaints(path, hands, before) + _out_of_order(hands) + after.goes_on(path)
        _print(folder, people, hands, len(check.rows_of(path)), wrong)
    return int(bool(wrong))


def _person(path: Path, folder: Path, who: str, luck: Random, until: float) -> Callable[[], None]:
    """Any acts, one after the other without a pause."""

    def job() -> None:
        took: list[float] = []
        copying: list[float] = []
        with open_ledger(path) as ledger, acts.paper(folder / f"{who}.told") as out:
            for number, one in enumerate(acts.anything(luck, backups=0.1)):
                if time.monotonic() >= until:
                    break
                began = time.perf_counter()
                acts.attempt(out, one, ledger, who, EVENING + timedelta(seconds=number))
                (copying if one.name == "backup" else took).append(time.perf_counter() - began)
        (folder / f"{who}.took").write_text(json.dumps(took))
        (folder / f"{who}.copying").write_text(json.dumps(copying))

    return job


def _feed(path: Path, folder: Path, until: float) -> Callable[[], None]:
    """What twenty probes send, once a second."""

    def job() -> None:
        took = []
        with open_ledger(path) as ledger, acts.paper(folder / "feed.told") as out:
            for number in count():
                if time.monotonic() >= until:
                    break
                at = EVENING + timedelta(seconds=number)
                began = time.perf_counter()
                acts.attempt(out, acts.Act("feed", _flush), ledger, "feed", at)
                took.append(time.perf_counter() - began)
                time.sleep(max(0.0, 1.0 - took[-1]))
        (folder / "feed.took").write_text(json.dumps(took))

    return job


def _flush(ledger: acts.Ledger, said: acts.Said) -> list[acts.Entry]:
    at = said["noted_at"]
    sent = [Fed(f"p{n}", at, 100.0 + n / 10, place="north") for n in range(PROBES)]  # type: ignore[arg-type]
    done = feeding.take_fed(ledger, "feed", sent, noted_at=at)  # type: ignore[arg-type]
    return [done.entry] if done.entry else []


def _reader(path: Path, folder: Path, number: int, until: float) -> Callable[[], None]:
    """A board that asks a few times a second what has changed; what it has seen never changes."""

    def job() -> None:
        seen, took = 0, []
        with open_ledger(path) as ledger:
            while time.monotonic() < until:
                began = time.perf_counter()
                with ledger.reading():
                    new = read.entries(ledger, since_seq=seen)
                    new = sorted(e.seq for e in new + read.entries(ledger, since_seq=seen, kinds=["fed"]))
                    read.load_states(ledger, DAY)
                    read.open_steps(ledger, EVENING, EVENING + timedelta(hours=12))
                    last = read.data_version(ledger)[1]
                took.append(time.perf_counter() - began)
                if new != list(range(seen + 1, seen + 1 + len(new))) or last != seen + len(new):
                    raise RuntimeError(f"after entry {seen} the board saw {new[:5]}… up to {last}")
                seen += len(new)
                time.sleep(0.2)
        (folder / f"board {number + 1}.took").write_text(json.dumps(took))

    return job


def _out_of_order(hands: dict[str, check.Told]) -> list[str]:
    """Whose entries are not numbered in the order they were acknowledged; an act found done is not new."""
    found = []
    for who, said in hands.items():
        own = [row[0] for row in said.acknowledged if row[3] == who]
        new = list(dict.fromkeys(own))
        if new != sorted(new):
            found.append(f"{who}'s entries are not in the order they were acknowledged")
    return found


def _print(
    folder: Path, people: list[str], hands: dict[str, check.Told], entries: int, wrong: list[str]
) -> None:
    print(
        f"{os.cpu_count()} cores; {entries} entries; {sum(len(one.lines) for one in hands.values())} refused"
    )
    print(f"{'':<12}{'times':>8}{'a second':>10}{'median':>12}{'p99':>12}{'slowest':>12}")
    rows = {who: _times(folder / f"{who}.took") for who in (*people, "feed")}
    rows["backups"] = [seconds for who in people for seconds in _times(folder / f"{who}.copying")]
    rows |= {f"board {n + 1}": _times(folder / f"board {n + 1}.took") for n in range(READERS)}
    for who, took in rows.items():
        ms = [1000 * seconds for seconds in took]
        if len(ms) < 2:  # a short run may have no backup
            continue
        figures = (median(ms), quantiles(ms, n=100)[-1], max(ms))
        print(
            f"{who:<12}{len(ms):>8}{1000 * len(ms) / sum(ms):>10.1f}"
            + "".join(f"{n:>9.1f} ms" for n in figures)
        )
    for line, times in Counter(_kind(line) for one in hands.values() for line in one.lines).most_common(8):
        print(f"{times:>8}  {line}")
    print("\n".join(f"    {line}" for line in wrong) or "counts equal, order kept")


def _times(path: Path) -> list[float]:
    return [float(seconds) for seconds in json.loads(path.read_text())]


def _kind(line: str) -> str:
    """A line told without its numbers."""
    return "".join("#" if c.isdigit() else c for c in line)


if __name__ == "__main__":
    sys.exit(main())
