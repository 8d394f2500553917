"""How fast the ledger is: python tests/bench/ledger.py [--readings N] [--marks N]

Prints the time of a durable mark, of the Opening view's reads over a new and over a five-year ledger, of a
search through it, and of readings written one by one and a hundred to a commit.
"""

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).parents[2]))

from board.ledger import read, search, write
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import LoadStage
from board.ledger.times import moment
from board.ledger.uptime import Uptime
from tests.ledger.by_hand import LOADED, ZONE, brisket, plan

MINUTE = timedelta(minutes=1)
STAGES = (LoadStage.ON, LoadStage.WRAPPED, LoadStage.PULLED, LoadStage.HOLDING, LoadStage.SERVED)
LOADS_A_DAY = 4


def main() -> None:
    """Build, measure, print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--readings", type=int, default=200_000)
    parser.add_argument("--marks", type=int, default=40_000)
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        with create_ledger(Path(folder) / "small.db", "Cinder & Rye", ZONE, Path(folder)) as small:
            last = build(small, days=2, readings=200, marks=40)
            table("Opening's reads, 2 days", timed(lambda _: opening(small, last), 100))
            table("durable notes", timed(lambda n: note(small, last, n), 300))
            table("durable readings", timed(lambda n: reading(small, last, n), 300))
            rate("readings, 100 a commit", in_batches(small, last, 5_000), 5_000)
        with create_ledger(Path(folder) / "large.db", "Cinder & Rye", ZONE, Path(folder)) as large:
            began = time.perf_counter()
            days = 5 * 365
            last = build(large, days=days, readings=wanted.readings, marks=wanted.marks)
            size = large.path.stat().st_size / 1e6
            count = read.data_version(large)[1]
            print(f"five years: {count} entries, {size:.0f} MB, built in {time.perf_counter() - began:.0f} s")
            table("Opening's reads, five years", timed(lambda _: opening(large, last), 100))
            table("durable readings, five years", timed(lambda n: reading(large, last, n), 300))
            table("durable marks, five years", timed(marks(large, last), 4 * LOADS_A_DAY))
            table("undo of a reading, five years", timed(lambda n: undo(large, last, n), 100))
            for typed in ("wind", "chimney"):
                found = timed(lambda _, typed=typed: search.entries_with(large, typed, limit=40), 30)
                table(f"what was written with “{typed}”, five years", found)
            table("has anything changed?", timed(lambda _: read.data_version(large), 1000))


def build(ledger: Ledger, days: int, readings: int, marks: int, first: datetime = LOADED) -> datetime:
    """Fill a ledger with days of plans, marks and readings; the moment of the last evening's loading."""
    a_day, marks_a_day = readings // days, marks // days
    ledger.uptime = partial(count_told, ledger)  # type: ignore[method-assign]
    for n in range(days):
        load_at = first + timedelta(days=n)
        with ledger.writing():
            commit(ledger, load_at)
            for k in range(marks_a_day):
                say(ledger, load_at, k)
            for k in range(a_day):
                reading(ledger, load_at, k)
    commit(ledger, load_at + timedelta(days=1))
    return load_at + timedelta(days=1)


def count_told(ledger: Ledger) -> Uptime:
    """The count of a machine whose clock shows the times that are told: nobody ever set it."""
    row = ledger.row("SELECT noted_at FROM entries ORDER BY seq DESC LIMIT 1")
    assert row is not None
    return Uptime("bench", round(1_000 * moment(row["noted_at"]).timestamp()))


def commit(ledger: Ledger, load_at: datetime) -> None:
    """Plan four loads for the day that starts that evening."""
    day = day_of(load_at)
    loads = [replace(brisket(f"{day:%m%d}-{k}", load_at), cut=f"cut {k}") for k in range(LOADS_A_DAY)]
    at = load_at - timedelta(hours=2)
    write.commit_plan(ledger, plan(*loads, day=day), who="Ada", at=at, noted_at=at)
    for pit in ("north", "south"):
        write.light(ledger, pit, 100.0 + day.day, who="Ada", at=at, noted_at=at)


