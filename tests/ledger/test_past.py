"""Finished loads as past cooks."""

from dataclasses import replace
from datetime import UTC, timedelta

import pytest

from board.house.library import library_cuts
from board.house.model import WrapMaterial, Zone
from board.ledger import write
from board.ledger.backups.catalogue import back_up
from board.ledger.backups.named import Kind
from board.ledger.backups.restore import restore
from board.ledger.doubtful import clocks
from board.ledger.open import Ledger
from board.ledger.past import mean_setpoint, past_cooks
from board.ledger.schema import what_a_load_weighs
from board.ledger.state import LoadStage
from board.ledger.typed import Said
from tests.app.house_fixture import house

from .by_hand import DAY, EVENING, LOADED, brisket, plan
from .machine import Machine
from .test_write import BRISKET, HOUR, by

CUTS = library_cuts()


def finished(ledger: Ledger, hours: float = 13.0) -> None:
    """The brisket goes on, is wrapped after seven hours and comes off."""
    write.mark_load(ledger, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    write.mark_load(ledger, BRISKET, LoadStage.WRAPPED, **by("Ines", LOADED + 7 * HOUR))
    write.mark_load(ledger, BRISKET, LoadStage.PULLED, **by("Ines", LOADED + hours * HOUR))


def rested(ledger: Ledger) -> None:
    """The next mark, after which a reading about the pull is looked for."""
    write.mark_load(ledger, BRISKET, LoadStage.RESTING, **by("Ines", LOADED + 13.5 * HOUR))


def test_a_load_marked_on_and_pulled_is_a_past_cook(planned: Ledger) -> None:
    """Its pieces, mean mass, setpoint and times are those of its plan and its marks."""
    assert past_cooks(planned, CUTS, DAY) == ()
    finished(planned)
    (cook,) = past_cooks(planned, CUTS, DAY)
    assert (cook.day, cook.cut, cook.pit, cook.pieces) == (DAY, "brisket", "north", 12)
    assert (cook.mass_kg, cook.setpoint_c, cook.minutes) == (6.0, 118.0, 780.0)
    assert (cook.wrap, cook.wrap_minute, cook.wrap_core_c) == (WrapMaterial.PAPER, 420.0, None)
    assert (cook.core_c, cook.air_c) == (None, None)
    assert past_cooks(planned, CUTS, DAY + timedelta(days=1)) == ()


def test_what_was_taken_back_teaches_nothing(planned: Ledger) -> None:
    """An undone pull leaves a load that is still cooking; a load that changed pits is left aside."""
    finished(planned)
    write.undo(planned, **by("Ines", LOADED + 13 * HOUR))
    assert past_cooks(planned, CUTS, DAY) == ()
    write.move_load(planned, BRISKET, "south", **by("Ines", LOADED + 10 * HOUR))
    write.mark_load(planned, BRISKET, LoadStage.PULLED, **by("Ines", LOADED + 13 * HOUR))
    assert past_cooks(planned, CUTS, DAY) == ()


def test_what_a_restore_set_aside_is_not_remembered(planned: Ledger) -> None:
    """Boards that are open go on with a record whose entries have the numbers of others."""
    kept = back_up(planned.path, Kind.ASKED, LOADED, UTC)
    write.note(planned, "wood is wet", **by("Ines", LOADED))
    finished(planned)
    assert past_cooks(planned, CUTS, DAY)[0].minutes == 780.0
    restore(planned.path, kept.path, Said("Ines", LOADED, LOADED))
    finished(planned, 12.0)
    assert past_cooks(planned, CUTS, DAY)[0].minutes == 720.0


def test_the_core_read_about_the_pull_is_its_end(planned: Ledger) -> None:
    """A reading long before the pull says nothing of its end; one a few minutes before or after does."""
    finished(planned)
    write.take_reading(planned, 80.0, load=BRISKET, **by("Ines", LOADED + 10 * HOUR))
    assert past_cooks(planned, CUTS, DAY)[0].core_c is None
    near = LOADED + 13 * HOUR - timedelta(minutes=6)
    write.take_reading(planned, 96.5, load=BRISKET, **by("Ines", near))
    rested(planned)
    assert past_cooks(planned, CUTS, DAY)[0].core_c == 96.5


def test_of_two_cores_about_the_pull_the_nearer_is_its_end(planned: Ledger) -> None:
    """A probe pulled out and left to read the room nine minutes later does not end the cook at 24 °C."""
    finished(planned)
    for minutes, celsius in ((-12.0, 94.0), (-2.0, 96.0), (9.0, 24.0)):
        at = LOADED + 13 * HOUR + timedelta(minutes=minutes)
        write.take_reading(planned, celsius, load=BRISKET, **by("Ines", at))
    rested(planned)
    assert past_cooks(planned, CUTS, DAY)[0].core_c == 96.0


def test_the_air_read_while_it_cooked_is_averaged(planned: Ledger) -> None:
    """Three readings or more of its pit's air make a mean; readings before it went on do not count."""
    finished(planned)
    for hour, celsius in ((-1, 60.0), (2, 112.0), (5, 116.0)):
        write.take_reading(planned, celsius, place="north", **by("Ines", LOADED + hour * HOUR))
    assert past_cooks(planned, CUTS, DAY)[0].air_c is None
    write.take_reading(planned, 114.0, place="north", **by("Ines", LOADED + 9 * HOUR))
    rested(planned)
    assert past_cooks(planned, CUTS, DAY)[0].air_c == pytest.approx(114.0)


def test_a_pit_set_anew_counts_each_setpoint_by_its_time(planned: Ledger) -> None:
    """Thirteen hours, the last 6.5 of them at 122 °C instead of 110 °C: 116 °C in the mean."""
    write.light(planned, "north", 110.0, **by("Ines", LOADED - HOUR))
    write.light(planned, "north", 122.0, **by("Ines", LOADED + 6.5 * HOUR))
    finished(planned)
    assert past_cooks(planned, CUTS, DAY)[0].setpoint_c == pytest.approx(116.0)


def test_a_mean_setpoint_without_marks_is_the_planned_one() -> None:
    """Where nobody marked the fire, the plan is believed until the first mark."""
    later = LOADED + 10 * HOUR
    assert mean_setpoint((), LOADED, later, 118.0) == 118.0
    assert mean_setpoint([(LOADED + 5 * HOUR, 128.0)], LOADED, later, 118.0) == pytest.approx(123.0)


def test_a_ledger_from_before_gets_mass_and_setpoint_from_its_record(planned: Ledger) -> None:
    """The migration fills in what folding the record gives, also where a later plan says otherwise."""
    finished(planned)
    later, hotter = LOADED + 14 * HOUR, replace(brisket(), setpoint_c=130.0)
    write.commit_plan(planned, replace(plan(), loads=(hotter,)), **by("Ada", later))
    as_folded = planned.rows("SELECT id, mass_kg, setpoint_c FROM loads ORDER BY id")
    assert {"id": BRISKET, "mass_kg": 72.0, "setpoint_c": 118.0} in as_folded
    for column in ("mass_kg", "setpoint_c"):
        planned.db.execute(f"ALTER TABLE loads DROP COLUMN {column}")
    what_a_load_weighs(planned.db)
    assert planned.rows("SELECT id, mass_kg, setpoint_c FROM loads ORDER BY id") == as_folded


def test_a_load_begun_by_its_rub_keeps_the_plan_it_was_begun_by(planned: Ledger) -> None:
    """The last step before the pit starts a load as much as loading does: a later plan leaves it as it is."""
    write.mark_step(planned, f"{BRISKET}.rub", **by("Ada", LOADED - HOUR))
    hotter = replace(brisket(), setpoint_c=130.0)
    write.commit_plan(planned, replace(plan(), loads=(hotter,)), **by("Ada", LOADED))
    as_folded = planned.rows("SELECT stage, mass_kg, setpoint_c FROM loads")
    assert as_folded == [{"stage": "prepped", "mass_kg": 72.0, "setpoint_c": 118.0}]
    for column in ("mass_kg", "setpoint_c"):
        planned.db.execute(f"ALTER TABLE loads DROP COLUMN {column}")
    what_a_load_weighs(planned.db)
    assert planned.rows("SELECT stage, mass_kg, setpoint_c FROM loads") == as_folded


def test_a_cook_in_a_zone_met_the_air_of_the_zone(ledger: Ledger) -> None:
    """On shelves 14 K over a setpoint of 118 °C it was cooked at 132 °C, and so was its air as read."""
    write.commit_plan(ledger, plan(replace(brisket(), zone="upper")), **by("Ada", EVENING))
    finished(ledger)
    for hours in (2, 4, 6):
        write.take_reading(ledger, 116.0, place="north", **by("Ines", LOADED + hours * HOUR))
    write.mark_load(ledger, BRISKET, LoadStage.RESTING, **by("Ines", LOADED + 13.5 * HOUR))
    shelves = (Zone("lower", "lower", 1.0), Zone("upper", "upper", 1.0, 14.0))
    north = replace(house().pits["north"], zones=shelves)
    (cook,) = past_cooks(ledger, CUTS, DAY, {"north": north})
    assert (cook.setpoint_c, cook.air_c) == (132.0, 130.0)
    (unknown,) = past_cooks(ledger, CUTS, DAY)
    assert (unknown.setpoint_c, unknown.air_c) == (118.0, 116.0)


def on_a_machine(ledger: Ledger, *errors: timedelta, boots: bool = False) -> Machine:
    """The brisket goes on, is wrapped and comes off by a clock that is wrong by so much at each."""
    machine = Machine(true=LOADED).runs(ledger)
    write.note(ledger, "right", **machine.said())
    stages = (LoadStage.ON, LoadStage.WRAPPED, LoadStage.PULLED)
    for stage, hours, error in zip(stages, (1, 6, 5), errors, strict=True):
        if boots and error:
            machine.boot, machine.booted = "boot-2", machine.true
        machine.error = error
        write.mark_load(ledger, BRISKET, stage, **machine.said(60 * hours))
    machine.error = timedelta(0)
    for minutes in (60, 300):
        write.note(ledger, "right", **machine.said(minutes))
    return machine


@pytest.mark.parametrize("boots", [False, True])
def test_a_cook_over_which_the_clock_was_set_teaches_once_it_is_put_right(
    boots: bool, planned: Ledger
) -> None:
    """Its pull was written by a clock two hours ahead: it says so, until that is put right."""
    machine = on_a_machine(planned, timedelta(0), timedelta(0), 2 * HOUR, boots=boots)
    (cook,) = past_cooks(planned, CUTS, DAY)
    assert (cook.is_untimed, cook.minutes) == (True, 780.0)
    (doubt,) = clocks(planned, 1).doubts
    write.put_times_right(planned, doubt, 2 * HOUR, **machine.said(1))
    (cook,) = past_cooks(planned, CUTS, DAY)
    assert (cook.is_untimed, cook.minutes) == (False, 660.0)
    write.undo_together(planned, **machine.said(1))
    assert past_cooks(planned, CUTS, DAY)[0].is_untimed


def test_a_cook_all_by_one_clock_teaches_whichever_was_right(planned: Ledger) -> None:
    """How long it took is the same by a clock that was wrong from before it until after it."""
    machine = on_a_machine(planned, HOUR, HOUR, HOUR)
    for minutes in (60, 900):
        write.note(planned, "right", **machine.said(minutes))
    assert clocks(planned, 1).doubts
    (cook,) = past_cooks(planned, CUTS, DAY)
    assert (cook.is_untimed, cook.minutes) == (False, 660.0)


def test_a_machine_that_starts_again_over_a_cook_with_a_right_clock_throws_no_doubt_on_it(
    planned: Ledger,
) -> None:
    """A power cut alone is no reason."""
    machine = Machine(true=LOADED).runs(planned)
    write.mark_load(planned, BRISKET, LoadStage.ON, **machine.said(1))
    machine.boot, machine.booted = "boot-2", machine.true
    write.mark_load(planned, BRISKET, LoadStage.PULLED, **machine.said(600))
    assert [cook.is_untimed for cook in past_cooks(planned, CUTS, DAY)] == [False]
