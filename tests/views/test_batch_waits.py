"""What waits for a batch, and what fails with one that is late."""

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from board.ledger.state import BatchStage, Entry, LoadStage, LoadState
from board.views.batch_waits import Waiting, fails, waits, waits_line
from board.views.batches import batches
from board.views.facts import Facts
from board.views.opening import opening
from board.views.story import happened
from board.views.text import Tone
from tests.app.house_fixture import at

from .cure_fixture import CURE, HAMS, KEY, SERVED, curing, standing, tuesday

NOON = at("12:00")


def found(facts: Facts) -> Waiting:
    """The hams that wait for the cure."""
    return next(iter(waits(facts, tuesday(), tuesday().batches[0])))


def said(facts: Facts) -> tuple[str, ...]:
    """What fails with the cure."""
    return fails(facts, tuesday(), tuesday().batches[0], waits(facts, tuesday(), tuesday().batches[0]))


def test_what_waits_is_said_with_its_service() -> None:
    """The hams of Tuesday's lunch wait for the cure that is made on Saturday."""
    line = waits_line(curing(NOON), waits(curing(NOON), tuesday(), tuesday().batches[0]))
    assert line == "waits: 6 hams for lunch on Tuesday 22 December"


def test_last_moment_to_begin_is_counted_back_with_the_shortest_gaps() -> None:
    """Loading at 04:40 and 45 min to spare, less 48 h 30 to inject and lie, less 4 h 25 to make and chill."""
    assert found(curing(NOON)).start_by == at("00:30", 1)


def test_a_batch_in_time_moves_nothing() -> None:
    """Before it must be made, and while the gaps still swallow the delay, no load moves."""
    for now in (NOON, at("20:00"), at("23:30")):
        assert (found(curing(now)).moves_minutes, found(curing(now)).late_minutes) == (0.0, 0.0)


def test_a_late_batch_tells_by_how_much_its_load_moves() -> None:
    """Begun at 00:50, the hams go on an hour and five minutes later: their spare of 45 min is gone by 20."""
    late = found(curing(at("00:50", 1)))
    assert (late.moves_minutes, late.late_minutes) == (65.0, 20.0)
    assert said(curing(at("00:50", 1))) == (
        "6 hams move by 1 h 05: 20 min late for lunch on Tuesday 22 December ▲",
    )


def test_a_delay_within_the_spare_says_until_when() -> None:
    """A load that moves and is still in time says from when it is not."""
    assert said(curing(at("00:10", 1))) == (
        "6 hams move by 25 min, still in time for lunch on Tuesday 22 December; late if begun after 00:30",
    )


def test_a_batch_thrown_away_leaves_its_loads_with_none() -> None:
    """What waits for a discarded batch is told to be planned again."""
    gone = curing(at("14:00"), batches=standing(BatchStage.DISCARDED, at("13:00"), discarded_at=at("13:30")))
    assert said(gone) == ("6 hams for lunch on Tuesday 22 December have none: plan that day again",)


def test_nothing_waits_once_the_meat_has_it() -> None:
    """A load that is on the pit no longer waits."""
    on = LoadState(HAMS, SERVED, LoadStage.ON, at("04:40", 3), at("04:40", 3), None, None, 36, None, None)
    facts = curing(at("05:00", 3), loads={(SERVED, HAMS): on})
    assert waits(facts, tuesday(), tuesday().batches[0]) == ()


def test_the_list_shows_what_fails_under_the_batch() -> None:
    """A late batch carries its sentence in the list, one in time none; before it is due it says to start."""
    late = next(line for line in batches(curing(at("00:50", 1))).lines if line.key == KEY)
    assert late.fails == said(curing(at("00:50", 1)))
    assert late.state == "overdue ▲, 25 min, Wren"
    assert batches(curing(NOON)).lines[0].fails == ()
    assert batches(curing(at("12:45"))).lines[0].state == "start now, late ▲, 25 min, Wren"


def test_opening_tells_what_fails_with_a_late_batch() -> None:
    """Whoever walks in sees under a late batch which load comes late with it, and none under one in time."""
    late = opening(curing(at("00:50", 1))).batches[0]
    assert late.fails == said(curing(at("00:50", 1)))
    assert opening(curing(NOON)).batches[0].fails == ()


def test_opening_tells_of_a_batch_thrown_away() -> None:
    """A discarded batch is told first, with its reason."""
    data = {"day": SERVED.isoformat(), "stage": "discarded", "reason": "left out"}
    entry = Entry(7, at("14:00"), at("14:00"), "wren", "batch", CURE, data)
    told = happened(curing(at("14:10"), since=(entry,)))
    assert [(one.says, one.tone) for one in told] == [("ham cure, 2.9 kg, discarded: left out", Tone.CARE)]


@given(st.integers(0, 6000), st.integers(0, 600))
def test_a_batch_begun_later_never_helps(minutes: int, more: int) -> None:
    """The later a batch is begun, the further its load moves and the later its service, and never sooner."""
    sooner, later = (curing(NOON + timedelta(minutes=m)) for m in (minutes, minutes + more))
    assert found(sooner).moves_minutes <= found(later).moves_minutes
    assert found(sooner).late_minutes <= found(later).late_minutes


@given(st.integers(0, 6000))
def test_a_service_is_late_exactly_after_the_last_moment(minutes: int) -> None:
    """Begun by the moment that is told its service is in time; begun after it, it is not."""
    facts = curing(NOON + timedelta(minutes=minutes))
    assert (found(facts).late_minutes > 0) == (facts.now > found(facts).start_by)


def test_a_cure_of_another_name_is_not_waited_for() -> None:
    """Only what the load's own work uses is waited for."""
    assert tuesday().batches[0].id == CURE
    rub = tuesday().batches[0]
    other = type(rub)(**{**{n: getattr(rub, n) for n in rub.__dataclass_fields__}, "recipe": "pepper-rub"})
    assert waits(curing(NOON), tuesday(), other) == ()
