"""A load's page: its first sentence, its readings and notes, and what the sums expect of it."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.ledger.state import LoadStage, Reading
from board.views.facts import Facts
from board.views.load_course import course_of, known_of
from board.views.load_page import LoadPage, load_page
from board.views.load_page_tables import known_table, why_table
from board.views.revising import LikelyPull
from board.views.text import Tone
from tests.app.boards import looked
from tests.app.house_fixture import DAY, at, span
from tests.views.facts_fixture import facts, standing, state

BRISKET = f"{DAY.isoformat()}/sat-brisket"
HAM = f"{DAY.isoformat()}/sat-ham"
ON = at("19:12", -1)


def cooking(*cores: tuple[str, float]) -> Facts:
    """The briskets on since the evening, their core read at times of the night."""
    read = tuple(
        Reading(seq, at(clock), "ines", "", core, "sat-brisket")
        for seq, (clock, core) in enumerate(cores, start=1)
    )
    last = {"last_core_c": read[-1].temperature_c, "last_core_at": read[-1].at} if read else {}
    on = state("sat-brisket", LoadStage.ON, since=ON, on_at=ON, pit="north", **last)
    return facts(loads=standing(on), readings={(DAY, "sat-brisket"): read})


def page(of: Facts, key: str = BRISKET, **more: object) -> LoadPage:
    """The page of a load that is there."""
    found = load_page(of, key, **more)  # type: ignore[arg-type]
    assert found is not None
    return found


def why_said(found: LoadPage) -> list[str]:
    """Every sentence of a page's account."""
    return [cell.text for table in found.why for row in table.rows for cell in row.cells]


def test_a_load_no_plan_knows_has_no_page() -> None:
    """A load that was planned away, or never was, has nothing to show."""
    assert load_page(facts(), f"{DAY.isoformat()}/nothing") is None
    assert load_page(facts(), "2020-01-01/sat-brisket") is None


@pytest.mark.parametrize(
    ("pull", "says", "tone"),
    [
        (("06:20", "07:05", "08:10"), "2 h 40 to spare", Tone.GOOD),
        (("06:20", "09:20", "10:30"), "may be late ?", Tone.CARE),
        (("09:20", "10:30", "11:00"), "45 min too late ▲", Tone.LATE),
    ],
)
def test_the_first_sentence_says_how_it_stands(pull: tuple[str, str, str], says: str, tone: Tone) -> None:
    """In time, perhaps late or late: in words, with a sign and a tone."""
    found = page(cooking(("04:00", 83.0)), revised={"sat-brisket": span(*pull)})
    assert found.verdict.startswith("Ready about ")
    assert found.verdict.endswith(says)
    assert found.tone is tone


def test_a_load_at_its_aim_is_to_be_probed_and_pulled_now() -> None:
    """Once its core was read at its aim, the page says what to do and leaves the proof to a probe."""
    assert page(cooking(("05:30", 95.0))).verdict.startswith("Probe the slowest piece now, and pull at 95°.")


def test_a_load_held_served_or_lost_says_so() -> None:
    """What is over has no likely times."""
    for stage, says in ((LoadStage.HOLDING, "Holding since 05:00"), (LoadStage.LOST, "This load was lost.")):
        over = state("sat-brisket", stage, since=at("05:00"), on_at=ON, pulled_at=at("04:00"))
        assert page(facts(loads=standing(over))).verdict.startswith(says)


def test_a_load_that_has_rested_is_ready_and_no_longer_late() -> None:
    """Once it is off and its rest is over the page says since when, not how late it was."""
    off = state("sat-brisket", LoadStage.PULLED, since=at("09:00"), on_at=ON, pulled_at=at("09:00"))
    found = page(facts(now=at("11:30"), loads=standing(off)))
    assert found.verdict.startswith("Rested and ready since 10:00")


def test_readings_stand_newest_first_and_those_left_out_say_why() -> None:
    """Every reading is kept; one that does not count carries its reason and a hollow mark."""
    now = cooking(("00:00", 62.0), ("02:00", 165.0), ("04:00", 83.0))
    pull = span("06:20", "07:05", "08:10")
    narrowed = LikelyPull(pull.p10, pull.p50, pull.p90, "a rough guess", ((2, "hotter than its pit"),))
    found = page(now, revised={"sat-brisket": narrowed})
    assert ("but", "a rough guess") in [(line.head, line.says) for line in found.facts]
    assert [line.says.split("  ")[0] for line in found.diary] == [
        "core 83°",
        "core 165°, left out: hotter than its pit",
        "core 62°",
    ]
    assert found.core == "core 83° at 04:00"
    assert found.chart is not None
    assert [read.counts for read in found.chart.reads] == [True, False, True]
    assert found.chart.so_far[-1] == (at("04:00"), 83.0)
    assert found.chart.high_c < 110


