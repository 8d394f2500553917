"""CSV as spreadsheets and loggers save it."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import HouseFileError
from board.house.csv_file import read_csv, with_points
from board.house.files import read_house

SALES = "day,service,item,sold,left,sold_out_at\n2026-12-19,lunch,sliced,9,0,18:40\n"
_CELLS = st.text(st.characters(exclude_categories=("Cs",)), max_size=12)


def lines_of(tmp_path, raw: bytes):
    """The lines of a file with these bytes."""
    path = tmp_path / "any.csv"
    path.write_bytes(raw)
    return [(line.number, line.cells) for line in read_csv(path).lines]


@pytest.mark.parametrize(
    "raw",
    [
        b"a,b\n1,2\n",
        b"\xef\xbb\xbfa;b\r\n1;2\r\n",
        b"a\tb\n1\t2",
        b"a,b,,,\n1,2,,,\n,,,,\n",
        b'"a","b"\r\n"1"," 2 "\r\n',
        b"a,b\r1,2\r",
        "a;b\n1;\u00a02\n".encode(),
    ],
)
def test_a_table_is_the_same_however_it_was_saved(tmp_path, raw):
    """Commas, semicolons or tabs; quotes, empty columns and rows at the end, and any line ends."""
    assert lines_of(tmp_path, raw) == [(1, ("a", "b")), (2, ("1", "2"))]


def test_the_mark_may_be_told_in_a_first_line(tmp_path):
    """As spreadsheets write it, `sep=;`, which is no row."""
    assert lines_of(tmp_path, b"sep=;\na;b,c\n1;2\n") == [(2, ("a", "b,c")), (3, ("1", "2"))]


def test_a_line_break_within_a_cell_is_a_space_and_lines_stay_counted(tmp_path):
    """The line told is the one on which the row begins."""
    assert lines_of(tmp_path, b'a,b\n"one\ntwo",2\n3,4\n') == [
        (1, ("a", "b")),
        (2, ("one two", "2")),
        (4, ("3", "4")),
    ]


def test_a_quotation_mark_that_is_not_closed_swallows_nothing(tmp_path):
    """Rows after it would be lost without a word; it is told with the line it stands on."""
    with pytest.raises(HouseFileError, match=r"any\.csv, line 2: cannot be read as CSV .* not closed"):
        lines_of(tmp_path, b'a,b\n"1,2\n3,4\n5,6\n')


@given(st.lists(st.lists(_CELLS, min_size=1, max_size=4), max_size=6), st.sampled_from(",;\t"))
def test_what_the_standard_library_writes_is_read_back(tmp_path_factory, rows, mark):
    """Every cell, but for spaces around and within it; outside check: the writer of Python's csv."""
    out = io.StringIO()
    csv.writer(out, delimiter=mark).writerows([["h"] * 5, *rows])
    path = tmp_path_factory.mktemp("csv") / "any.csv"
    path.write_text(out.getvalue(), encoding="utf-8", newline="")
    tidy = [[" ".join(cell.split()) for cell in row] for row in rows]
    for row in tidy:
        while row and not row[-1]:
            row.pop()
    assert [list(line.cells) for line in read_csv(path).lines][1:] == [row for row in tidy if row]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("6,4 kg", "6.4 kg"), ("12,25", "12.25"), ("1,200 lb", "1,200 lb"), ("1,2,3", "1.2.3"), ("a,b", "a,b")],
)
def test_a_decimal_comma_is_a_point_but_a_thousand_is_not_guessed_at(typed, meant):
    """1,200 is a thousand to one and one and a fifth to another: it is left to be refused."""
    assert with_points(typed) == meant


def test_a_decimal_comma_counts_where_it_parts_no_cells(house_with):
    """A table of cooks as a spreadsheet saves it where decimals have commas."""
    rows = "day;cut;mass;pit;setpoint;took\n2026-11-21;brisket;6,4 kg;north;107,2 C;13 h\n"
    (cook,) = read_house(house_with(cooks__csv=rows)).cooks
    assert (cook.mass_kg, cook.setpoint_c) == (6.4, 107.2)
    with pytest.raises(HouseFileError, match=r"cooks\.csv, line 2, mass: found '1,200 lb'"):
        read_house(house_with(cooks__csv=rows.replace("6,4 kg", "1,200 lb")))


def test_a_time_with_its_seconds_is_read(house_with):
    """As spreadsheets save a time of day."""
    (sale,) = read_house(house_with(sales__csv=SALES.replace("18:40", "18:40:00"))).sales
    assert f"{sale.sold_out_at:%H:%M}" == "18:40"
