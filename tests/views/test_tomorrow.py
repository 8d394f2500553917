"""The Tomorrow view and its timeline."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from board.ledger.state import LoadStage
from board.views.canvas import Shade
from board.views.timeline import Bar, in_lanes, timeline, use
from board.views.timeline_drawing import draw
from board.views.timeline_window import SIDE, Window, whole
from board.views.tomorrow import tomorrow
from tests.app.house_fixture import DAY, ZONE, at, plan
from tests.views.facts_fixture import facts, standing, state


def text_of(width: int = 100) -> list[str]:
    """Saturday's timeline drawn as plain text."""
    line = timeline(facts(now=at("03:00", -2)), plan())
    return [drawn.text for drawn in draw(line, whole(line, width), ZoneInfo(ZONE))]


def test_each_pit_has_its_loads() -> None:
    """Every load's name is drawn on its pit's lines."""
    lines = text_of(160)
    north = next(i for i, line in enumerate(lines) if line.strip().startswith("North"))
    assert "12 briskets" in lines[north]
    assert any("35 rib racks" in line for line in lines)


def test_lines_have_the_width_asked() -> None:
    """The drawing takes the width it was given, whatever that is."""
    for width in (60, 80, 133, 240):
        assert {len(line) for line in text_of(width)} == {width}


def test_phases_follow_each_other() -> None:
    """A bar goes from heating through its finish to rest and hold, and never back."""
    line = timeline(facts(now=at("03:00", -2)), plan())
    window = whole(line, 200)
    drawn = draw(line, window, ZoneInfo(ZONE))
    row = next(one for one in drawn if "12 briskets" in one.text)
    grounds = [dot.ground for dot in row.dots if dot.ground is not Shade.NONE]
    order = [Shade.HEAT, Shade.WRAPPED, Shade.FINISH, Shade.REST, Shade.HOLD]
    assert [g for i, g in enumerate(grounds) if i == 0 or grounds[i - 1] is not g] == order


def test_finish_fades_over_the_likely_span() -> None:
    """From the early to the late end of the pull the colour fades without a step up."""
    line = timeline(facts(now=at("03:00", -2)), plan())
    row = next(one for one in draw(line, whole(line, 200), ZoneInfo(ZONE)) if "12 briskets" in one.text)
    levels = [dot.level for dot in row.dots if dot.ground is Shade.FINISH]
    assert levels == sorted(levels, reverse=True)
    assert len(levels) > 3


@given(
    starts=st.lists(st.tuples(st.integers(0, 1000), st.integers(1, 400)), min_size=1, max_size=15),
)
@settings(deadline=None)
def test_bars_in_a_lane_never_overlap(starts: list[tuple[int, int]]) -> None:
    """Whatever the loads, two bars of one lane share no moment."""
    line = timeline(facts(now=at("03:00", -2)), plan())
    pattern = line.pits[0].bars[0]
    bars = []
    for number, (start, length) in enumerate(starts):
        begin = at("00:00") + timedelta(minutes=start)
        end = begin + timedelta(minutes=length)
        span = type(pattern.pull)(end, end, end)
        bars.append(Bar(str(number), "x", 0, begin, None, span, end, end, pattern.risk))
    placed = in_lanes(bars)
    for one in placed:
        for other in placed:
            if one is not other and one.lane == other.lane:
                assert one.needed_at <= other.load_at or other.needed_at <= one.load_at


def test_use_adds_what_is_in_a_pit_together() -> None:
    """Room in use is the sum of what lies in the pit at each moment."""
    pieces = use([(at("01:00"), at("03:00"), 0.25), (at("02:00"), at("04:00"), 0.5)])
    assert [(p.start, p.end, p.fraction) for p in pieces] == [
        (at("01:00"), at("02:00"), 0.25),
        (at("02:00"), at("03:00"), 0.75),
        (at("03:00"), at("04:00"), 0.5),
    ]


def test_hours_are_true_over_a_clock_change() -> None:
    """On the night the clocks go forward the hour that is not is not written, and columns stay elapsed."""
    from datetime import UTC, datetime  # noqa: PLC0415 - beside its only use

    line = timeline(facts(now=at("03:00", -2)), plan())
    start = datetime(2027, 3, 14, 6, 0, tzinfo=UTC)
    drawn = draw(line, Window(start, 10, 60), ZoneInfo(ZONE))
    hours = drawn[0].text[SIDE:].split()
    assert hours[:4] == ["00", "01", "03", "04"]


def test_running_load_is_drawn_where_it_is_likely_now() -> None:
    """A load that went on late has its bar moved."""
    on = standing(state("sat-ham", LoadStage.ON, on_at=at("05:40")))
    bars = {bar.key: bar for pit in timeline(facts(loads=on), plan()).pits for bar in pit.bars}
    assert bars[f"{DAY}/sat-ham"].load_at == at("05:40")


def test_chain_ends_at_the_plate() -> None:
    """The chosen load's chain runs in order of time from its first work to the first portion."""
    view = tomorrow(facts(), DAY, selected=f"{DAY}/sat-brisket")
    assert view.account is not None
    assert [link.what for link in view.account.chain] == [
        "make", "rub", "light", "load", "wrap", "pull", "slice", "ready", "needed",
    ]  # fmt: skip
    assert view.account.why[0].startswith("11:00 less 15 to slice")


def test_shortfall_carries_its_cure() -> None:
    """What will be short says for whom, how many, why, and what would cure it."""
    lack = tomorrow(facts(), DAY).lacks[0]
    assert lack.says == "lunch: pork short 10"
    assert lack.cures[0].startswith("light Little")


def test_draft_stands_before_the_committed_plan() -> None:
    """A draft is shown in place of the committed plan, and says that it is one."""
    assert tomorrow(facts(), DAY).standing == "committed"
    assert tomorrow(facts(), DAY, draft=plan()).standing == "draft, not committed"


def test_day_without_a_plan_still_lists_its_promises() -> None:
    """An unplanned day says so and shows what the house promises on it."""
    view = tomorrow(facts(plans={}), DAY)
    assert view.standing == "not planned yet"
    assert {p.item for p in view.promises} >= {"brisket-plate", "ribs"}


def test_edited_promise_is_shown() -> None:
    """A promise changed since the plan replaces the plan's number."""
    view = tomorrow(facts(promises={(DAY, "lunch", "ham-plate"): 40}), DAY)
    assert next(p.portions for p in view.promises if p.item == "ham-plate") == 40
