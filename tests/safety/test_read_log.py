"""Reading a record from a file: what is read, and what is told with its line."""

from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from board.errors import BoardError
from board.safety.log import TemperatureLog
from board.safety.read_log import read_log


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where a record may be written."""
    return tmp_path / "log.csv"


@pytest.fixture
def read(tmp_path: Path):
    """Writes a text or bytes to log.csv and reads it."""

    def write_and_read(text: str | bytes, part: str | None = None) -> TemperatureLog:
        path = tmp_path / "log.csv"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return read_log(path, part)

    return write_and_read


@pytest.mark.parametrize(
    ("text", "minutes", "degrees"),
    [
        ("time,core_c\n0,4\n12.5,60.5\n", (0, 12.5), (4, 60.5)),
        ("time,core_f\n0,32\n10,212\n", (0, 10), (0, 100)),
        ("minutes,temperature_c\n5,4\n6,5\n", (0, 1), (4, 5)),
        ("Time,Core (°C)\n0,4\n", (0,), (4,)),
        ("core_c,time\n4,0\n5,1\n", (0, 1), (4, 5)),
        ("time,core_c\n2026-12-19T10:00,4\n2026-12-19 11:30:30,5\n", (0, 90.5), (4, 5)),
        ("time,core_c\n2026-12-19T23:30-07:00,4\n2026-12-20T07:00Z,5\n", (0, 30), (4, 5)),
        ("time,core_c\n0,4\n1,\n2,5\n", (0, 1, 2), (4, None, 5)),
        ("time,core_c\n0,4\n0,4\n1,5\n", (0, 1), (4, 5)),
        ("time;core_c\n0;4,5\n1,5;5\n", (0, 1.5), (4.5, 5)),
        ("time\tcore_c\n0\t4\n", (0,), (4,)),
        ("\ufefftime,core_c\r\n0,4\r\n\r\n1,5\r\n", (0, 1), (4, 5)),
        ("time,core_c,note\n0,4,in\n1,5\n", (0, 1), (4, 5)),
        ("time,core_c\n-30,4\n0,5\n", (0, 30), (4, 5)),
    ],
)
def test_what_is_read(read, text, minutes, degrees):
    """Minutes or dates, °C or °F, any of three marks, gaps, repeats, and what spreadsheets add."""
    log = read(text)
    assert log.minutes == minutes
    assert log.temperatures_c == pytest.approx(degrees)
    assert log.in_fahrenheit == ("core_f" in text)


def test_a_part_names_its_column(read):
    """Core unless another is asked for; the only one there is, whatever its name."""
    both = "time,pit_f,core_f\n0,212,32\n"
    assert read(both).temperatures_c == pytest.approx((0,))
    assert read(both, "pit").temperatures_c == pytest.approx((100,))
    assert read("time,hold_c\n0,60\n").temperatures_c == (60,)
    with pytest.raises(BoardError, match="found temperatures hold_c; allowed one core column with its unit"):
        read("time,hold_c\n0,60\n", "core")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "log.csv: found nothing, allowed a heading such as time,core_c"),
        ("\n\n", "log.csv: found nothing"),
        ("time,core_c\n", "log.csv: found no reading, allowed rows below a heading"),
        ("0,4\n1,5\n", "log.csv, line 1: found no time column"),
        ("time,core\n0,4\n", "log.csv, line 1: found temperatures none with °C or °F in its name"),
        ("time,core_c,core_f\n0,4,40\n", "allowed one core column with its unit, such as core_c"),
        ("time,minutes,core_c\n0,0,4\n", "log.csv, line 1: found 2 time column"),
        ("time,core_c\n0,4\n,5\n", "log.csv, line 3, time: found nothing, allowed minutes such as 12.5"),
        ("time,core_c\nsoon,4\n", "log.csv, line 2, time: found 'soon'"),
        ("time,core_c\n10:30,4\n", "log.csv, line 2, time: found '10:30'"),
        ("time,core_c\n2026-12-19,4\n", "log.csv, line 2, time: found '2026-12-19'"),
        ("time,core_c\n20261219,4\n", "log.csv, line 2, time: found '20261219'"),
        ("time,core_c\nnan,4\n", "log.csv, line 2, time: found 'nan'"),
        ("time,core_c\n0,nan\n", "log.csv, line 2, core_c: found 'nan', allowed a number, or nothing"),
        ("time,core_c\n0,inf\n", "log.csv, line 2, core_c: found 'inf'"),
        ("time,core_c\n0,4 C\n", "log.csv, line 2, core_c: found '4 C'"),
        (
            "time,core_c\n0,165\n",
            "line 2, core_c: found 165, allowed what food comes to, -60 to 110 °C; is it °F?",
        ),
        ("time,core_f\n0,500\n", "log.csv, line 2, core_f: found 500"),
        ("time,core_c\n5,4\n3,5\n", "log.csv, line 3, time: found 3, allowed a time after 5 of line 2"),
        ("time,core_c\n5,4\n5,5\n", "log.csv, line 3, time: found 5, allowed a time after 5 of line 2"),
        ("time,core_c\n5,4\n2026-12-19T10:00,5\n", "log.csv, line 3, time: found another kind of time"),
        (
            "time,core_c\n2026-12-19T10:00,4\n2026-12-19T11:00Z,5\n",
            "line 3, time: found another kind of time",
        ),
        (b"time,core_c\n0,\xff\n", "log.csv, line 2: found text that is not UTF-8"),
        ('time,core_c\n0,"' + "4" * 200_000 + '"\n', "log.csv, line 2: cannot be read as CSV"),
    ],
)
def test_what_is_told(read, text, told):
    """One line with the file, the line, what was found and what is allowed."""
    with pytest.raises(BoardError) as error:
        read(text)
    assert told in str(error.value)
    assert "\n" not in str(error.value)


def test_a_file_that_is_none(tmp_path: Path):
    """Missing, or a folder."""
    for path, told in ((tmp_path / "none.csv", "cannot be read"), (tmp_path, "is a folder")):
        with pytest.raises(BoardError, match=told):
            read_log(path)


def test_a_hundred_thousand_readings(read):
    """A record of a probe that writes every second for a day is read whole."""
    text = "time,core_c\n" + "".join(f"{i / 60:.4f},{i % 90}\n" for i in range(100_000))
    assert len(read(text).readings) == 100_000


CHICAGO = ZoneInfo("America/Chicago")


@pytest.mark.parametrize(
    ("first", "last", "minutes"),
    [
        ("2026-11-01T00:30", "2026-11-01T02:20", 170),  # the clock went back from 02:00 to 01:00
        ("2026-03-08T01:30", "2026-03-08T03:30", 60),  # and forward from 02:00 to 03:00
        ("2026-10-25T01:30", "2026-10-25T03:30", 120),  # a night of other zones
        ("2026-11-01T00:30", "2026-11-01T01:30-06:00", 120),
    ],
)
def test_times_on_a_clock_count_as_they_passed(path: Path, first: str, last: str, minutes: float) -> None:
    """An hour that the clock of a zone lost or won in the night is no hour of the record."""
    path.write_text(f"time,core_c\n{first},57\n{last},21\n", encoding="utf-8")
    assert read_log(path, zone=CHICAGO).minutes == (0, minutes)


@pytest.mark.parametrize(
    ("time", "told"),
    [
        ("2026-11-01T01:30", "showed twice; write it with its offset"),
        ("2026-03-08T02:30", "showed never; write it with its offset"),
        ("9999-12-31T23:59", "showed never"),
    ],
)
def test_a_time_that_a_clock_showed_twice_or_never_is_refused(path: Path, time: str, told: str) -> None:
    """Which of two moments is meant is not guessed."""
    path.write_text(f"time,core_c\n{time},57\n", encoding="utf-8")
    with pytest.raises(BoardError, match=told):
        read_log(path, zone=CHICAGO)
