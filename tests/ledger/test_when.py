"""The moment meant by a typed time."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import LedgerError
from board.ledger.when import moment_meant

ZONE = ZoneInfo("America/Denver")


def local(text: str) -> datetime:
    """A moment given with its offset."""
    return datetime.fromisoformat(text).astimezone(UTC)


@pytest.mark.parametrize(
    ("typed", "now", "meant"),
    [
        ("04:30", "2026-12-09T05:42-07:00", "2026-12-09T04:30-07:00"),
        ("4:30:15", "2026-12-09T05:42-07:00", "2026-12-09T04:30:15-07:00"),
        ("23:40", "2026-12-09T01:00-07:00", "2026-12-08T23:40-07:00"),
        ("7:50 pm", "2026-12-09T05:42-07:00", "2026-12-08T19:50-07:00"),
        ("5:30AM", "2026-12-09T05:42-07:00", "2026-12-09T05:30-07:00"),
        ("05:44", "2026-12-09T05:42-07:00", "2026-12-09T05:44-07:00"),  # another device's clock
        ("00:02", "2026-12-08T23:59-07:00", "2026-12-09T00:02-07:00"),
        ("06:00", "2026-12-09T05:42-07:00", "2026-12-08T06:00-07:00"),
        ("2026-12-09T04:30-07:00", "2026-12-09T05:42-07:00", "2026-12-09T04:30-07:00"),
        ("2026-12-09T11:30Z", "2026-12-09T05:42-07:00", "2026-12-09T04:30-07:00"),
        ("2026-12-08 21:10", "2026-12-09T05:42-07:00", "2026-12-08T21:10-07:00"),
        ("2026-12-08 9:10 pm", "2026-12-09T05:42-07:00", "2026-12-08T21:10-07:00"),
        # The night the clock is set back: 01:30 comes at 07:30 and at 08:30 UTC.
        ("01:30", "2026-11-01T01:40-06:00", "2026-11-01T01:30-06:00"),
        ("01:30", "2026-11-01T01:10-07:00", "2026-11-01T01:30-06:00"),
        ("01:30", "2026-11-01T01:40-07:00", "2026-11-01T01:30-07:00"),
        ("23:00", "2026-11-01T05:40-07:00", "2026-10-31T23:00-06:00"),
        # The night it is set forward: 03:10 is ten minutes after 01:59.
        ("03:10", "2026-03-08T05:40-06:00", "2026-03-08T03:10-06:00"),
        ("01:50", "2026-03-08T03:10-06:00", "2026-03-08T01:50-07:00"),
    ],
)
def test_meant(typed: str, now: str, meant: str) -> None:
    """A bare time is the nearest past one on the house's clock, over clock changes too."""
    assert moment_meant(typed, ZONE, local(now)) == local(meant)


@pytest.mark.parametrize("typed", ["25:00", "4.30", "", "noon", "2026-12-09", "12:60", "14:30 pm", "\x1b[2J"])
def test_not_a_time(typed: str) -> None:
    """What is no time is answered with two right examples."""
    with pytest.raises(LedgerError, match="give a time of day such as 04:30"):
        moment_meant(typed, ZONE, local("2026-12-09T05:42-07:00"))


def test_a_time_that_never_was() -> None:
    """A time the clock skipped is not guessed at."""
    with pytest.raises(LedgerError, match="set forward over that time on 2026-03-08"):
        moment_meant("02:30", ZONE, local("2026-03-08T05:40-06:00"))


@given(now=st.datetimes(datetime(2026, 1, 1), datetime(2027, 1, 1), timezones=st.just(UTC)))
def test_the_time_on_the_clock_now_means_now(now: datetime) -> None:
    """Typing what the house's clock shows means this very second, whatever the night."""
    now = now.replace(microsecond=0)
    meant = moment_meant(f"{now.astimezone(ZONE):%H:%M:%S}", ZONE, now)
    assert meant == now


@pytest.mark.parametrize(
    "typed", ["9999-12-31T23:59", "9999-12-31T23:59-14:00", "0001-01-01T00:00+14:00", "1900-01-01T00:00"]
)
def test_a_moment_beyond_the_calendar_is_refused(typed: str) -> None:
    """A year that no house has is a slip of the finger, told in one line."""
    with pytest.raises(LedgerError, match="is not a time"):
        moment_meant(typed, ZONE, local("2026-12-09T05:42-07:00"))
