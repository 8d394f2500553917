"""What a feed costs a board that is open: each part of a renewal, with 20 probes for 24 h.

    python -m tests.bench.fed_board [--probes N] [--hours N]

Prints milliseconds, middle and worst of ten, on the demo's ledger without a feed and with one.
"""

import argparse
import math
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

from board.commands.demo import HOUSE, demo_ledger
from board.house.files import read_house
from board.house.model import House
from board.house.seeds import seed_house
from board.ledger import read
from board.ledger.feeding import take_fed
from board.ledger.open import Ledger
from board.probes.reading import Fed
from board.views.alarms import alarms
from board.views.gather import WALK_IN, gather
from board.views.opening import opening
from board.views.revising import fingerprint, revised

RUNS = 10


def main() -> None:
    """Print the table."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--probes", type=int, default=20)
    options.add_argument("--hours", type=int, default=24)
    asked = options.parse_args()
    folder = seed_house(HOUSE)
    house = read_house(folder)
    with tempfile.TemporaryDirectory() as place:
        ledger, now = demo_ledger(Path(place) / "board.db", house, folder, None)
        with ledger:
            print(f"{'':34}{'middle':>9}{'worst':>9}  ms")
            show("without a feed", ledger, house, now)
            count = fill(ledger, house, now, asked.probes, asked.hours)
            show(f"{count} readings of {asked.probes} probes", ledger, house, now)


def show(heading: str, ledger: Ledger, house: House, now: datetime) -> None:
    """What each part of a renewal takes."""
    print(heading)
    facts = gather(ledger, house, now)
    likely = revised(facts)
    for name, act in {
        "gather": lambda: gather(ledger, house, now),
        "fingerprint": lambda: fingerprint(facts),
        "opening": lambda: opening(facts, likely),
        "alarms": lambda: alarms(facts, likely),
        "revised, in the background": lambda: revised(facts),
    }.items():
        middle, worst = timed(act)
        print(f"  {name:32}{1000 * middle:9.1f}{1000 * worst:9.1f}")


def timed(act: Callable[[], object]) -> tuple[float, float]:
    """The middle and the worst of ten runs, in seconds."""
    took = []
    for _ in range(RUNS):
        began = time.perf_counter()
        act()
        took.append(time.perf_counter() - began)
    return statistics.median(took), max(took)


def fill(ledger: Ledger, house: House, now: datetime, probes: int, hours: int) -> int:
    """Feed readings of every pit, hold, the walk-in and the loads on the fire, a minute apart."""
    wanted = list(sources(ledger, house, now))[:probes]
    wanted += [(f"spare-{n}", None, None, 20.0, now) for n in range(probes - len(wanted))]
    count = 0
    for minute in range(hours * 60, 0, -1):
        at = now - timedelta(minutes=minute)
        fed = [
            Fed(name, at, c + 2 * math.sin(minute / 7 + n), place, *(load or (None, None)))
            for n, (name, place, load, c, since) in enumerate(wanted)
            if at >= since
        ]
        count += take_fed(ledger, "bench", fed, noted_at=at).kept
    return count


def sources(ledger: Ledger, house: House, now: datetime) -> Iterator[tuple]:
    """A probe of each place and of each load that is on, with its usual °C."""
    long_ago = now - timedelta(days=9)
    for id, pit in house.pits.items():
        yield f"{id}-air", id, None, sum(pit.setpoint_c) / 2, long_ago
    for id, hold in house.holds.items():
        if hold.setpoint_c is not None:
            yield f"{id}-air", id, None, hold.setpoint_c, long_ago
    yield "walk-in", WALK_IN, None, 3.0, long_ago
    for load in read.load_states(ledger, now.date() - timedelta(days=1), now.date() + timedelta(days=1)):
        if load.on_at is not None:
            yield f"{load.id}-core", None, (load.id, load.day), 70.0, load.on_at


if __name__ == "__main__":
    main()
