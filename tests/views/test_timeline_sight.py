"""What of a timeline is seen: every bar in its lane, the chosen load always, the rest counted."""

from datetime import timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from board.house.spans import TimeSpan
from board.ledger.state import LoadStage
from board.views.canvas import Shade
from board.views.progress import Risk
from board.views.timeline import Bar, Fire, PitRow, Timeline, in_lanes, timeline
from board.views.timeline_bars import columns_of
from board.views.timeline_drawing import HEADS, draw, drawing
from board.views.timeline_sight import in_sight
from board.views.timeline_window import SIDE, Window, panned, resized, showing, whole, zoomed
from tests.app.house_fixture import DAY, ZONE, at, plan
from tests.views.facts_fixture import facts, standing, state

START = at("00:00")
HERE = ZoneInfo(ZONE)


def bar(name: str, start: int, cook: int, rest: int, wait: int) -> Bar:
    """A load that goes on so many minutes after midnight, with how long each phase takes."""
    on = START + timedelta(minutes=start)
    pull = [on + timedelta(minutes=cook * share) for share in (0.9, 1.0, 1.15)]
    rested = pull[2] + timedelta(minutes=rest)
    due = rested + timedelta(minutes=wait)
    label = f"{name} legs of lamb, upper shelves"
    shorter = (f"{name} legs of lamb", f"{name} legs", name)
    return Bar(name, label, 0, on, None, TimeSpan(*pull), rested, due, Risk.IN_TIME, "", shorter)


def day(pits: list[list[tuple[int, int, int, int]]]) -> Timeline:
    """A day of pits, each with its loads."""
    rows, number = [], 0
    for place, loads in enumerate(pits):
        bars = [bar(f"{number + i}", *load) for i, load in enumerate(loads)]
        number += len(loads)
        rows.append(PitRow(f"Pit {place}", "offset", tuple(in_lanes(bars)), (), ()))
    ends = [one.end for row in rows for one in row.bars]
    return Timeline(START, max(ends, default=START + timedelta(hours=12)), START, tuple(rows), (), (), ())


LOADS = st.tuples(st.integers(0, 1800), st.integers(20, 900), st.integers(0, 90), st.integers(0, 300))
DAYS = st.lists(st.lists(LOADS, max_size=8), min_size=1, max_size=6).map(day)
GAPS = st.sampled_from([-1, 0, 1])
WIDTHS = st.integers(60, 200)
MOVES = st.lists(
    st.tuples(st.sampled_from(["pan", "zoom", "choose", "resize"]), st.integers(-2, 2)), max_size=12
)


def moved(line: Timeline, window: Window, moves: list[tuple[str, int]]) -> tuple[Window, str]:
    """The hours and the chosen load after a run of keys."""
    bars = [one for pit in line.pits for one in pit.bars]
    chosen = bars[0] if bars else None
    for what, by in moves:
        if what == "pan":
            window = panned(line, window, by)
        elif what == "zoom":
            window = zoomed(line, window, by or 1)
        elif what == "resize":
            window = resized(line, window, SIDE + window.columns + 10 * by)
        elif chosen is not None:
            chosen = bars[(bars.index(chosen) + by) % len(bars)]
            window = showing(line, window, chosen.load_at, chosen.end)
    return window, chosen.key if chosen else ""


@given(line=DAYS, width=WIDTHS, moves=MOVES, gap=GAPS)
@settings(deadline=None, max_examples=60)
def test_every_bar_in_the_window_lies_alone_in_its_lane(
    line: Timeline, width: int, moves: list[tuple[str, int]], gap: int
) -> None:
    """Each load of which any part is in the hours shown has its columns, and shares none with another."""
    window, _ = moved(line, whole(line, width), moves)
    drawn = drawing(line, window, HERE, gap=gap)
    for pit in line.pits:
        for one in pit.bars:
            seen = columns_of(window, one)
            ends = max(window.column(one.load_at) + 1, window.column(one.end))
            assert bool(seen) == (one.load_at < window.end and ends > 0)
            row = next(row for row in drawn.lines if one.key in row.keys)
            assert all(row.dots[SIDE + column].ground is not Shade.NONE for column in seen)
            for other in pit.bars:
                if other is not one and other.lane == one.lane:
                    assert not set(seen) & set(columns_of(window, other))


