"""How long an item lasts: today's pace and past days as one, and what must hold whatever is sold."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from board.house.past import Sale
from board.planning.selling import Pace, Selling, Serving, alike, pace_of, rate_of, runs_out

DAY = date(2026, 12, 19)
OPENS = datetime(2026, 12, 19, 11, 0, tzinfo=ZoneInfo("America/Chicago"))
LUNCH = Serving("lunch", DAY, OPENS, OPENS + timedelta(hours=4))


def sale(weeks: int, sold: int, out: time | None = None, days: int = 0) -> Sale:
    """Lunch some weeks and days ago."""
    return Sale(DAY - timedelta(weeks=weeks, days=days), "lunch", "brisket", sold, 0, out)


def pace(sold: int, minutes: float, past: tuple[Sale, ...] = ()) -> Pace:
    """The pace so long into lunch, of 96 promised."""
    return pace_of(past, LUNCH, Selling("brisket", 96, sold), OPENS + timedelta(minutes=minutes))


def test_a_sold_out_service_sold_faster_than_its_length_says() -> None:
    """48 sold by half past twelve are 48 in an hour and a half, not in four hours."""
    assert rate_of(sale(1, 45, time(12, 30)), LUNCH) == 0.5
    assert rate_of(sale(1, 48), LUNCH) == 0.2


def test_a_late_service_sold_out_past_midnight() -> None:
    """60 sold from nine until one are 15 an hour, though the service runs until three."""
    night = OPENS.replace(hour=21)
    late = Serving("lunch", DAY, night, night + timedelta(hours=6))
    assert rate_of(sale(1, 60, time(1, 0)), late) == 0.25


def test_a_night_on_which_the_clock_is_changed_is_as_long_as_it_is() -> None:
    """From ten until three, six hours go by where the clock is set back, and four where it is set on."""
    zone = ZoneInfo("America/Chicago")
    for day, hours in ((date(2026, 10, 31), 6), (date(2026, 3, 7), 4)):
        at = datetime(day.year, day.month, day.day, 22, 0, tzinfo=zone)
        until = (at + timedelta(days=1)).replace(hour=3)
        night = Serving("lunch", day, at, until)
        assert night.minutes == hours * 60
        found = pace_of((), night, Selling("brisket", 0, 60), until.astimezone(UTC))
        assert found.today == hours / (hours + 1)


def test_past_services_of_the_same_weekday_are_leaned_on_where_there_are_enough() -> None:
    """Three Saturdays are enough to leave other days aside; two are not."""
    other = tuple(sale(n, 20, days=1) for n in range(1, 5))
    saturdays = tuple(sale(n, 40) for n in range(1, 4))
    assert alike((*other, *saturdays), LUNCH, "brisket") == (list(saturdays), True)
    assert alike((*other, *saturdays[:2]), LUNCH, "brisket") == ([*other, *saturdays[:2]], False)


def test_long_ago_and_today_are_no_past_days() -> None:
    """What was sold half a year ago, or this very day, is not leaned on."""
    assert alike((sale(26, 40), sale(0, 40)), LUNCH, "brisket") == ([], True)


def test_an_hour_of_today_weighs_as_much_as_past_days() -> None:
    """After an hour of 48 where past lunches sold 24 an hour, the pace is 36 an hour."""
    past = tuple(sale(n, 96) for n in range(1, 4))
    found = pace(48, 60, past)
    assert (round(found.per_minute * 60, 9), found.today) == (36.0, 0.5)


def test_portions_that_come_on_the_way_carry_it_on() -> None:
    """Ten now and ten in ten minutes last twenty at one a minute; without the second ten, ten."""
    later = [(OPENS + timedelta(minutes=10), 10)]
    assert runs_out(10, later, 1.0, OPENS, LUNCH.until) == OPENS + timedelta(minutes=20)
    assert runs_out(10, [], 1.0, OPENS, LUNCH.until) == OPENS + timedelta(minutes=10)


def test_a_gap_before_the_next_wave_ends_it() -> None:
    """What comes only after the last portion went does not hide that there was none."""
    later = [(OPENS + timedelta(minutes=30), 50)]
    assert runs_out(10, later, 1.0, OPENS, LUNCH.until) == OPENS + timedelta(minutes=10)


WAVES = st.lists(st.tuples(st.integers(0, 239), st.integers(1, 60)), max_size=4)


@given(
    stock=st.integers(1, 200),
    sold=st.integers(0, 200),
    more=st.integers(1, 100),
    served=st.floats(0, 230),
    waves=WAVES,
    past=st.lists(st.integers(0, 200), max_size=5),
)
def test_more_sold_never_makes_it_last_longer(
    stock: int, sold: int, more: int, served: float, waves: list[tuple[int, int]], past: list[int]
) -> None:
    """Portions sold leave the stock and quicken the pace: neither ever puts the end off."""
    now = OPENS + timedelta(minutes=served)
    coming = [(OPENS + timedelta(minutes=minute), portions) for minute, portions in waves]
    before = tuple(sale(n + 1, one) for n, one in enumerate(past))
    few = runs_out(stock, coming, pace(sold, served, before).per_minute, now, LUNCH.until)
    many = runs_out(
        max(0, stock - more), coming, pace(sold + more, served, before).per_minute, now, LUNCH.until
    )
    assert few is None or (many is not None and many <= few)


@given(stock=st.integers(0, 200), rate=st.floats(0, 5), waves=WAVES)
def test_it_never_runs_out_before_now_nor_after_the_end(
    stock: int, rate: float, waves: list[tuple[int, int]]
) -> None:
    """A moment told lies between now and the end of the service."""
    coming = [(OPENS + timedelta(minutes=minute), portions) for minute, portions in waves]
    out = runs_out(stock, coming, rate, OPENS, LUNCH.until)
    assert out is None or OPENS <= out <= LUNCH.until
