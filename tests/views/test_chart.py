"""A load's chart: its lines, the span ahead, and its drawing at any size."""

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.house.model import Display
from board.house.spans import TimeSpan
from board.views.canvas import Shade
from board.views.chart import Ahead, Air, Chart, Moment, Read, Stretch, ahead_of, moment_of, value_at
from board.views.chart_drawing import GUTTER, LABELS, draw
from board.views.chart_words import Words
from board.views.progress import Risk
from tests.app.house_fixture import ZONE, at, span

WORDS = Words(ZoneInfo(ZONE), Display())
COURSE = tuple(
    (at("19:00", -1) + timedelta(hours=hour), core_c)
    for hour, core_c in ((0, 4.0), (2, 35.0), (4, 60.0), (8, 72.0), (11, 95.0))
)
LAST = (at("02:00"), 68.0)
PULL = span("05:30", "07:00", "09:00")
rising = st.lists(st.floats(0.1, 20.0), min_size=2, max_size=12)


def chart(**changes: object) -> Chart:
    """A brisket's chart at 03:00, its core read four times."""
    facts: dict[str, object] = {
        "start": at("19:00", -1),
        "end": at("11:30"),
        "now": at("03:00"),
        "low_c": 0.0,
        "high_c": 101.0,
        "pull_c": 95.0,
        "needed_at": at("11:00"),
        "risk": Risk.IN_TIME,
        "so_far": ((at("19:00", -1), 4.0), (at("22:00", -1), 45.0), LAST),
        "reads": (Read(at("22:00", -1), 45.0), Read(at("00:10"), 180.0, counts=False), Read(*LAST)),
        "course": COURSE,
        "ahead": ahead_of(COURSE, LAST, PULL),
        "stall": Stretch(at("22:30", -1), at("03:30"), "stall"),
        "moments": (Moment(at("01:30"), "wrapped"), Moment(PULL.p50, "pull")),
    }
    return Chart(**{**facts, **changes})  # type: ignore[arg-type]


def drawn(of: Chart, width: int = 78, height: int = 12) -> list[str]:
    """The chart as lines of text."""
    return [line.text for line in draw(of, width, height, WORDS)]


@given(rising)
def test_a_rising_line_comes_to_each_of_its_values_where_it_has_them(rises: list[float]) -> None:
    """Looking up a moment and looking up a value undo each other."""
    line, core_c = [(at("20:00"), 4.0)], 4.0
    for i, rise in enumerate(rises):
        core_c += rise
        line.append((at("20:00") + timedelta(minutes=30 * (i + 1)), core_c))
    middle = line[0][0] + (line[-1][0] - line[0][0]) / 3
    value = value_at(line, middle)
    assert value is not None
    found = moment_of(line, value)
    assert found is not None
    assert abs(found - middle) < timedelta(seconds=1)
    assert value_at(line, line[-1][0] + timedelta(seconds=1)) is None
    assert moment_of(line, core_c + 1.0) is None


def test_the_way_ahead_runs_from_the_last_reading_to_the_likely_pulls() -> None:
    """All three courses begin at the last reading and end at the aim, at the likely pulls in order."""
    found = ahead_of(COURSE, LAST, PULL)
    assert found is not None
    for line, end in ((found.soonest, PULL.p10), (found.middle, PULL.p50), (found.latest, PULL.p90)):
        assert line[0][0] == LAST[0]
        assert line[0][1] == pytest.approx(LAST[1])
        assert line[-1] == (end, 95.0)


@given(st.floats(5.0, 94.0), st.integers(1, 200), st.integers(0, 300), st.integers(0, 300))
def test_the_soonest_course_is_never_behind_the_latest(
    core_c: float, least: int, more: int, most: int
) -> None:
    """At any core the soonest course comes there first, the latest last, whatever was read."""
    ends = [LAST[0] + timedelta(minutes=least + extra) for extra in (0, more, more + most)]
    found = ahead_of(COURSE, (LAST[0], core_c), TimeSpan(*ends))
    assert isinstance(found, Ahead)
    for part in (0.25, 0.5, 0.9):
        aim = core_c + part * (95.0 - core_c)
        times = [moment_of(line, aim) for line in (found.soonest, found.middle, found.latest)]
        assert None not in times
        assert times == sorted(times)  # type: ignore[type-var]