def day_of(load_at: datetime) -> date:
    """The day that is cooked for on an evening."""
    return (load_at + timedelta(hours=12)).date()


def say(ledger: Ledger, load_at: datetime, k: int) -> None:
    """The day's k-th mark: each load through its stages, then notes."""
    load, stage = k % LOADS_A_DAY, k // LOADS_A_DAY
    at = load_at + timedelta(hours=stage)
    said = {"who": "Ines", "at": at, "noted_at": at}
    if stage < len(STAGES):
        write.mark_load(ledger, f"{day_of(load_at):%m%d}-{load}", STAGES[stage], **said)
    elif k == len(STAGES) * LOADS_A_DAY:
        write.handover(ledger, "all well", **said)
    else:
        write.note(ledger, "wind from the west", **said)


def note(ledger: Ledger, load_at: datetime, n: int) -> None:
    """One note."""
    at = load_at + n * MINUTE
    write.note(ledger, "wind from the west", about="north", who="Ines", at=at, noted_at=at)


def reading(ledger: Ledger, load_at: datetime, n: int) -> None:
    """One reading, of the pit and of a load in turn."""
    at = load_at + n * 5 * MINUTE
    load = f"{day_of(load_at):%m%d}-0" if n % 2 else None
    place = None if load else "north"
    write.take_reading(ledger, 100.0 + n % 20, place=place, load=load, who="probe", at=at, noted_at=at)


def marks(ledger: Ledger, load_at: datetime) -> Callable[[int], None]:
    """Marks of the last day's loads, the stages one after the other."""
    return lambda k: say(ledger, load_at, k)


def undo(ledger: Ledger, load_at: datetime, n: int) -> None:
    """Take back the probe's last reading."""
    at = load_at + timedelta(days=2) + n * MINUTE
    write.undo(ledger, who="probe", at=at, noted_at=at)


def opening(ledger: Ledger, load_at: datetime) -> None:
    """What the Opening view asks: since the handover, to do, on the pits, batches, promises, sales."""
    day, now = day_of(load_at), load_at + timedelta(hours=10)
    with ledger.reading():
        read.last_handover(ledger)
        read.entries(
            ledger, since=now - timedelta(hours=9), until=now, kinds=("load", "step", "note", "batch")
        )
        read.open_steps(ledger, now - timedelta(hours=6), now + timedelta(hours=6))
        read.load_states(ledger, day, day + timedelta(days=1))
        read.pit_states(ledger)
        read.batch_states(ledger, day, day + timedelta(days=7))
        read.readings(ledger, load=f"{day:%m%d}-0", day=day)
        read.promises(ledger, day)
        read.sold(ledger, day)
        read.current_plan(ledger, day)


def in_batches(ledger: Ledger, load_at: datetime, count: int) -> float:
    """Seconds for so many readings, a hundred to a commit."""
    began = time.perf_counter()
    for start in range(0, count, 100):
        with ledger.writing():
            for n in range(start, start + 100):
                at = load_at + n * timedelta(seconds=1)
                write.take_reading(ledger, 100.0, place="north", who="probe", at=at, noted_at=at)
    return time.perf_counter() - began


def timed(do: Callable[[int], object], times: int) -> list[float]:
    """Milliseconds of each call."""

    def each() -> Iterator[float]:
        for n in range(times):
            began = time.perf_counter()
            do(n)
            yield 1000 * (time.perf_counter() - began)

    return list(each())


def table(what: str, ms: list[float]) -> None:
    """One line: median and 99th percentile."""
    print(
        f"{what:<36} median {median(ms):7.3f} ms   p99 {quantiles(ms, n=100)[-1]:7.3f} ms   ({len(ms)} times)"
    )


def rate(what: str, seconds: float, count: int) -> None:
    """One line: how many a second."""
    print(f"{what:<36} {count / seconds:7.0f} a second")


if __name__ == "__main__":
    print(f"{datetime.now(UTC):%Y-%m-%d}, Python {sys.version.split()[0]}")
    main()
