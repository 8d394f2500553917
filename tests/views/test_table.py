"""Laying out a table: exact widths, nothing overlapping, sentences wrapped and not lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.views.table import Column, Row, Table, body_lines, fit, head_line, share
from board.views.text import Cell, inert, padded, width_of, wrapped

words = st.text(st.characters(categories=("L", "N", "P", "S", "Zs")), max_size=40).map(inert)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """Tables of up to five columns and six rows with any words."""
    columns = draw(
        st.lists(
            st.builds(Column, words, st.booleans(), st.integers(0, 3), st.booleans()), min_size=1, max_size=5
        )
    )
    rows = draw(
        st.lists(
            st.lists(words, min_size=len(columns), max_size=len(columns)).map(
                lambda texts: Row("", tuple(Cell(text) for text in texts), (Cell(texts[0]),))
            ),
            max_size=6,
        )
    )
    return Table(draw(words), tuple(columns), tuple(rows), draw(words), draw(words))


@given(table=tables(), width=st.integers(1, 120))
def test_every_line_has_exactly_the_width(table: Table, width: int) -> None:
    """Whatever the words, each laid-out line takes just the columns there are."""
    for line in (head_line(table, width), *body_lines(table, width)):
        assert width_of(line.text) == width


@given(table=tables())
def test_every_row_is_drawn(table: Table) -> None:
    """No row is left out, in whatever width."""
    assert {line.row for line in body_lines(table, 40)} >= set(range(len(table.rows)))


def test_columns_line_up() -> None:
    """Cells of a column start in the same place, numbers end in the same place."""
    table = Table(
        "Items",
        (Column(), Column("have", right=True)),
        (Row("a", (Cell("pork"), Cell("7"))), Row("b", (Cell("brisket"), Cell("120")))),
    )
    assert [line.text for line in body_lines(table, 20)] == ["pork        7       ", "brisket   120       "]
    assert head_line(table, 20).text == "Items    have       "


def test_columns_that_may_go_go_first() -> None:
    """In a narrow room the columns marked to be dropped go, the highest number first."""
    cells = tuple(Cell(text) for text in ("pull 6 shoulders", "10 min", "Tomas"))
    table = Table("", (Column(grow=True), Column(drop=1), Column(drop=2)), (Row("a", cells),))
    assert fit(table, 40)[0] == [0, 1, 2]
    assert fit(table, 26)[0] == [0, 1]
    assert fit(table, 18)[0] == [0]


def test_days_are_said_one_way_down_a_column() -> None:
    """Where one of them has room only for its short form, the others are said in short too."""
    rows = tuple(
        Row(text, (Cell(text, short=short), Cell("pull 6")))
        for text, short in (("tomorrow 8:15 am", "Tue 8:15 am"), ("Tuesday 10:45 am", "Tue 10:45 am"))
    )
    columns = (Column(right=True, alike=True), Column())
    assert [line.text[:16].strip() for line in body_lines(Table("", columns, rows), 80)] == [
        "tomorrow 8:15 am",
        "Tuesday 10:45 am",
    ]
    narrow = body_lines(Table("", columns, rows), 20)
    assert [line.text[:12].strip() for line in narrow] == ["Tue 8:15 am", "Tue 10:45 am"]


def test_long_sentence_wraps_under_itself() -> None:
    """A sentence too long for its column goes on below, beside nothing else."""
    cells = (Cell("05:45"), Cell("pull 6 shoulders from South and rest them on the bench"))
    table = Table("", (Column(), Column(grow=True)), (Row("a", cells),))
    lines = [line.text.rstrip() for line in body_lines(table, 40)]
    assert lines == ["05:45  pull 6 shoulders from South and", "       rest them on the bench"]


@given(text=st.text(max_size=80), width=st.integers(1, 50))
def test_padded_text_has_its_width(text: str, width: int) -> None:
    """Padding or cutting gives exactly the columns asked for, wide characters included."""
    assert width_of(padded(inert(text), width)) == width


@given(text=st.text(max_size=200), width=st.integers(2, 50))
def test_wrapping_loses_no_letter(text: str, width: int) -> None:
    """Broken into lines, a text still holds every character but its blanks, and no line is too wide."""
    calm = inert(text)
    lines = wrapped(calm, width)
    assert "".join("".join(lines).split()) == "".join(calm.split())
    assert all(width_of(line) <= width for line in lines)


@given(text=st.text(max_size=80))
def test_inert_text_is_printable_and_stays_so(text: str) -> None:
    """Nothing a terminal obeys is left, and making it harmless twice changes nothing."""
    calm = inert(text)
    assert calm.isprintable()
    assert inert(calm) == calm


@given(wants=st.lists(st.integers(1, 60), min_size=1, max_size=5), room=st.integers(0, 100))
def test_sharing_gives_no_more_than_wanted(wants: list[int], room: int) -> None:
    """Lists share a room without exceeding it, unless their leasts do, and get no more than they want."""
    least = [min(want, 4) for want in wants]
    given_rows = share(room, wants, least)
    assert all(got <= want for got, want in zip(given_rows, wants, strict=True))
    assert sum(given_rows) <= max(room, sum(least))


@pytest.mark.parametrize("width", range(8, 40))
def test_a_time_of_day_stays_in_one(width: int) -> None:
    """However narrow a sentence, a 12-hour time keeps its am or pm, and a span breaks between its times."""
    lines = wrapped("likely 10:15 am–10:50 pm, needed at 11:00 am", width)
    assert "".join(lines).replace(" ", "") == "likely10:15am–10:50pm,neededat11:00am"
    assert not any(line.rstrip(",–").endswith((":15", ":50", ":00")) for line in lines)
