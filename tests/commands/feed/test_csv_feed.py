"""A file that grows is read once and whole, whatever a logger does with it."""

import os
from collections.abc import Callable
from pathlib import Path
from threading import Event

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from board.commands.feed import csv_feed
from board.commands.feed.csv_feed import CsvFeed
from board.commands.feed.intake import Intake
from board.commands.feed.lines import Lines
from board.errors import BoardError
from board.house.model import House
from board.ledger.open import Ledger

from .conftest import NOW, forget

HEADING = "time,north-grate_f\n"


def row(n: int, degrees: int | str = 225) -> str:
    """A row of the n-th second of a day."""
    return f"2026-12-09T18:{n // 60:02}:{n % 60:02}Z,{degrees}\n"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of a logger."""
    return tmp_path / "pit[1].csv"


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is an hour after the first row."""
    monkeypatch.setattr(csv_feed, "now", lambda: NOW)


Run = Callable[[], list[int]]


@pytest.fixture
def run(ledger: Ledger, house: House, path: Path) -> Run:
    """Feed the file from where it was read to, as a command does, and say which seconds are there."""

    def once() -> list[int]:
        intake: Intake[None] = Intake(ledger, house, f"csv {path.name}")
        source = CsvFeed(path, intake.named, Event(), follow=False, probe=None)
        source.begin(intake.position)
        while source.pour(intake, 0.0):
            intake.flush(NOW, source.position())
        intake.end(NOW, source.position())
        found = ledger.rows("SELECT at FROM fed ORDER BY at")
        return [60 * int(one["at"][14:16]) + int(one["at"][17:19]) for one in found]

    return once


def test_a_growing_file_is_read_on(run: Run, path: Path, ledger: Ledger) -> None:
    """Each run takes the rows since the last one; what is read already is not read again."""
    path.write_text(HEADING + row(0) + row(1))
    assert run() == [0, 1]
    with path.open("a") as file:
        file.write(row(2))
    assert run() == [0, 1, 2]
    assert ledger.rows("SELECT kept, doubled FROM feeds") == [{"kept": 3, "doubled": 0}]


def test_half_a_last_line_waits_for_its_other_half(run: Run, path: Path, ledger: Ledger) -> None:
    """229 cut in two is no 22."""
    path.write_text(HEADING + row(0) + row(1, 229)[:-2])
    assert run() == [0]
    path.write_text(HEADING + row(0) + row(1, 229))
    assert run() == [0, 1]
    assert ledger.rows("SELECT max(temperature_c) AS c FROM fed") == [{"c": 109.44}]  # (229 - 32) / 1.8


def test_a_file_put_aside_is_read_to_its_end(run: Run, path: Path) -> None:
    """Rotated away and begun anew while no feed ran: the old one's last rows come first."""
    path.write_text(HEADING + row(0))
    assert run() == [0]
    with path.open("a") as file:
        file.write(row(1))
    path.rename(path.with_name(f"{path.name}.1"))
    path.write_text(HEADING + row(2))
    assert run() == [0, 1, 2]


def test_a_file_cut_short_is_read_from_its_beginning(run: Run, path: Path) -> None:
    """Written anew in the same file, shorter or longer than it was."""
    path.write_text(HEADING + row(0) + row(1))
    assert run() == [0, 1]
    path.write_text(HEADING + row(2))
    assert run() == [0, 1, 2]
    path.write_text("time;north-grate_f\n" + "".join(row(n).replace(",", ";") for n in range(3, 9)))
    assert run() == list(range(9))


def test_what_a_logger_does_while_it_is_followed(ledger: Ledger, house: House, path: Path) -> None:
    """Growing, rotated, cut short: followed through all of it by one feed."""
    path.write_text(HEADING + row(0) + row(1)[:9])
    intake: Intake[None] = Intake(ledger, house, "csv")
    source = CsvFeed(path, intake.named, Event(), follow=True, probe=None)

    def seen() -> int:
        for _ in range(4):
            assert source.pour(intake, 0.0)
        intake.flush(NOW, source.position())
        return int(ledger.rows("SELECT count(*) AS n FROM fed")[0]["n"])

    assert seen() == 1
    with path.open("a") as file:
        file.write(row(1)[9:])
    assert seen() == 2
    old = path.rename(path.with_name("old.csv"))
    assert seen() == 2
    with old.open("a") as file:
        file.write(row(2))
    path.write_text(HEADING + row(3))
    assert seen() == 4
    path.write_text(HEADING + row(4))
    assert seen() == 5
    os.truncate(path, 0)
    assert seen() == 5
    with path.open("a") as file:
        file.write(HEADING + row(5))
    assert seen() == 6


def test_a_heading_again_is_no_reading(run: Run, path: Path, ledger: Ledger) -> None:
    """A logger writes its heading each time it starts, with other columns too."""
    path.write_text(HEADING + row(0) + HEADING + row(1) + "time,walk-in-door_f\n" + row(2, 38))
    assert run() == [0, 1, 2]
    assert ledger.rows("SELECT count(*) AS n FROM aside") == [{"n": 0}]