@given(line=DAYS, width=WIDTHS, height=st.integers(4, 40), moves=MOVES)
@settings(deadline=None, max_examples=60)
def test_the_chosen_load_is_always_seen_and_named_in_full(
    line: Timeline, width: int, height: int, moves: list[tuple[str, int]]
) -> None:
    """After any run of keys the chosen load is among the lines shown, by its whole name."""
    window, chosen = moved(line, whole(line, width), moves)
    sight = in_sight(drawing(line, window, HERE), chosen, height)
    assert len(sight.lines) <= height
    assert {len(row.dots) for row in sight.lines} <= {SIDE + window.columns}
    if chosen:
        row = next(row for row in sight.lines if chosen in row.keys)
        label = next(one.label for pit in line.pits for one in pit.bars if one.key == chosen)
        assert label in row.text or window.columns < len(label) + 4
        assert "▶" in row.text or "◀" in row.text


@given(line=DAYS, width=WIDTHS, height=st.integers(4, 40), first=st.integers(0, 40), gap=GAPS)
@settings(deadline=None, max_examples=60)
def test_what_is_not_seen_is_counted(line: Timeline, width: int, height: int, first: int, gap: int) -> None:
    """Loads on lines above and below are counted in the last line, none twice and none left out."""
    sight = in_sight(drawing(line, whole(line, width), HERE, gap=gap), "", height, first)
    shown = {key for row in sight.lines for key in row.keys}
    hidden = sum(len(pit.bars) for pit in line.pits) - len(shown)
    words = sight.lines[-1].text.replace(",", " ").split()
    told = [int(word) for word, unit in pairwise(words) if unit in ("load", "loads")]
    assert sum(told) == hidden


@given(line=DAYS, width=WIDTHS, moves=MOVES)
@settings(deadline=None, max_examples=60)
def test_hours_never_leave_the_day(line: Timeline, width: int, moves: list[tuple[str, int]]) -> None:
    """However it is moved and stretched, the window begins in the day and wastes no more than it must."""
    window, _ = moved(line, whole(line, width), moves)
    assert line.start <= window.start
    assert window.end <= line.end or window.start == line.start


def test_the_whole_day_takes_the_whole_width() -> None:
    """The day is drawn as wide as whole minutes a column allow."""
    line = timeline(facts(now=at("03:00", -2)), plan())
    for width in (60, 80, 120, 200):
        window = whole(line, width)
        assert window.end >= line.end
        assert window.start + timedelta(minutes=window.minutes - 1) * window.columns < line.end


def test_each_change_of_a_fire_is_told_where_it_is_made() -> None:
    """Lit at one setpoint, changed to another: both stand on the pit's strip, in order."""
    line = day([[(120, 600, 30, 60)]])
    fires = (
        Fire(at("00:10"), at("02:00"), at("07:00"), "245°"),
        Fire(at("07:00"), at("07:00"), at("12:00"), "275°", is_change=True),
    )
    lit = Timeline(
        line.start, line.end, line.now,
        (PitRow("North", "offset", line.pits[0].bars, fires, ()),), (), (), (),
    )  # fmt: skip
    strip = draw(lit, whole(lit, 160), HERE)[HEADS + 1].text
    assert "lit 245°" in strip
    assert strip.index("lit 245°") < strip.index("→275°")


def test_an_order_has_its_name_or_a_mark_in_the_head() -> None:
    """Each order's line has something over it among the hours, however narrow."""
    line = timeline(facts(now=at("03:00", -2)), plan())
    orders = [mark for mark in line.services if mark.is_order]
    for width in (60, 80, 140):
        window = whole(line, width)
        head = draw(line, window, HERE)[0].text
        assert head.count("▾") + head.count("order") >= len(orders)


def test_what_was_marked_is_told_from_what_is_likely() -> None:
    """A load marked on and off shows so, beside the moments the plan had."""
    real = standing(
        state("sat-ham", LoadStage.RESTING, on_at=at("05:40"), pulled_at=at("09:50"), since=at("09:50"))
    )
    known = facts(now=at("10:00"), loads=real)
    line = timeline(known, plan())
    row = next(row for row in draw(line, whole(line, 200), HERE) if f"{DAY}/sat-ham" in row.keys)
    assert row.text.count("●") == 2
    assert "┆" in row.text
