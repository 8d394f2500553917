"""What is left out of a feed lies between what is kept."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from board.house.probes import Keeping
from board.probes.reading import Sent
from board.probes.thinning import Thinning

from .by_hand import NOON, minutes

KEEPING = Keeping(every_minutes=1.0, change_k=1.0, silent_minutes=10.0)
steps = st.tuples(st.sampled_from([0.02, 0.1, 0.5, 1.0, 3.0]), st.floats(-2, 2).map(lambda k: round(k, 2)))


def course(moves: list[tuple[float, float]], probe: str = "a") -> list[Sent]:
    """Readings that follow each other by minutes and kelvins."""
    found, at, celsius = [], NOON, 100.0
    for minute, kelvins in moves:
        at, celsius = at + minutes(minute), round(celsius + kelvins, 2)
        found.append(Sent(probe, at, celsius))
    return found


def kept(readings: list[Sent], keeping: Keeping = KEEPING) -> list[Sent]:
    """What is kept of them from first to last."""
    thinning = Thinning(keeping)
    return [one for reading in readings for one in thinning.keep(reading)] + thinning.end()


@given(st.lists(steps, max_size=60))
def test_what_is_left_out_lies_between_what_is_kept(moves: list[tuple[float, float]]) -> None:
    """Each reading left out has warmer and colder kept ones close before and after it; extremes survive."""
    readings = course(moves)
    found = kept(readings)
    assert found == sorted(found, key=lambda one: one.at)
    assert set(found) <= set(readings)
    for function in (min, max):
        temperatures = [one.temperature_c for one in readings]
        assert not readings or function(one.temperature_c for one in found) == function(temperatures)
    for one in readings:
        before = [other for other in found if other.at <= one.at]
        after = [other for other in found if other.at >= one.at]
        assert before
        assert after
        near = [*before[-3:], *after[:3]]
        assert min(o.temperature_c for o in near) <= one.temperature_c <= max(o.temperature_c for o in near)
        assert one.at - before[-1].at < minutes(KEEPING.every_minutes) or one in found


def gaps(readings: list[Sent], silent_minutes: float) -> list[tuple[Sent, Sent]]:
    """The readings about each silence longer than so many minutes."""
    return [pair for pair in pairwise(readings) if pair[1].at - pair[0].at > minutes(silent_minutes)]


@given(st.lists(steps, max_size=60), st.floats(1.5, 20))
def test_silences_show_as_they_were(moves: list[tuple[float, float]], silent: float) -> None:
    """A gap in what is kept is a gap in what was sent, from its last reading to its next one."""
    readings = course(moves)
    assert gaps(kept(readings), silent) == gaps(readings, silent)


def test_nothing_is_left_out_where_all_is_asked_for() -> None:
    """A house may keep everything; a reading that comes late is always kept."""
    readings = course([(0.01, 0.0)] * 50)
    assert kept(readings, Keeping(0.0, 1.0, 10.0)) == readings
    late = Sent("a", NOON, 100.0)
    thinning = Thinning(KEEPING)
    assert [thinning.keep(one) for one in (readings[0], readings[1], late)] == [[readings[0]], [], [late]]


def test_a_steady_probe_is_kept_once_a_minute() -> None:
    """An hour at one reading a second leaves about sixty; two probes do not mix."""
    one = course([(1 / 60, 0.0)] * 3600)
    two = course([(1 / 60, 0.0)] * 3600, "b")
    mixed = [reading for pair in zip(one, two, strict=True) for reading in pair]
    assert len(kept(one)) <= 62
    assert len(kept(mixed)) == 2 * len(kept(one))


def test_what_is_held_back_comes_when_a_probe_falls_silent() -> None:
    """The last reading before a silence is kept while it lasts, once."""
    readings = course([(0.1, 0.0)] * 4)
    thinning = Thinning(KEEPING)
    for one in readings:
        thinning.keep(one)
    assert thinning.overdue(NOON + minutes(1)) == []
    assert thinning.overdue(NOON + minutes(5)) == [readings[-1]]
    assert thinning.overdue(NOON + minutes(9)) == []
