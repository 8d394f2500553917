"""Which backups go: what stays is close together near now, and one a month for ever."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from board.ledger.backups.named import Backup, Kind
from board.ledger.backups.thinning import ALL_FOR, AT_ONCE, DAILY_FOR, STAYING, WEEKLY_FOR, needless

ZONE = ZoneInfo("America/Denver")
FIRST = datetime(2026, 1, 1, 12, tzinfo=UTC)


def backup(at: datetime, kind: Kind = Kind.DAILY) -> Backup:
    """A backup of a moment."""
    return Backup(Path(f"{at:%Y%m%d%H%M}{kind}"), at, 1, kind)


def thinned(backups: list[Backup], now: datetime) -> list[Backup]:
    """What stays once nothing more may go."""
    left = list(backups)
    while gone := needless(left, now, ZONE):
        left = [one for one in left if one not in gone]
    return left


def test_two_years_of_days_leave_some_dozens() -> None:
    """A backup each day, thinned each day: fourteen days, eight weeks, and a month each after that."""
    kept: list[Backup] = []
    for day in range(730):
        now = FIRST + timedelta(days=day)
        kept = [*kept, backup(now)]
        gone = needless(kept, now, ZONE)
        kept = [one for one in kept if one not in gone]
    ages = [(FIRST + timedelta(days=729) - one.at).days for one in kept]
    assert sum(age < 14 for age in ages) == 14
    assert 7 <= sum(14 <= age < 60 for age in ages) <= 8
    assert 21 <= sum(age >= 60 for age in ages) <= 24


@given(
    st.lists(
        st.tuples(st.integers(-400, 60 * 24 * 500), st.sampled_from(Kind)),
        max_size=40,
        unique_by=lambda x: x[0],
    )
)
def test_what_goes_has_a_newer_one_near_it(drawn: list[tuple[int, Kind]]) -> None:
    """The newest stays, all of the last day stay, what was made before a change stays; few go at a time."""
    now = FIRST + timedelta(days=600)
    backups = [backup(now - timedelta(minutes=age), kind) for age, kind in drawn]
    once = needless(backups, now, ZONE)
    assert len(once) <= AT_ONCE
    left = thinned(backups, now)
    gone = [one for one in backups if one not in left]
    assert not any(one.kind in STAYING or now - one.at < ALL_FOR for one in gone)
    for one in gone:
        age = now - one.at
        near = timedelta(days=1 if age < DAILY_FOR else 7 if age < WEEKLY_FOR else 31)
        assert any(timedelta(0) <= other.at - one.at <= near for other in left if other is not one)


def test_a_clock_a_year_ahead_costs_three_backups_and_not_all() -> None:
    """What one day with a wrong clock lets go is no more than that."""
    backups = [backup(FIRST + timedelta(days=day)) for day in range(14)]
    left = [one for one in backups if one not in needless(backups, FIRST + timedelta(days=379), ZONE)]
    assert len(left) == 14 - AT_ONCE
    assert all(later.at - earlier.at <= timedelta(days=AT_ONCE + 1) for earlier, later in pairwise(left))
