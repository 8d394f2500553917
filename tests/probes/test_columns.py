"""The columns of a logger's file, and what a row of it tells."""

from contextlib import suppress
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.house.csv_file import told_mark
from board.probes.columns import columns_of, is_heading, told_by
from board.probes.reading import Told
from board.probes.refused import BadMessageError

from .by_hand import NAMED

AT = datetime(2026, 12, 19, 5, 40, tzinfo=UTC)


@pytest.mark.parametrize(
    ("heading", "row"),
    [
        ("time,probe,temperature_c", "2026-12-19T05:40Z,meat-1,61.5"),
        ("Time;Probe;Temperature;Unit", "2026-12-19 05:40+00:00;meat-1;61,5;°C"),
        ("timestamp\tmeat-1_c\thumidity", "1797658800\t61.5\t3"),
        ('time,"Meat 1 (°C)",oven_f', "2026-12-19T05:40Z,61.5,300"),
        ("date;time;meat-1", "2026-12-19;05:40Z;61,5 C"),
    ],
)
def test_files_of_many_loggers(heading: str, row: str) -> None:
    """Commas, semicolons or tabs; a column of probes or a column for each; decimal commas.

    1797658800 s is 2026-12-19 05:40 UTC: by `date -u -d @1797658800` (GNU coreutils).
    """
    columns = columns_of(heading, NAMED)
    assert [*told_by(row, columns)] == [Told("meat-1", 61.5, "C", AT)]
    assert is_heading(heading, columns)
    assert not is_heading(row, columns)


def test_a_row_of_several_probes() -> None:
    """A reading for each probe; an empty cell is a gap and says nothing."""
    columns = columns_of("time,north-grate_f,meat-1_c,south-shelf_f,oven_f", NAMED)
    found = [*told_by("2026-12-19T05:40Z,225,,226", columns)]
    assert found == [Told("north-grate", 225.0, "F", AT), Told("south-shelf", 226.0, "F", AT)]
    assert columns.skipped == ("oven_f",)


def test_a_file_of_one_probe_that_does_not_say_whose() -> None:
    """A file as `board safe` reads it needs to be told the probe; the column has the unit."""
    columns = columns_of("time,core_f", NAMED, probe="meat-1")
    assert [*told_by("2026-12-19T05:40Z,142", columns)] == [Told("meat-1", 142.0, "F", AT)]


@pytest.mark.parametrize(
    ("heading", "says"),
    [
        ("probe,temperature_c", "no time"),
        ("time,oven_f", "no probe sent as oven_f"),
        ("time,core_f", "no probe sent as core_f"),
        ("2026-12-19T05:40Z,225", "no time"),
        ('time,"meat-1_c', "no CSV"),
    ],
)
def test_a_heading_that_is_none(heading: str, says: str) -> None:
    """What is missing is named, with a heading that would do."""
    with pytest.raises(BadMessageError, match=says):
        columns_of(heading, NAMED)


@pytest.mark.parametrize("row", ["x,61", ",61", "2026-12-19T05:40Z,abc", '2026-12-19T05:40Z,"61'])
def test_a_bad_row(row: str) -> None:
    """A row without a time, or with what is no temperature, is refused alone."""
    columns = columns_of("time,meat-1_c", NAMED)
    with pytest.raises(BadMessageError):
        list(told_by(row, columns))


@given(st.text(max_size=60), st.text(max_size=60))
def test_any_text_is_read_or_refused(heading: str, row: str) -> None:
    """Whatever a file holds, it is readings, or one line that says why not."""
    columns = columns_of("date,time,probe,temperature,unit", NAMED)
    with suppress(BadMessageError):
        columns_of(heading, NAMED)
    with suppress(BadMessageError):
        assert all(one.probe and one.at for one in told_by(row, columns))


def test_spreadsheets_say_what_parts_cells() -> None:
    """A line such as sep=; is no heading."""
    assert told_mark('"sep=;"') == ";"
    assert told_mark("time;a") is None
