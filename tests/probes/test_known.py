"""Which probe of the house a message is of, when it was taken, and which load a meat probe is in."""

from datetime import UTC, date, datetime, timedelta

import pytest

from board.probes.known import OnPit, check_time, measured, sent
from board.probes.reading import Fed, Sent, Told
from board.probes.refused import BadMessageError

from .by_hand import GRATE, MEAT, NAMED, NOON, ZONE, minutes

DAY = date(2026, 12, 9)


def test_the_house_knows_the_probe_and_its_unit() -> None:
    """A name sent becomes the probe's id; degrees become °C by the message's unit, else by the probe's.

    225 °F is 107.22 °C, by (225 - 32) / 1.8: NIST SP 811, appendix B.8.
    """
    assert sent(Told("pit 1/air", 225.0), NAMED, ZONE, NOON) == Sent("north-grate", NOON, 107.22)
    assert sent(Told("pit 1/air", 107.22, "C"), NAMED, ZONE, NOON).temperature_c == 107.22


@pytest.mark.parametrize(
    ("told", "says"),
    [
        (Told("east", 225.0), "found the probe 'east', allowed north-grate"),
        (Told("south-shelf", 225.0), "give south-shelf its unit in probes.toml"),
        (Told("north-grate", 999.0), "found 999 F, allowed -40 to 400 C"),
        (Told("north-grate", -200.0, "C"), "found -200 C"),
    ],
)
def test_what_the_house_does_not_know_is_refused(told: Told, says: str) -> None:
    """An unknown probe, no unit, no kitchen temperature: each in a line that names what is allowed."""
    with pytest.raises(BadMessageError, match=says):
        sent(told, NAMED, ZONE, NOON)


def wall(*at: int) -> Told:
    """A reading at a time of a clock on the wall."""
    return Told("meat-1", 60.0, at=datetime(*at))  # type: ignore[arg-type]


def test_a_time_without_offset_is_the_houses() -> None:
    """A logger's local time is of the house's zone: 05:40 in Denver in December is 12:40 UTC (tzdata)."""
    assert sent(wall(2026, 12, 9, 5, 40), NAMED, ZONE, NOON).at == datetime(2026, 12, 9, 12, 40, tzinfo=UTC)


def test_an_hour_shown_twice_is_the_one_it_came_in() -> None:
    """On 1 November 2026 Denver's clocks show 01:30 twice, at 07:30 and at 08:30 UTC (tzdata)."""
    for hour in (7, 8):
        came = datetime(2026, 11, 1, hour, 31, tzinfo=UTC)
        assert sent(wall(2026, 11, 1, 1, 30), NAMED, ZONE, came).at == came - minutes(1)
    with pytest.raises(BadMessageError, match="showed twice"):
        sent(wall(2026, 11, 1, 1, 30), NAMED, ZONE, datetime(2026, 11, 1, 20, 0, tzinfo=UTC))
    with pytest.raises(BadMessageError, match="showed never"):
        sent(wall(2026, 3, 8, 2, 30), NAMED, ZONE, NOON)


def test_a_clock_that_was_never_set_is_told() -> None:
    """Times still to come, and those of a device that woke up in 1970, are no readings."""
    check_time(NOON + minutes(4), NOON)
    check_time(NOON - timedelta(days=30), NOON)
    with pytest.raises(BadMessageError, match="still to come"):
        check_time(NOON + minutes(6), NOON)
    with pytest.raises(BadMessageError, match="set the probe's clock"):
        check_time(datetime(1970, 1, 1, tzinfo=UTC), NOON)


def stay(load: str, since: float = -60, until: float | None = None, zone: str | None = None) -> OnPit:
    """A load on North from some minutes about noon."""
    ended = None if until is None else NOON + minutes(until)
    return OnPit(load, DAY, "north", zone, NOON + minutes(since), ended)


def test_a_meat_probe_reads_the_one_load_that_is_there() -> None:
    """It hangs at a pit: with one load on it, it is in that; with two or none, in nothing that is known."""
    one = Sent("meat-1", NOON, 60.0)
    assert measured(one, MEAT, [stay("a")]) == Fed("meat-1", NOON, 60.0, None, "a", DAY)
    assert measured(one, MEAT, [stay("a", until=-1), stay("b", since=-1)]).load == "b"
    assert measured(one, MEAT, [stay("a"), stay("b")]).load is None
    assert measured(one, MEAT, [stay("a", until=0)]).load is None
    assert measured(one, MEAT, [stay("a", since=1)]).load is None
    assert measured(one, GRATE, [stay("a")]) == Fed("meat-1", NOON, 60.0, "north")
