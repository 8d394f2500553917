"""Where a load stands against its time, from its plan and what was marked."""

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from board.house.spans import TimeSpan
from board.ledger.state import LoadStage
from board.planning.plan import PlannedLoad
from board.views.progress import Risk, curve, progress, warmth
from tests.app.house_fixture import at, loads
from tests.views.facts_fixture import state

HAM: PlannedLoad = next(load for load in loads() if load.id == "sat-ham")
MINUTE = timedelta(minutes=1)


def test_load_not_due_keeps_its_plan() -> None:
    """Before its loading time a load is as planned, its spare counting the finishing work."""
    found = progress(HAM, state("sat-ham", LoadStage.PLANNED), at("04:00"))
    assert found.pull == HAM.pull_at
    assert found.spare_minutes == HAM.spare_minutes_p50


def test_overdue_load_moves_with_the_clock() -> None:
    """A load not on yet is as late as it is overdue."""
    found = progress(HAM, state("sat-ham", LoadStage.PLANNED), HAM.load_at + 30 * MINUTE)
    assert found.pull.p50 == HAM.pull_at.p50 + 30 * MINUTE


def test_load_that_went_on_late_is_late_by_that() -> None:
    """A load that went on after its plan ends as much later, and is at risk in words of three."""
    for minutes, risk in ((-60, Risk.IN_TIME), (20, Risk.MAYBE_LATE), (50, Risk.LATE)):
        on = HAM.load_at + minutes * MINUTE
        found = progress(HAM, state("sat-ham", LoadStage.ON, on_at=on), at("05:42"))
        assert found.risk is risk


def test_core_at_its_aim_is_done_now() -> None:
    """A core read at its aim, within what a probe shows, is ready to pull."""
    on = state("sat-ham", LoadStage.ON, on_at=HAM.load_at, last_core_c=64.6)
    assert progress(HAM, on, at("08:00"), aim_c=65).pull.p50 == at("08:00")


def test_revised_time_replaces_the_plan() -> None:
    """A pull time revised by readings is used, and what has not happened is not in the past."""
    revised = {HAM.id: TimeSpan(at("05:00"), at("09:00"), at("11:00"))}
    found = progress(HAM, state("sat-ham", LoadStage.ON, on_at=HAM.load_at), at("05:42"), revised)
    assert found.pull == TimeSpan(at("05:42"), at("09:00"), at("11:00"))


def test_pulled_load_is_ready_when_rested() -> None:
    """After pulling, only the rest is left and nothing is uncertain."""
    pulled = state("sat-ham", LoadStage.PULLED, on_at=HAM.load_at, pulled_at=at("09:00"))
    found = progress(HAM, pulled, at("09:05"))
    assert found.ready.p10 == found.ready.p90 == at("09:00") + timedelta(minutes=HAM.rest_minutes)


def test_the_pull_itself_does_not_make_a_load_ready_sooner() -> None:
    """Pulled at its likely moment a load is ready when it was expected, its finishing work still to do."""
    pull, work = HAM.pull_at, timedelta(minutes=HAM.rest_minutes + 20)
    ham = replace(HAM, ready_at=TimeSpan(pull.p10 + work, pull.p50 + work, pull.p90 + work))
    on = state("sat-ham", LoadStage.ON, on_at=HAM.load_at)
    off = replace(on, stage=LoadStage.PULLED, pulled_at=pull.p50)
    before, after = progress(ham, on, at("05:42")), progress(ham, off, pull.p50)
    assert (after.ready.p50, after.spare_minutes) == (before.ready.p50, before.spare_minutes)


@given(late=st.integers(0, 400), later=st.integers(0, 400))
def test_going_on_later_never_makes_it_ready_sooner(late: int, later: int) -> None:
    """Of two loads on, the one that went on later has no more time to spare."""
    first, second = sorted((late, later))
    spare = [
        progress(
            HAM, state("sat-ham", LoadStage.ON, on_at=HAM.load_at + n * MINUTE), at("04:40")
        ).spare_minutes
        for n in (first, second)
    ]
    assert spare[0] >= spare[1]


def test_curve_runs_straight_between_readings() -> None:
    """Between loading and the readings the core is drawn straight; after the last it stays."""
    points = [(at("02:00"), 44.0)]
    assert curve(points, at("00:00"), at("04:00"), 4.0, 4) == (24.0, 44.0, 44.0, 44.0)
    assert curve([], at("00:00"), at("04:00"), 4.0, 4) == ()


def test_warmth_is_a_fraction() -> None:
    """Warmth goes from nothing at the start to all at the aim, and no further."""
    assert (warmth(0, 4, 94), warmth(49, 4, 94), warmth(120, 4, 94)) == (0.0, 0.5, 1.0)
