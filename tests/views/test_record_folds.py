"""Lines of the record that are told in one: sales of an item, readings in one go; and the filter."""

from dataclasses import replace
from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from board.views.record_folds import FOLD, filtered, folded
from board.views.record_line import RecordLine
from board.views.text import Tone


def line(
    key: int, fold: str = "", says: str = "something", portions: int = 0, who: str = "Wren"
) -> RecordLine:
    """A line of the record."""
    return RecordLine(
        key=str(key),
        day="",
        clock=f"12:{key:02d}",
        says=says,
        who=who,
        noted="",
        taken_back=False,
        tone=Tone.PLAIN,
        on=date(2026, 12, 19),
        fold=fold,
        part="brisket" if portions else "North 118°",
        portions=portions,
    )


def test_sales_of_an_item_are_one_line_that_opens() -> None:
    """Three sales are told as one with their sum, since the oldest; opened, each stands under it."""
    lines = [line(3, "sale", portions=9), line(2), line(1, "sale", portions=2), line(0, "sale", portions=1)]
    closed = folded(lines)
    assert [one.says for one in closed] == ["12 brisket sold in 3 sales since 12:00", "something"]
    assert closed[0].opens == "closed"
    opened = folded(lines, {f"{FOLD}sale"})
    assert [one.key for one in opened] == [f"{FOLD}sale", "3", "1", "0", "2"]
    assert [one.within for one in opened] == [False, True, True, True, False]


def test_readings_in_one_go_name_the_first_few() -> None:
    """Six readings are one line that names four of them and counts the others."""
    says = folded([line(n, "reading") for n in range(6, 0, -1)])[0].says
    assert says.startswith("6 temperatures: North 118°, ")
    assert says.endswith(" and 2 more")


def test_one_alone_stays_as_it_is() -> None:
    """A single sale is no fold."""
    assert folded([line(1, "sale", portions=4)]) == (line(1, "sale", portions=4),)


def test_sales_by_several_people_say_how_many() -> None:
    """A fold of one person's lines names that person, else how many there were."""
    assert folded([line(1, "sale", portions=1), line(0, "sale", portions=1, who="Bram")])[0].who == "2 people"


def test_filter_wants_every_word_in_any_order() -> None:
    """Words narrow what is said, by whom and when, whatever their case."""
    lines = [line(1, says="North read 118°"), line(2, says="North was lit", who="Bram"), line(3)]
    assert [one.key for one in filtered(lines, "bram NORTH")] == ["2"]
    assert [one.key for one in filtered(lines, "12:01")] == ["1"]
    assert len(filtered(lines, "today")) == 3


@given(folds=st.lists(st.sampled_from(["", "a", "b", "c"]), max_size=30))
def test_nothing_is_lost_or_told_twice(folds: list[str]) -> None:
    """With every fold opened each line stands once; closed, the portions still sum up."""
    lines = [line(n % 60, fold, portions=1 if fold else 0) for n, fold in enumerate(folds)]
    lines = [replace(one, key=str(n)) for n, one in enumerate(lines)]
    opened = folded(lines, {f"{FOLD}{fold}" for fold in folds})
    assert sorted(one.key for one in opened if not one.opens) == sorted(one.key for one in lines)
    many = [int(one.says.split()[0]) if one.opens else one.portions for one in folded(lines)]
    assert sum(many) == sum(one.portions for one in lines)
