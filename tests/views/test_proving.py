"""Readings made into a record, of which the worse of two counts."""

from datetime import UTC, datetime, timedelta

from board.house.files import read_house
from board.house.seeds import seed_house
from board.ledger.state import Reading
from board.views.proving import log_of

NOON = datetime(2026, 12, 19, 18, tzinfo=UTC)


def readings(*degrees: tuple[int, float]) -> list[Reading]:
    """Readings of (minute, °C) in one place."""
    return [
        Reading(seq, NOON + timedelta(minutes=minute), "kit", "walk-in", c)
        for seq, (minute, c) in enumerate(degrees, 1)
    ]


def test_of_two_readings_at_one_moment_the_worse_counts():
    """Of hot food the colder, of food that is to be cold the hotter, whichever was written first."""
    house = read_house(seed_house("tallow_row"))
    for two in (readings((0, 3.0), (0, 8.0), (30, 4.0)), readings((0, 8.0), (0, 3.0), (30, 4.0))):
        hot, cold = log_of(house, two), log_of(house, two, cold=True)
        assert hot is not None
        assert cold is not None
        assert (hot.temperatures_c, hot.minutes) == ((3.0, 4.0), (0.0, 30.0))
        assert cold.temperatures_c == (8.0, 4.0)


def test_a_core_hotter_than_boiling_water_is_a_lost_reading():
    """A slip of the scale proves nothing; the air of a pit may be as hot as it likes."""
    house = read_house(seed_house("tallow_row"))
    slip = readings((0, 60.0), (5, 165.0), (10, 61.0))
    core, air = log_of(house, slip, core=True), log_of(house, slip)
    assert core is not None
    assert air is not None
    assert core.temperatures_c == (60.0, None, 61.0)
    assert air.temperatures_c == (60.0, 165.0, 61.0)