def test_lines_above_the_heading_are_passed_over(run: Run, path: Path) -> None:
    """A logger may say who it is first; of many such lines the first is told as no heading."""
    path.write_text("Logger 3, serial 0042\n\nbegun: 2026-12-09\n" + HEADING + row(0))
    assert run() == [0]
    path.write_text("Logger 3\n" * 30 + HEADING + row(1))
    with pytest.raises(BoardError, match="no time in 'Logger 3'"):
        run()


def test_a_bad_row_is_set_aside_alone(run: Run, path: Path, ledger: Ledger) -> None:
    """The rows beside it are taken; the file may have a byte-order mark, CR LF and Latin letters."""
    good, latin = row(1, "225,5;3"), row(2, "226;W\xe4rme")
    rows = "".join(one.replace(",", ";", 1) for one in (row(0, "x"), good, latin)).replace("\n", "\r\n")
    path.write_bytes(b'\xef\xbb\xbf"sep=;"\r\ntime;north-grate_f;note\r\n' + rows.encode("latin-1"))
    assert run() == [1, 2]
    assert ledger.rows("SELECT message FROM aside") == [{"message": "2026-12-09T18:00:00Z;x"}]


@pytest.mark.parametrize("bad", [b'2026-12-09T18:00:01Z,"225', b"\xff\xfe\x00", b"\xfe\xff,225", b"time"])
def test_a_row_of_any_bytes_ends_no_feed(bad: bytes, run: Run, path: Path) -> None:
    """A quotation mark without its other half, what a failing disk left: the rows beside it are taken."""
    path.write_bytes((HEADING + row(0)).encode() + bad + b"\n" + (HEADING + row(2)).encode())
    assert run() == [0, 2]


def test_rows_below_a_heading_that_names_no_probe_are_set_aside(
    run: Run, path: Path, ledger: Ledger, capsys: pytest.CaptureFixture[str]
) -> None:
    """They are not taken for what the heading before it named; the next sound heading is gone by again."""
    path.write_text(HEADING + row(0) + "time,oven_f\n" + row(1))
    assert run() == [0]
    assert "no probe sent as oven_f" in capsys.readouterr().err
    (aside,) = ledger.rows("SELECT why FROM aside")
    assert aside["why"].startswith(
        "found a row below a heading that is not read: found no probe sent as oven_f"
    )
    with pytest.raises(BoardError, match="no probe sent as oven_f"):
        run()
    path.write_text(path.read_text() + HEADING + row(2))
    with pytest.raises(BoardError, match="no probe sent as oven_f"):
        run()


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"time,oven_f\n1,2\n", "no probe sent as oven_f"),
        ("time,north-grate_f\n".encode("utf-16"), "is in UTF-16; save it as CSV in UTF-8"),
        (b"\x00\x01\x02\n", "no time"),
    ],
)
def test_a_file_that_is_none(run: Run, path: Path, content: bytes, says: str) -> None:
    """Refused in a line with the file's name."""
    path.write_bytes(content)
    with pytest.raises(BoardError, match=says):
        run()


@given(st.binary(max_size=200), st.lists(st.integers(1, 30), max_size=20))
def test_lines_are_the_same_however_they_come(data: bytes, sizes: list[int]) -> None:
    """Cut into any pieces, bytes give the same lines; CR, LF and CR LF end one."""
    lines, found, rest = Lines(1_000), [], data
    for size in (*sizes, len(data)):
        found += lines.add(rest[:size])
        rest = rest[size:]
    whole = Lines(1_000)
    assert [one for one in found if one] == [one for one in whole.add(data) if one]
    assert lines.rest == whole.rest


def test_a_line_without_end_fills_no_memory() -> None:
    """Of a line that is too long the beginning is kept; the next line is whole."""
    lines = Lines(10)
    assert lines.add(b"x" * 100) == [b"x" * 11]
    assert lines.add(b"y" * 100) == []
    assert lines.rest == b""
    assert lines.add(b"z\nnext\n") == [b"next"]


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.integers(1, 90), min_size=1, max_size=8))
def test_a_file_written_in_any_pieces(run: Run, path: Path, ledger: Ledger, sizes: list[int]) -> None:
    """Read after each piece by another run: every row is there once, none is half."""
    forget(ledger)
    text = HEADING + "".join(row(n, 200 + n) for n in range(8))
    path.write_text("")
    for size in (*sizes, len(text)):
        with path.open("a") as file:
            file.write(text[:size])
        text = text[size:]
        if path.stat().st_size > len(HEADING):
            seconds = run()
    assert seconds == list(range(8))
    degrees = ledger.rows("SELECT round(1.8 * temperature_c + 32) AS f FROM fed ORDER BY at")
    assert [one["f"] for one in degrees] == [200.0 + n for n in range(8)]
