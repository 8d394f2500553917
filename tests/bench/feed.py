"""How fast a feed is, what it takes on disk, and how soon a reading is there for the boards beside.

`python -m tests.bench.feed` prints a table: 100 probes once a second, an hour of it as fast as it goes and
then a minute as it comes, all kept and thinned out as houses usually do; `--minutes 60` has the second last
an hour. Beside the one that comes in real time a board gathers its facts whenever the ledger has changed,
and a hand writes a note every second.
"""

import argparse
import math
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random
from threading import Event, Thread

from board.house.files import read_house
from board.ledger import read
from board.ledger.open import create_ledger, open_ledger
from board.ledger.write import note
from board.views.gather import gather

PROBES = 100
HOUR = 3600
SEED = Path(__file__).parents[2] / "seeds" / "tallow_row"
KEEP_ALL = '\n[feed]\nkeep_every = "0 min"\n'


@dataclass(slots=True)
class Beside:
    """What boards and hands beside a feed have of it, in seconds."""

    lags: list[float] = field(default_factory=list)
    gathers: list[float] = field(default_factory=list)
    writes: list[float] = field(default_factory=list)


def made(folder: Path, *, thins: bool) -> Path:
    """A ledger of a house with a hundred probes: half in the air of its pits, half in meat."""
    house = folder / "house"
    shutil.copytree(SEED, house)
    places = ('reads = "meat"', 'place = "north"', 'reads = "meat"', 'place = "south"')
    tables = [f'[p{n}]\nunit = "C"\n{places[(n + 1) % 4]}\n' for n in range(PROBES)]
    (house / "probes.toml").write_text("\n".join(tables), encoding="utf-8")
    if not thins:
        with (house / "house.toml").open("a", encoding="utf-8") as file:
            file.write(KEEP_ALL)
    known = read_house(house)
    create_ledger(house / "board.db", known.name, known.zone, house).close()
    return house / "board.db"


def sent(second: int, at: datetime, drawn: Random) -> Iterator[str]:
    """What all probes send in one second: pits that swing and shiver, meat that warms slowly."""
    for n in range(PROBES):
        swing = 60 + second / 240 if n % 2 else 110 + 6 * math.sin(second / 300 + n)
        yield f"p{n} {swing + drawn.gauss(0, 0.15):.2f} C {at.isoformat()}\n"


def fed(ledger: Path) -> "subprocess.Popen[str]":
    """`board feed --stdin` beside us."""
    command = [sys.executable, "-m", "board", "feed", "--stdin", "--ledger", str(ledger)]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def as_fast_as_it_goes(*, thins: bool) -> None:
    """An hour's worth at once."""
    with tempfile.TemporaryDirectory() as name:
        ledger, drawn = made(Path(name), thins=thins), Random(1)
        since = datetime.now(UTC) - timedelta(hours=2)
        lines = ["".join(sent(second, since + timedelta(seconds=second), drawn)) for second in range(HOUR)]
        process = fed(ledger)
        assert process.stdin is not None
        began = time.perf_counter()
        for line in lines:
            process.stdin.write(line)
        _, told = process.communicate()
        seconds = time.perf_counter() - began
        rate = PROBES * HOUR / seconds
        print(f"{_name(thins)}  an hour at once   {seconds:6.1f} s  {rate:8.0f} readings/s  {_size(ledger)}")
        print(f"    {told.strip()}")


def as_it_comes(minutes: float, *, thins: bool) -> None:
    """In real time, with a board and a hand beside."""
    with tempfile.TemporaryDirectory() as name:
        ledger, drawn, beside, stop = made(Path(name), thins=thins), Random(1), Beside(), Event()
        threads = [Thread(target=job, args=(ledger, beside, stop)) for job in (_board, _hand)]
        process = fed(ledger)
        assert process.stdin is not None
        for thread in threads:
            thread.start()
        began = time.monotonic()
        for second in range(round(60 * minutes)):
            time.sleep(max(0.0, began + second - time.monotonic()))
            process.stdin.write("".join(sent(second, datetime.now(UTC), drawn)))
            process.stdin.flush()
        _, told = process.communicate()
        behind = time.monotonic() - began - 60 * minutes + 1
        stop.set()
        for thread in threads:
            thread.join()
        print(f"{_name(thins)}  {minutes:g} min as it comes  {_size(ledger)}, done in {behind:.1f} s more")
        print(f"    {told.strip()}")
        print(f"    there after  {_spread(beside.lags)}")
        print(f"    gathered in  {_spread(beside.gathers)}")
        print(f"    a note in    {_spread(beside.writes)}")


def _board(path: Path, beside: Beside, stop: Event) -> None:
    """Gather whenever the ledger has changed, and see how old the newest reading is when it first shows."""
    newest = ""
    with open_ledger(path) as ledger:
        assert ledger.house is not None
        house, seen = read_house(Path(ledger.house.folder)), read.data_version(ledger)
        while not stop.wait(0.02):
            version = read.data_version(ledger)
            if version == seen:
                continue
            seen = version
            latest = ledger.rows("SELECT max(at) AS at FROM fed WHERE probe = 'p0'")[0]["at"] or ""
            if latest > newest:
                newest = latest
                beside.lags.append((datetime.now(UTC) - datetime.fromisoformat(latest)).total_seconds())
            began = time.perf_counter()
            gather(ledger, house, datetime.now(UTC))
            beside.gathers.append(time.perf_counter() - began)


def _hand(path: Path, beside: Beside, stop: Event) -> None:
    """Write a note every second."""
    with open_ledger(path) as ledger:
        while not stop.wait(1.0):
            now, began = datetime.now(UTC), time.perf_counter()
            note(ledger, "all is well", who="Ada", at=now, noted_at=now)
            beside.writes.append(time.perf_counter() - began)


def _size(path: Path) -> str:
    with sqlite3.connect(path) as db:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        kept = db.execute("SELECT count(*) FROM fed").fetchone()[0]
    size = path.stat().st_size
    return f"{kept} kept, {size / 1e6:.1f} MB, {size / max(kept, 1):.0f} B each"


def _spread(times: list[float]) -> str:
    if not times:
        return "never"
    last = sorted(times)[math.ceil(0.99 * len(times)) - 1]
    return (
        f"{statistics.median(times):.3f} s, 99 of 100 {last:.3f} s, slowest {max(times):.3f} s ({len(times)})"
    )


def _name(thins: bool) -> str:
    return "thinned out" if thins else "all kept   "


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=1.0, help="how long the feed in real time lasts [1]")
    minutes = parser.parse_args().minutes
    for thins in (False, True):
        as_fast_as_it_goes(thins=thins)
    for thins in (False, True):
        as_it_comes(minutes, thins=thins)


if __name__ == "__main__":
    main()