def test_nothing_is_ahead_of_a_pull_that_is_past() -> None:
    """A load read after its latest likely pull has no way ahead to draw."""
    assert ahead_of(COURSE, (at("10:00"), 94.0), PULL) is None


def test_a_core_past_the_whole_course_is_still_drawn_to_its_pull() -> None:
    """A core above the expected end, waiting to be tender, runs on to the likely pull."""
    found = ahead_of(COURSE, (at("06:00"), 96.0), PULL)
    assert found is not None
    assert found.middle[0] == (at("06:00"), 96.0)
    assert found.middle[-1][0] == PULL.p50


@settings(max_examples=60, deadline=None)
@given(st.integers(GUTTER + 20, 240), st.integers(6, 70), st.booleans())
def test_a_chart_is_drawn_in_exactly_its_room(width: int, height: int, with_air: bool) -> None:
    """At any size the chart has so many lines of so many characters."""
    air = Air(((at("20:00", -1), 98.0), (at("23:00", -1), 118.0)), 118.0, 8.0) if with_air else None
    lines = drawn(chart(air=air), width, height)
    assert [len(line) for line in lines] == [width] * height


def test_readings_that_count_are_full_and_those_left_out_hollow() -> None:
    """Each reading has a mark; one beyond the axis lies at its edge."""
    lines = drawn(chart())
    assert sum(line.count("●") for line in lines) == 2
    assert "○" in lines[LABELS]


def test_moments_are_named_over_the_plot() -> None:
    """Now, the time it is needed, the wrap and the pull stand over it with their times."""
    top = "\n".join(drawn(chart(), width=118)[:LABELS])
    for label in ("now 03:00", "needed 11:00", "wrapped 01:30", "pull 07:00"):
        assert label in top


def test_a_late_load_says_so_over_the_plot() -> None:
    """The time a late load is needed carries the sign for late."""
    assert "needed ▲ 11:00" in drawn(chart(risk=Risk.LATE))[0]


def test_a_time_beyond_the_chart_points_there() -> None:
    """A service hours after the chart's end is named at its edge with an arrow."""
    assert drawn(chart(needed_at=at("17:00")))[0].rstrip().endswith("needed 17:00 →")


def test_air_below_its_band_is_drawn_as_late() -> None:
    """The pit's air has a sign of warning where it was read below what was asked less its band."""
    air = Air(((at("20:00", -1), 98.0), (at("21:00", -1), 100.0), (at("23:00", -1), 118.0)), 118.0, 8.0)
    row = draw(chart(air=air), 78, 14, WORDS)[-2]
    inks = [dot.ink for dot in row.dots if dot.glyph in "▼▁▂▃▄▅▆▇█"]
    assert inks[0] is Shade.LATE
    assert inks[-1] is Shade.ROOM
    assert "118° at 23:00, 118° asked" in row.text


def test_the_band_is_strongest_where_the_middle_course_runs() -> None:
    """Along the pull line the ground is warmest at the likely pull and fades to both ends."""
    row = draw(chart(), 118, 20, WORDS)[LABELS + 1]
    levels = [dot.level for dot in row.dots if dot.ground is Shade.FINISH]
    top = levels.index(max(levels))
    assert 0 < top < len(levels) - 1
    assert levels[:top] == sorted(levels[:top])
    assert levels[top:] == sorted(levels[top:], reverse=True)


def test_a_chart_before_anything_is_known_is_still_one() -> None:
    """Without readings, course or sums the axes and the aim stand."""
    bare = chart(so_far=(), reads=(), course=(), ahead=None, stall=None, moments=())
    assert any("pull" in line for line in drawn(bare))


def test_a_house_with_twelve_hours_and_fahrenheit_reads_its_own() -> None:
    """The axes are in the house's clock and degrees."""
    words = Words(ZoneInfo(ZONE), Display(temperature="degF", clock_hours=12))
    text = "\n".join(line.text for line in draw(chart(), 118, 20, words))
    assert "203°" in text
    assert "now 3:00a" in text
