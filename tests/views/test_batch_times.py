"""When a batch is ready: by its making, by its temperature, or by its planned time, and which of these."""

from board.ledger.state import BatchStage, Reading
from board.views.batch_times import times
from board.views.batches import batches
from board.views.facts import Facts
from tests.app.house_fixture import at

from .cure_fixture import CURE, SERVED, curing, standing, tuesday

MADE = at("13:30")


def made(now: str, *read: tuple[str, float]) -> Facts:
    """The cure made at 13:30, half an hour late, with these temperatures read of it."""
    readings = tuple(
        Reading(n, at(clock), "wren", "1219-ham-cure-1", celsius) for n, (clock, celsius) in enumerate(read)
    )
    return curing(at(now), batches=standing(BatchStage.MADE, MADE), chilling={(SERVED, CURE): readings})


def known(facts: Facts) -> tuple[object, ...]:
    """From when it is ready, whether it is, and how that is known."""
    found = times(facts, tuesday(), tuesday().batches[0])
    return found.ready_from, found.is_ready, found.known


def test_ready_and_use_by_move_with_the_making() -> None:
    """Made half an hour late, it is ready and goes off half an hour later than planned."""
    found = times(made("14:00"), tuesday(), tuesday().batches[0])
    assert (found.ready_from, found.use_by) == (at("17:30"), at("13:30", 1))


def test_a_brine_read_cold_is_ready_then() -> None:
    """5 °C or less, as cold food is held (FDA Food Code 3-501.16), makes it ready before its time."""
    assert known(made("15:10", ("14:00", 30.0), ("15:00", 5.0))) == (
        at("15:00"),
        True,
        "ready: read 5° at 15:00",
    )


def test_a_brine_read_warm_is_not_ready_though_its_time_has_come() -> None:
    """What was last read warmer than that waits, whatever the plan says."""
    ready_from, is_ready, says = known(made("18:00", ("17:40", 5.5)))
    assert (ready_from, is_ready, says) == (at("18:00"), False, "not cold yet: read 6° at 17:40")
    line = batches(made("18:00", ("17:40", 5.5))).lines[0]
    assert "not cold yet" in line.state


def test_a_brine_nobody_measured_is_ready_by_its_time_and_says_so() -> None:
    """Without a reading the planned time counts, and that nobody measured is told."""
    assert known(made("17:00")) == (at("17:30"), False, "")
    assert known(made("17:40")) == (
        at("17:30"),
        True,
        "ready by its planned time; nobody has read how cold it is",
    )


def test_a_batch_past_its_use_by_says_so() -> None:
    """A day after its making the cure is past its use-by while meat still waits for it."""
    facts = curing(at("13:40", 1), batches=standing(BatchStage.MADE, MADE))
    assert "past its use-by ▲" in batches(facts).lines[0].state


def test_a_discarded_batch_tells_why() -> None:
    """The reason stands in the list."""
    gone = standing(BatchStage.DISCARDED, MADE, discarded_at=at("14:00"), discarded_why="too much cure")
    assert batches(curing(at("14:10"), batches=gone)).lines[0].state == (
        "discarded: too much cure, lot 1219-ham-cure-1"
    )
