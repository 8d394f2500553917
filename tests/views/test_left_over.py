"""How rows that have no room are counted."""

from board.views.table import Column, Line, Row, Table, beside, fit, left_over
from board.views.text import Cell


def rows(*groups: str) -> list[Row]:
    """A row for each group."""
    return [Row(str(n), (Cell("x"),), group=group) for n, group in enumerate(groups)]


def test_rows_left_out_are_counted_by_group() -> None:
    """The first group says more, the others their number; without a group only the number."""
    assert (
        left_over(rows("before 13:00", "before 13:00", "later today"))
        == "… 2 more before 13:00, 1 later today"
    )
    assert left_over(rows("", "")) == "… 2 more"


def test_words_stand_at_the_end_of_a_line_or_not_at_all() -> None:
    """They are put at the right end where two columns stay free, else left out."""
    line = Line((Cell("Batches"), Cell("   ")))
    found = beside(line, "… 7 more", 20)
    assert found is not None
    assert found.text == "Batches" + " " * 5 + "… 7 more"
    assert beside(line, "… 7 more", 16) is None


def test_a_cut_sentence_keeps_its_columns_until_others_have_gone() -> None:
    """A sentence that is cut keeps its least width; a column that may go is dropped for it."""
    table = Table("", (Column(cut=10), Column(drop=1)), (Row("1", (Cell("w" * 40), Cell("y" * 8))),))
    assert fit(table, 30) == ([0, 1], [20, 8])
    assert fit(table, 15) == ([0], [15])
