"""`board feed` as a person runs it: from a pipe and a file, ended by a key or by kill -9."""

import io
import json
import os
import random
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from board.cli import run
from board.ledger import read
from board.ledger.open import Ledger
from board.ledger.write import commit_plan

from ...ledger.by_hand import brisket, plan

YESTERDAY = datetime.now(UTC) - timedelta(days=1)
Say = Callable[..., tuple[int, str, str]]


@pytest.fixture
def say(ledger: Ledger, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Say:
    """Run `board feed` on the house's ledger, with lines on standard input; its code, output and talk."""
    monkeypatch.setenv("BOARD_LEDGER", str(ledger.path))
    monkeypatch.setenv("BOARD_WHO", "Ada")

    def once(*typed: str, lines: str = "") -> tuple[int, str, str]:
        into, out_of = os.pipe()[::-1]
        os.write(into, lines.encode())
        os.close(into)
        with io.TextIOWrapper(io.FileIO(out_of)) as pipe:
            monkeypatch.setattr(sys, "stdin", pipe)
            code = run(["feed", *typed])
        told = capsys.readouterr()
        return int(code), told.out, told.err

    return once


def started(*typed: str, ledger: Path) -> "subprocess.Popen[str]":
    """`board feed` as a process of its own."""
    command = [sys.executable, "-m", "board", "feed", *typed, "--ledger", str(ledger)]
    return subprocess.Popen(command, stderr=subprocess.PIPE, text=True)


def until(holds: Callable[[], object]) -> None:
    """Wait until something holds; a test that waits in vain fails by its own limit."""
    limit = time.monotonic() + 60
    while not holds():
        assert time.monotonic() < limit
        time.sleep(0.02)


def many(ledger: Ledger) -> int:
    """How many readings were fed."""
    return int(ledger.rows("SELECT count(*) AS n FROM fed")[0]["n"])


def test_messages_from_a_pipe(say: Say, ledger: Ledger) -> None:
    """Taken in to the end of the pipe and told in a sentence; what is wrong is set aside, with why."""
    code, out, err = say("--stdin", lines="north-grate 225 F\nmeat-1 61\n\x1b[2Jnonsense\nwalk-in-door 38")
    assert (code, out) == (0, "")
    assert err == "board: stdin: 3 readings kept, 1 message set aside (see board feed aside)\n"
    assert many(ledger) == 3
    code, out, _ = say("aside")
    assert (code, out.count("\n"), "\x1b" in out) == (0, 2, False)
    assert "[2Jnonsense" in out
    _, out, _ = say("aside", "--json")
    assert json.loads(out)["aside"][0]["message"] == "[2Jnonsense"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ((), "say where the messages come from"),
        (("--stdin", "--csv", "x.csv"), "say where the messages come from"),
        (("--stdin", "--follow"), "--follow goes with --csv"),
        (("--csv", "nowhere.csv"), "is not there; name a CSV file"),
        (("--csv", "."), "is no file; name a CSV file"),
        (("--csv", "/dev/null"), "is no file; name a CSV file"),
        (("--stdin", "--as", "x" * 81), "the name of this feed (--as) has 81 letters"),
        (("--stdin", "--as", " "), "the name of this feed (--as) is missing"),
        (("--stdin", "--probe", "east"), "there is no probe east; the probes are north-grate"),
        (("--stdin", "place", "meat-1", "out"), "--stdin goes after place"),
        (("place", "east", "out"), "there is no probe east"),
        (("place", "meat-1", "out"), "was put into no load"),
        (("strike", "meat-1", "--from", "00:00"), "fed nothing that counts"),
        (("aside", "--most", "9" * 20), "is not in the range"),
    ],
)
def test_what_cannot_be_is_told_in_a_line(
    say: Say, ledger: Ledger, typed: tuple[str, ...], says: str
) -> None:
    """Exit 2, one line, nothing written."""
    code, out, err = say(*typed)
    assert (code, out) == (2, "")
    assert says in err.splitlines()[-1]
    assert ledger.rows("SELECT count(*) AS n FROM entries") == [{"n": 0}]