def test_the_core_at_the_top_is_the_last_that_counts() -> None:
    """A wild reading, kept and left out, is never shown as the core there is."""
    pull = span("06:20", "07:05", "08:10")
    left_out = LikelyPull(pull.p10, pull.p50, pull.p90, None, ((2, "°C taken for °F"),))
    now = cooking(("02:00", 74.0), ("04:00", 23.0))
    assert page(now, revised={"sat-brisket": left_out}).core == "core 74° at 02:00"
    all_wild = LikelyPull(pull.p10, pull.p50, pull.p90, None, ((1, "wild"), (2, "wild")))
    assert page(now, revised={"sat-brisket": all_wild}).core == "core not read yet"


def test_before_any_sum_the_page_shows_what_is_known() -> None:
    """Without a course the page has its sentence, its readings and the core so far; the account waits."""
    found = page(cooking(("04:00", 83.0)), busy="working it out…")
    assert found.chart is not None
    assert found.chart.so_far
    assert found.chart.ahead is None
    assert why_table(found).empty == "working it out…"
    assert known_table(found).rows


def test_a_load_not_on_yet_is_drawn_from_its_planned_loading() -> None:
    """A planned load's chart begins when it is to go on, its whole course ahead."""
    now = facts()
    found = page(now, HAM, course=looked(now, HAM))
    assert found.chart is not None
    assert found.chart.start == at("04:40")
    assert found.chart.so_far == ()
    assert found.chart.ahead is not None


def test_a_pulled_load_has_nothing_ahead() -> None:
    """Off the pit only what was read is drawn, and when it came off."""
    pulled = state("sat-brisket", LoadStage.PULLED, since=at("05:00"), on_at=ON, pulled_at=at("05:00"))
    now = facts(loads=standing(pulled))
    found = page(now, course=looked(now, BRISKET))
    assert found.chart is not None
    assert found.chart.ahead is None
    assert "pulled" in [moment.name for moment in found.chart.moments]


def test_what_the_sums_expect_of_a_load_ends_at_its_aim_and_is_accounted_for() -> None:
    """The real sums give a rising course from loading to the aim, a stall, and an account to read."""
    now = cooking(("04:00", 83.0))
    found = course_of(now, BRISKET)
    assert found is not None
    assert found.course[0][0] == ON
    assert found.course[-1][1] == pytest.approx(95.0, abs=1.0)
    assert found.stall is not None
    titles = [table.title for table in found.why]
    assert titles[:3] == ["Where the time goes", "Where the heat goes", "What each thing is worth"]


def test_the_account_of_a_load_that_was_read_tells_what_the_readings_left() -> None:
    """With readings taken, the page does not promise what readings would do: it says what they did."""
    now = cooking(("04:00", 83.0))
    course = course_of(now, BRISKET)
    pull = {"sat-brisket": span("06:12", "07:12", "08:12")}
    said = why_said(page(now, course=course, revised=pull))
    assert "Your readings have narrowed it to 11 h to 13 h." in said
    assert not any(text.startswith("With ") for text in said)
    assert any(text.startswith("With ") for text in why_said(page(cooking(), course=course, revised=pull)))


def test_a_course_is_worked_out_anew_only_when_something_was_marked() -> None:
    """A later minute or a core changes nothing of what was expected; a reading of the pit's air does."""
    now = cooking(("04:00", 83.0))
    later = replace(now, now=now.now + timedelta(minutes=1))
    air = Reading(9, at("03:00"), "ines", "north", 101.0)
    assert known_of(later, BRISKET) == known_of(now, BRISKET)
    assert known_of(cooking(("04:00", 83.0), ("05:00", 88.0)), BRISKET) == known_of(now, BRISKET)
    assert known_of(replace(now, air={"north": (air,)}), BRISKET) != known_of(now, BRISKET)


def test_a_cut_the_house_does_not_know_has_a_page_without_chart() -> None:
    """A plan may name a cut that the house files no longer have: the page stays, the chart does not."""
    now = facts()
    stranger = replace(now, house=replace(now.house, cuts={}))
    assert course_of(stranger, BRISKET) is None
    assert page(stranger).chart is None
