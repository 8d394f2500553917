"""Date marks: day 1 is the day it is made, frozen days do not count."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import BoardError
from board.safety.date_marks import date_rule, last_day

days = st.dates(date(2020, 1, 1), date(2030, 1, 1))
some_days = st.integers(0, 30).map(timedelta)


def test_the_worked_example():
    """North Carolina: cooked Oct 1, frozen Oct 3, thawed Oct 10 as day 3, last day Oct 14 as day 7."""
    frozen = [(date(2026, 10, 3), date(2026, 10, 10))]
    assert last_day(date(2026, 10, 1), frozen) == date(2026, 10, 14)


def test_seven_days_with_the_day_it_is_made():
    """3-501.17: made on the 1st, last used on the 7th; over the end of a month and of February."""
    assert last_day(date(2026, 10, 1)) == date(2026, 10, 7)
    assert last_day(date(2026, 12, 29)) == date(2027, 1, 4)
    assert last_day(date(2028, 2, 25)) == date(2028, 3, 2)


def test_frozen_on_the_day_it_was_made():
    """That day is day 1 all the same; the day of the thaw is day 2."""
    assert last_day(date(2026, 10, 1), [(date(2026, 10, 1), date(2026, 10, 20))]) == date(2026, 10, 25)


def test_frozen_twice_and_overlapping():
    """Each frozen day is left out once, in whatever order they are told."""
    twice = [(date(2026, 10, 12), date(2026, 10, 15)), (date(2026, 10, 3), date(2026, 10, 10))]
    assert last_day(date(2026, 10, 1), twice) == date(2026, 10, 17)
    assert last_day(date(2026, 10, 1), [*twice, (date(2026, 10, 9), date(2026, 10, 13))]) == date(
        2026, 10, 19
    )


def test_the_rule_itself():
    """Seven days at 5 °C, for food kept over 24 h."""
    rule = date_rule()
    assert (rule.most_days, rule.cold_most_c, rule.kept_over_hours) == (7, 5, 24)
    assert "3-501.17" in rule.source
    assert date_rule("eu").borrowed


def test_thawed_before_it_was_frozen_is_told():
    """One line with both days."""
    with pytest.raises(
        BoardError, match="thawed on 2026-10-02, allowed a day from its freezing on 2026-10-03"
    ):
        last_day(date(2026, 10, 1), [(date(2026, 10, 3), date(2026, 10, 2))])


@given(days, st.lists(st.tuples(some_days, some_days), max_size=4))
def test_seven_days_out_of_the_freezer(made: date, spells):
    """From the day made, frozen or not, to the last, both with, just seven days count."""
    frozen = [(made + start, made + start + length) for start, length in spells]
    last = last_day(made, frozen)
    counted = [
        day
        for n in range((last - made).days + 1)
        if (day := made + timedelta(days=n)) == made or not any(into <= day < out for into, out in frozen)
    ]
    assert len(counted) == 7
    assert counted[-1] == last