def test_a_closed_input_is_told(
    ledger: Ledger, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As a shell closes it by <&-, where there is nothing that could be read."""
    monkeypatch.setattr(sys, "stdin", None)
    assert run(["feed", "--stdin", "--ledger", str(ledger.path)]) == 2
    assert "standard input is closed" in capsys.readouterr().err


def test_a_probe_is_put_into_a_load_and_what_it_fed_wrongly_is_struck(say: Say, ledger: Ledger) -> None:
    """From the command line, as told by `board feed status` and by what is read of the load."""
    now = datetime.now(UTC)
    tonights = plan(brisket(load_at=now - timedelta(hours=1)), day=now.astimezone(ledger.zone).date())
    commit_plan(ledger, tonights, who="Ada", at=now, noted_at=now)
    code, out, _ = say("place", "meat-1", "1209-brisket-1")
    assert code == 0
    assert re.match(r"meat-1 in 1209-brisket-1 at \d\d:\d\d by Ada \(entry 2\)", out)
    assert re.search(r"^! meat-1, 1209-brisket-1: nothing yet$", say("status")[1], re.MULTILINE)
    say("--stdin", lines="meat-1 61 C\n")
    code, out, _ = say("status")
    assert code == 1  # the others never fed
    assert re.search(r"^  meat-1, 1209-brisket-1: \d+ °[CF], \d\d:\d\d$", out, re.MULTILINE)
    assert "! walk-in-door, walk-in: nothing yet" in out
    assert [one.temperature_c for one in read.readings(ledger, load="1209-brisket-1")] == [61.0]
    since = (now - timedelta(minutes=1)).isoformat()
    code, out, _ = say("strike", "meat-1", "--from", since, "--why", "fell out")
    assert (code, "meat-1, 1 reading from" in out) == (0, True)
    assert read.readings(ledger, load="1209-brisket-1") == []
    _, out, _ = say("status", "--json")
    told = json.loads(out)
    assert told["feeds"][0]["kept"] == 1
    assert [one["probe"] for one in told["probes"] if not one["silent"]] == []


def test_a_feed_that_follows_ends_when_it_is_told_to(say: Say, ledger: Ledger, tmp_path: Path) -> None:
    """Ctrl-C and SIGTERM end it with what came written and code 0; until then there is but one."""
    path = tmp_path / "pit.csv"
    path.write_text("time,north-grate_f\n")
    for number, how in enumerate((signal.SIGINT, signal.SIGTERM), start=1):
        process = started("--csv", str(path), "--follow", ledger=ledger.path)
        with path.open("a") as file:
            file.write(f"{(datetime.now(UTC) - timedelta(hours=number)).isoformat()},225\n")
        until(lambda number=number: many(ledger) == number)
        assert say("--csv", str(path))[0] == 2
        assert say("--stdin")[0] == 0
        process.send_signal(how)
        _, err = process.communicate(timeout=60)
        assert (process.returncode, err) == (0, "board: csv pit.csv: 1 reading kept\n")


def test_killed_in_mid_stream_every_reading_is_there_once(ledger: Ledger, tmp_path: Path) -> None:
    """kill -9 at random moments of a long file, and begun again: nothing is lost, nothing is twice."""
    (tmp_path / "house" / "house.toml").open("a").write('\n[feed]\nkeep_every = "0 min"\n')
    path = tmp_path / "pit.csv"
    since = datetime.now(UTC).replace(microsecond=0) - timedelta(hours=6)
    times = [(since + timedelta(seconds=n)).isoformat() for n in range(20_000)]
    path.write_text("time,north-grate_f\n" + "".join(f"{at},{200 + n % 50}\n" for n, at in enumerate(times)))
    drawn = random.Random(7)
    for _ in range(3):
        before = many(ledger)
        process = started("--csv", str(path), ledger=ledger.path)
        until(lambda process=process, before=before: many(ledger) > before or process.poll() is not None)
        time.sleep(drawn.uniform(0, 0.1))
        process.kill()
        process.communicate()
    assert run(["feed", "--csv", str(path), "--ledger", str(ledger.path)]) == 0
    told = [one[1] for e in read.entries(ledger, kinds=["fed"]) for one in e.data["readings"]]
    assert len(told) == len(set(told)) == many(ledger) == len(times)


def test_a_feed_of_a_long_name(say: Say, ledger: Ledger, tmp_path: Path) -> None:
    """A file may be called what it likes: the feed has as much of it as a name holds."""
    path = tmp_path / ("\x1b[31m" + "x" * 200 + ".csv")
    path.write_text(f"time,north-grate_f\n{YESTERDAY.isoformat()},225\n")
    code, _, err = say("--csv", str(path))
    assert (code, many(ledger), "\x1b" in err) == (0, 1, False)
    assert {len(row["source"]) <= 80 for row in ledger.rows("SELECT source FROM feeds")} == {True}
