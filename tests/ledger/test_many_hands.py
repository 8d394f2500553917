"""Several boards on one ledger, and hands that are cut off."""

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from pathlib import Path

import pytest

from board.errors import LedgerError
from board.ledger import read, turns, write
from board.ledger.open import Ledger, create_ledger, open_ledger
from board.ledger.state import Entry, LoadStage

from .by_hand import DAY, LOADED, ZONE
from .test_write import BRISKET, by

HANDS = Path(__file__).with_name("hands.py")
REPOSITORY = Path(__file__).parents[2]


def hand(path: Path, who: str, count: int) -> "subprocess.Popen[str]":
    """A writing process of its own."""
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY)}
    command = [sys.executable, str(HANDS), str(path), who, str(count)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, env=environment, text=True)


def test_two_writers_lose_nothing(path: Path, ledger: Ledger) -> None:
    """Two processes writing two hundred entries each: all are there, in each one's order."""
    writers = {who: hand(path, who, 200) for who in ("Ada", "Ines")}
    for writer in writers.values():
        out, _ = writer.communicate(timeout=60)
        assert writer.returncode == 0
        assert len(out.splitlines()) == 201
    found = read.readings(ledger, place="north")
    assert [entry.seq for entry in read.entries(ledger, since_seq=0)] == list(range(1, 401))
    for who in writers:
        written = sorted((r.seq, r.temperature_c) for r in found if r.who == who)
        assert [degrees for _, degrees in written] == [number / 1000 for number in range(200)]


def together(people: list[str], do: Callable[[str], Entry]) -> list[Entry]:
    """What each person's entry is when all do it in the same instant, each on a connection of their own."""
    at_once = threading.Barrier(len(people))

    def one(who: str) -> Entry:
        at_once.wait()
        return do(who)

    with ThreadPoolExecutor(len(people)) as pool:
        return list(pool.map(one, people))


def test_two_people_marking_one_step_agree(path: Path, planned: Ledger) -> None:
    """Of several who mark the same step at once, one does and the others are told who."""

    def mark(who: str) -> Entry:
        with open_ledger(path) as own:
            return write.mark_load(own, BRISKET, LoadStage.ON, **by(who, LOADED))

    entries = together(["Ada", "Ines", "Max", "Bo"], mark)
    assert len({(entry.seq, entry.who) for entry in entries}) == 1
    assert sorted(entry.already for entry in entries) == [False, True, True, True]


def test_another_board_sees_a_mark_at_once(path: Path, planned: Ledger) -> None:
    """A mark by one board changes what the other's cheap question answers."""
    with open_ledger(path) as other:
        before = read.data_version(other)
        write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
        assert read.data_version(other) != before
        assert read.load_states(other, DAY)[0].stage is LoadStage.ON


def test_a_read_during_a_write(path: Path, planned: Ledger) -> None:
    """Who reads while another writes is not held up, and sees all of a transaction or none."""
    with open_ledger(path) as other:
        with planned.writing():
            write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
            assert read.load_states(other, DAY)[0].stage is LoadStage.PLANNED
        assert read.load_states(other, DAY)[0].stage is LoadStage.ON


def test_reads_of_one_moment(path: Path, planned: Ledger) -> None:
    """Reads in one block agree with each other, though another board writes between them."""
    with open_ledger(path) as other, other.reading():
        before = read.load_states(other, DAY)
        write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
        assert read.load_states(other, DAY) == before


def test_two_who_create_at_once(path: Path) -> None:
    """Of two who open a new ledger at once, both get the same whole one."""

    def start(who: str) -> Entry:
        with open_ledger(path, create=True) as own:
            return write.note(own, "here", **by(who, LOADED))

    assert sorted(entry.seq for entry in together(["Ada", "Ines"], start)) == [1, 2]
    assert [p.name for p in path.parent.iterdir()] == ["board.db"]


def test_a_killed_writer_loses_nothing_acknowledged(tmp_path: Path) -> None:
    """Ten writers killed in mid-loop: every entry they acknowledged is there, and the file is sound."""
    path = tmp_path / "board.db"
    create_ledger(path, "Cinder & Rye", ZONE, tmp_path).close()
    acknowledged: dict[int, float] = {}
    for cut in range(10):
        writer = hand(path, f"hand {cut}", 100_000)
        assert writer.stdout is not None
        assert writer.stdout.readline() == "ready\n"
        told = [writer.stdout.readline() for _ in range(5 + 7 * cut)]
        writer.send_signal(signal.SIGKILL)
        told += writer.stdout.read().splitlines()
        writer.wait()
        writer.stdout.close()
        for line in told:
            seq, _, number = line.strip().partition(" ")
            acknowledged[int(seq)] = int(number) / 1000
    with open_ledger(path) as ledger:
        kept = {r.seq: r.temperature_c for r in read.readings(ledger)}
        assert acknowledged.items() <= kept.items()
        assert len(kept) - len(acknowledged) <= 10  # written, and killed before it could be said
        assert ledger.db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert ledger.db.execute("PRAGMA foreign_key_check").fetchall() == []


def test_readings_keep_their_order_within_a_second(planned: Ledger) -> None:
    """Readings a few milliseconds apart keep their times."""
    for n in range(3):
        write.take_reading(
            planned, 90.0 + n, place="north", **by("probe", LOADED + timedelta(milliseconds=n))
        )
    assert [r.temperature_c for r in read.readings(planned, place="north")] == [90.0, 91.0, 92.0]


def test_a_turn_is_waited_for_no_longer_where_the_machine_is_slow(
    path: Path, planned: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A second of patience is one by the clock, though each pause takes a hundred times as long."""
    clock = [0.0]

    def slow_pause(_: float) -> None:
        clock[0] += 100 * turns.PAUSE_SECONDS

    monkeypatch.setattr(turns, "monotonic", lambda: clock[0])
    monkeypatch.setattr(turns, "sleep", slow_pause)
    planned.wait_at_most(1.0)
    with open_ledger(path) as other, other.writing(), pytest.raises(LedgerError, match="stayed busy"):
        write.note(planned, "wood is wet", **by("Ada", LOADED))
    assert clock[0] < 1.2
