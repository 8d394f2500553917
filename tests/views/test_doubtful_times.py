"""Verdicts where the clock was set between readings: by what passed on the machine, else not shown."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from board.house.probes import Probe, ProbeReads
from board.ledger import feeding, write
from board.ledger.checking import About
from board.ledger.clocks import Doubt
from board.ledger.doubtful import clocks
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import LoadStage, Reading, Timing, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.probes.reading import Fed
from board.safety.verdict import Answer, Verdict
from board.views.alarm import AlarmKind
from board.views.alarms import alarms
from board.views.checks import checks
from board.views.failing import failing
from board.views.gather import gather
from board.views.inspection import inspection
from board.views.proving import cook_verdict
from board.views.revising import estimate_now
from board.views.shown_cooked import before_serving, verdict_now
from board.views.watching import targets
from tests.app.house_fixture import DAY, ZONE, at, house, plan
from tests.ledger.machine import Machine

HOUR, DAYS = timedelta(hours=1), timedelta(days=1)
SETTLED = "its times put right (board clock --put-right "

Read = tuple[float, float]

COOLING, REHEATING = WatchKind.COOLING, WatchKind.REHEATING
THAWING, TEMPERING, HOT = WatchKind.THAWING, WatchKind.TEMPERING, WatchKind.HOT_HOLD
WATCHES: dict[str, tuple[WatchKind, list[Read], Answer]] = {
    "cooled in time": (COOLING, [(0, 57), (100, 20), (330, 4.5)], Answer.PASS),
    "cooled late": (COOLING, [(0, 57), (150, 20), (380, 4.5)], Answer.FAIL),
    "reheated in time": (REHEATING, [(0, 4), (60, 40), (110, 75), (115, 76)], Answer.PASS),
    "reheated late": (REHEATING, [(0, 4), (90, 40), (150, 75), (155, 76)], Answer.FAIL),
    "thawed": (THAWING, [(0, 2), (60, 7), (200, 7), (230, 4)], Answer.PASS),
    "thawed too long": (THAWING, [(0, 2), (60, 7), (280, 8), (340, 8), (400, 4)], Answer.FAIL),
    "tempered": (TEMPERING, [(0, 4), (60, 10), (230, 20)], Answer.PASS),
    "tempered too long": (TEMPERING, [(0, 4), (60, 10), (270, 25)], Answer.FAIL),
    "held hot": (HOT, [(0, 62), (200, 62), (400, 62)], Answer.PASS),
    "held hot, unread for long": (HOT, [(0, 62), (280, 62), (400, 62)], Answer.NOT_SHOWN),
    "held too cool": (HOT, [(0, 62), (100, 50), (200, 62)], Answer.FAIL),
}
EACH = pytest.mark.parametrize(("kind", "readings", "truth"), WATCHES.values(), ids=WATCHES)
SET_BY = [-2 * HOUR, -HOUR, HOUR, 2 * HOUR]


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """An empty ledger of the fixture's house."""
    with create_ledger(tmp_path / "board.db", house().name, ZONE, tmp_path) as opened:
        yield opened


def rights(ledger: Ledger, machine: Machine, *minutes: float) -> None:
    """Notes by a clock that is right."""
    for passed in minutes:
        write.note(ledger, "right", **machine.said(passed))


def watched(
    ledger: Ledger, kind: WatchKind, readings: list[Read], by: timedelta, *, starts_again: bool = False
) -> Machine:
    """Food under a rule; the clock is wrong from the second reading on, perhaps after a new start."""
    machine = Machine().runs(ledger)
    rights(ledger, machine, 1, 30)
    tub = write.start_watch(ledger, Watched(kind, "beans"), **machine.said()).subject
    began = machine.true
    for number, (minute, celsius) in enumerate(readings):
        machine.true = began + timedelta(minutes=minute)
        if number == 1:
            machine.error = by
            if starts_again:
                machine.boot, machine.booted = "boot-2", machine.true
        write.take_reading(ledger, celsius, place=tub, **machine.said())
    machine.error = timedelta(0)
    if kind is WatchKind.HOT_HOLD:
        write.end_watch(ledger, tub, WatchEnd.USED, **machine.said(1))
    rights(ledger, machine, 5, 600)
    return machine


def verdict_of(ledger: Ledger, machine: Machine, key: str = "watch:") -> Verdict:
    """What the record shows of the one thing of that kind."""
    found = inspection(ledger, house(), machine.booted - DAYS, machine.true + DAYS, machine.true)
    (verdict,) = (one.verdict for one in found.proofs if one.key.startswith(key))
    assert verdict is not None
    return verdict


def put_right(ledger: Ledger, machine: Machine) -> None:
    """All that wrong clocks wrote, put right."""
    for doubt in clocks(ledger, 1).doubts:
        assert doubt.ahead is not None
        write.put_times_right(ledger, doubt, doubt.ahead, **machine.said(1))


@EACH
@pytest.mark.parametrize("by", SET_BY)
def test_within_a_boot_the_verdict_is_that_of_the_time_that_passed(
    kind: WatchKind, readings: list[Read], truth: Answer, by: timedelta, ledger: Ledger
) -> None:
    """Set back or on between two readings, the answer is the true one, says so, and stays when put right."""
    machine = watched(ledger, kind, readings, by)
    found = verdict_of(ledger, machine)
    assert found.answer is truth
    way = "behind" if by < timedelta(0) else "ahead"
    assert f"were written by a clock {abs(by) // HOUR} h {way}; the time that passed is by" in found.why
    put_right(ledger, machine)
    again = verdict_of(ledger, machine)
    assert again.answer is truth
    assert "clock" not in again.why


@EACH
@pytest.mark.parametrize("by", SET_BY)
def test_over_a_new_start_nothing_is_shown_until_the_times_are_put_right(
    kind: WatchKind, readings: list[Read], truth: Answer, by: timedelta, ledger: Ledger
) -> None:
    """No count spans two boots: not shown with what settles it, or failed where it fails by either clock."""
    machine = watched(ledger, kind, readings, by, starts_again=True)
    found = verdict_of(ledger, machine)
    assert found.answer is Answer.NOT_SHOWN or (found.answer is truth is Answer.FAIL)
    if found.answer is Answer.NOT_SHOWN:
        assert found.settle.startswith(SETTLED)
        assert "so how much time passed between its readings is not shown" in found.why
    else:
        assert "it fails whichever is right" in found.why
    put_right(ledger, machine)
    assert verdict_of(ledger, machine).answer is truth


def test_food_read_too_cool_has_failed_whatever_any_clock_shows(ledger: Ledger) -> None:
    """Also by a clock that nobody knows how far it was off."""
    kind, readings, _ = WATCHES["held too cool"]
    machine = watched(ledger, kind, readings, -9_000 * DAYS, starts_again=True)
    assert verdict_of(ledger, machine).answer is Answer.FAIL


@pytest.mark.parametrize("minute", [90, 250])
def test_of_a_clock_that_nobody_knows_the_order_may_prove_that_it_is_late(
    minute: int, ledger: Ledger
) -> None:
    """Cold only by a reading of nobody knows when: late where what was read before it is late already."""
    machine = Machine().runs(ledger)
    rights(ledger, machine, 1, 30)
    tub = write.start_watch(ledger, Watched(COOLING, "beans"), **machine.said()).subject
    write.take_reading(ledger, 57.0, place=tub, **machine.said())
    write.take_reading(ledger, 40.0, place=tub, **machine.said(minute))
    machine.boot, machine.booted, machine.error = "boot-2", machine.true, -9_000 * DAYS
    write.take_reading(ledger, 4.0, place=tub, **machine.said(20))
    machine.boot, machine.booted, machine.error = "boot-3", machine.true, timedelta(0)
    rights(ledger, machine, 300, 600)
    found = verdict_of(ledger, machine)
    assert found.answer is (Answer.NOT_SHOWN if minute < 120 else Answer.FAIL)
    if found.answer is Answer.NOT_SHOWN:
        assert found.settle.endswith(" --first TIME)")


def test_of_two_wrong_clocks_only_what_needs_no_clock_has_failed(ledger: Ledger) -> None:
    """Thawed within the rule or not, by one of many ways: not shown. Held too cool: failed."""
    for kind, celsius, answer in (
        (THAWING, (2, 7, 8, 4), Answer.NOT_SHOWN),
        (HOT, (62, 62, 50, 62), Answer.FAIL),
    ):
        machine = Machine().runs(ledger)
        rights(ledger, machine, 1, 30)
        tub = write.start_watch(ledger, Watched(kind, "beans"), **machine.said()).subject
        for number, error in enumerate((-HOUR, -2 * HOUR, timedelta(0), HOUR)):
            if number in (1, 2):
                machine.boot, machine.booted = f"{kind}-{number}", machine.true
            machine.error = error
            write.take_reading(
                ledger, float(celsius[number]), place=tub, **machine.said((158, 149, 85, 120)[number])
            )
        machine.error = timedelta(0)
        rights(ledger, machine, 1, 5_000)
        assert verdict_of(ledger, machine, f"watch:{tub}").answer is answer


gaps = st.lists(st.tuples(st.integers(2, 260), st.integers(0, 80)), min_size=2, max_size=8)
sets = st.lists(st.integers(-500, 500).filter(lambda n: abs(n) > 2) | st.just(0), min_size=8, max_size=8)


@settings(max_examples=40)
@example(gaps=[(5, 60), (150, 20), (200, 4)], sets=[0, -60, 0, 0, 0, 0, 0, 0], kind=COOLING)
@given(gaps=gaps, sets=sets, kind=st.sampled_from([COOLING, REHEATING, THAWING, TEMPERING, HOT]))
def test_however_a_clock_is_set_within_a_boot_the_answer_is_the_true_one(
    gaps: list[tuple[int, int]], sets: list[int], kind: WatchKind
) -> None:
    """The same food read by a clock that nobody set, and by one set before any reading: the same answer."""
    answers = []
    for errors in ([0] * 8, sets):
        with (
            TemporaryDirectory() as folder,
            create_ledger(Path(folder) / "b.db", "C", ZONE, Path()) as ledger,
        ):
            machine = Machine().runs(ledger)
            rights(ledger, machine, 1, 30)
            tub = write.start_watch(ledger, Watched(kind, "beans"), **machine.said()).subject
            for (minutes, celsius), error in zip(gaps, errors, strict=False):
                machine.error = timedelta(minutes=error)
                write.take_reading(ledger, float(celsius), place=tub, **machine.said(minutes))
            machine.error = timedelta(0)
            rights(ledger, machine, 1, 5_000)
            answers.append(verdict_of(ledger, machine).answer)
    assert answers[0] is answers[1]


errors = st.integers(-300, 300) | st.just(0) | st.just(-9_000_000)
read = st.tuples(st.integers(2, 200), errors, st.booleans())


@settings(max_examples=60)
@example(drawn=[(5, 0, False), (150, -60, True), (200, 0, False)])
@given(st.lists(read, min_size=3, max_size=3))
def test_a_pass_that_has_doubtful_times_is_a_true_one(drawn: list[tuple[int, int, bool]]) -> None:
    """However often the machine starts again and its clock is set: only what it counted proves anything."""
    found = []
    for real in (False, True):
        with TemporaryDirectory() as folder, create_ledger(Path(folder) / "b", "C", ZONE, Path()) as ledger:
            machine = Machine().runs(ledger)
            rights(ledger, machine, 1, 30)
            tub = write.start_watch(ledger, Watched(COOLING, "beans"), **machine.said()).subject
            for celsius, (minutes, error, starts) in zip((57.0, 20.0, 4.5), drawn, strict=True):
                machine.true += timedelta(minutes=minutes)
                if real and starts:
                    machine.boot, machine.booted = f"boot-{celsius}", machine.true
                machine.error = timedelta(minutes=error) if real else timedelta(0)
                write.take_reading(ledger, celsius, place=tub, **machine.said())
            machine.error = timedelta(0)
            rights(ledger, machine, 1, 5_000)
            found.append(verdict_of(ledger, machine))
    truth, shown = found
    if "written by a clock" in shown.why and shown.answer is Answer.PASS:
        assert truth.answer is Answer.PASS


def board_night(ledger: Ledger) -> Machine:
    """Saturday committed, the shoulders on at 20:10, by a right clock; it is 20:20."""
    machine = Machine(true=at("15:00", -1), booted=at("09:00", -1)).runs(ledger)
    write.commit_plan(ledger, plan(), **machine.said())
    machine.true = at("20:10", -1)
    write.mark_load(ledger, "sat-shoulder", LoadStage.ON, **machine.said())
    machine.true = at("20:20", -1)
    rights(ledger, machine, 0)
    return machine


def test_a_core_hot_enough_at_once_needs_no_clock(ledger: Ledger) -> None:
    """After a new start with a wrong clock: 58 °C, however long, is not shown; 94 °C is shown cooked."""
    machine = board_night(ledger)
    write.take_reading(ledger, 56.0, load="sat-shoulder", **machine.said(300))
    machine.boot, machine.booted, machine.error = "boot-2", machine.true, 2 * HOUR
    write.take_reading(ledger, 58.0, load="sat-shoulder", **machine.said(120))
    machine.error = timedelta(0)
    write.mark_load(ledger, "sat-shoulder", LoadStage.PULLED, **machine.said(10))
    rights(ledger, machine, 1, 100)
    facts = gather(ledger, house(), machine.true)
    load = next(one for one in plan().loads if one.id == "sat-shoulder")
    found = verdict_now(facts, facts.plans[DAY], load)
    assert found is not None
    assert (found.answer, found.lethality_log10) == (Answer.NOT_SHOWN, None)
    assert before_serving(facts, facts.plans[DAY], load).endswith(f"are served: {found.settle}")
    machine.error = 2 * HOUR
    write.take_reading(ledger, 94.0, load="sat-shoulder", **machine.said(1))
    machine.error = timedelta(0)
    rights(ledger, machine, 1, 100)
    found = verdict_now(gather(ledger, house(), machine.true), facts.plans[DAY], load)
    assert found is not None
    assert (found.answer, found.lethality_log10) == (Answer.PASS, None)


@pytest.mark.parametrize("by", SET_BY)
def test_what_is_due_and_what_is_missed_go_by_the_time_that_passed(by: timedelta, ledger: Ledger) -> None:
    """Beans that cool are due to be read two hours after they began, and missed then, whatever was set."""
    machine = Machine(true=at("15:00"), booted=at("09:00")).runs(ledger)
    rights(ledger, machine, 1, 300)
    machine.error = by
    tub = write.start_watch(ledger, Watched(COOLING, "beans"), **machine.said(1)).subject
    write.take_reading(ledger, 57.0, place=tub, **machine.said())
    began = machine.true
    machine.error = timedelta(0)
    rights(ledger, machine, 5, 100)
    facts = gather(ledger, house(), machine.true)
    (watch,) = facts.watches
    assert [one.at for one in targets(facts, watch)] == [began + 2 * HOUR, began + 6 * HOUR]
    assert any(one.key == f"check:read:place:{tub}" for one in checks(facts, began + 2 * HOUR + HOUR / 60))
    assert [one for one in failing(facts) if one.about == f"watch:{tub}"] == []
    rights(ledger, machine, 20)
    (late,) = (one for one in failing(gather(ledger, house(), machine.true)) if one.about == f"watch:{tub}")
    assert late.since == began + 2 * HOUR


@pytest.mark.parametrize("by", SET_BY)
def test_what_was_done_answers_what_failed_whatever_its_clock_showed(by: timedelta, ledger: Ledger) -> None:
    """Beans not read in time, thrown away a quarter of an hour later: nothing is left to be done."""
    machine = Machine(true=at("15:00"), booted=at("09:00")).runs(ledger)
    rights(ledger, machine, 1, 300)
    tub = write.start_watch(ledger, Watched(COOLING, "beans"), **machine.said(1)).subject
    rights(ledger, machine, 130)
    assert [one.about for one in failing(gather(ledger, house(), machine.true))] == [f"watch:{tub}"]
    machine.error = by
    write.act_on(ledger, About(watch=tub), "thrown away", **machine.said(5))
    machine.error = timedelta(0)
    rights(ledger, machine, 1, 1)
    assert failing(gather(ledger, house(), machine.true)) == []


def test_a_live_estimate_goes_by_the_time_that_passed_and_leaves_out_what_nobody_knows(
    ledger: Ledger,
) -> None:
    """Cores by a clock an hour ahead count where they were taken; one with a time typed then does not."""
    machine = board_night(ledger)
    on_at = at("20:10", -1)
    write.take_reading(ledger, 40.0, load="sat-shoulder", **machine.said(120))
    machine.error = HOUR
    write.take_reading(ledger, 52.0, load="sat-shoulder", **machine.said(60))
    said = machine.said(10)
    typed = write.take_reading(
        ledger, 50.0, load="sat-shoulder", **said | {"at": machine.shows - timedelta(minutes=20)}
    )
    machine.error = timedelta(0)
    write.take_reading(ledger, 60.0, load="sat-shoulder", **machine.said(60))
    facts = gather(ledger, house(), machine.true)
    load = next(one for one in plan().loads if one.id == "sat-shoulder")
    now = estimate_now(facts, [(facts.plans[DAY], load)])["sat-shoulder"]
    assert [round(minute) for minute, _ in now.taken] == [130, 190, 260]
    assert now.on_at == on_at
    (out,) = now.sieved.left_out
    assert (now.readings[out.place].seq, str(out.why)) == (typed.seq, "by a wrong clock")


def test_the_walk_in_is_judged_by_the_time_that_passed(ledger: Ledger) -> None:
    """Fed by the machine's clock, set back two hours for a while: no warm reading is lost or moved."""
    machine = Machine(true=at("06:00"), booted=at("05:00")).runs(ledger)
    for minutes in range(0, 600, 20):
        machine.error = -2.01 * HOUR if 200 < minutes < 300 else timedelta(0)
        shows = machine.shows + timedelta(minutes=20)
        one = Fed("box", shows, 9.0 if minutes in (240, 260) else 3.0, place="walk-in")
        feeding.take_fed(ledger, "stdin", [one], noted_at=shows)
        machine.true += timedelta(minutes=20)
    found = verdict_of(ledger, machine, "place:")
    assert found.answer is Answer.FAIL
    assert "2 of 30 readings are above 5 °C; the worst is 9 °C, above 5 °C for 0 s to 1 h on end" in found.why
    assert "by the machine's own count" in found.why


def test_what_is_doubtful_is_named_by_how_far_its_clock_was_off(ledger: Ledger) -> None:
    """Of two wrong clocks no figure is told."""
    machine = Machine().runs(ledger)
    rights(ledger, machine, 1, 300)
    for error in (HOUR, -HOUR):
        machine.error = error
        write.take_reading(ledger, 3.0, place="walk-in", **machine.said(20))
    machine.error = timedelta(0)
    write.take_reading(ledger, 3.0, place="walk-in", **machine.said(20))
    rights(ledger, machine, 1, 300)
    found: tuple[Doubt, ...] = clocks(ledger).doubts
    assert len(found) == 2
    says = "2 of its 3 readings were written by a clock that was wrong; the time"
    assert says in verdict_of(ledger, machine, "place:").why


def core(minute: float, celsius: float, probe: str | None = None, ahead: float = 0.0) -> Reading:
    """A core so many minutes after ten; by a clock that was ahead where that is told, and by no count."""
    when = at("10:00") + timedelta(minutes=minute)
    timing = Timing("", when + timedelta(minutes=ahead), when + timedelta(minutes=ahead)) if ahead else None
    return Reading(int(minute), when, "ada", "sat-bird", celsius, "sat-bird", probe=probe, timing=timing)


def cooked_verdict(cut: str, *readings: Reading) -> Answer:
    """What cores show of a load of that cut."""
    load = replace(next(iter(plan().loads)), cut=cut, setpoint_c=125.0)
    found = cook_verdict(house(), load, readings)
    assert found is not None
    return found.answer


@pytest.mark.parametrize(
    ("second", "answer"), [(60.0, Answer.NOT_SHOWN), (76.0, Answer.PASS)], ids=["cool", "hot"]
)
def test_of_several_probes_each_must_be_hot_enough_at_once(second: float, answer: Answer) -> None:
    """A clock was wrong: one hot piece shows nothing of the cool one beside it. One read by hand does."""
    fed = [core(0, 20, "m1"), core(1, 20, "m2"), core(60, 76, "m1", 120), core(61, second, "m2", 120)]
    assert cooked_verdict("chicken-half", *fed) is answer
    assert cooked_verdict("chicken-half", *fed, core(70, 76)) is Answer.PASS


def silent_probes(ledger: Ledger, machine: Machine) -> list[str]:
    """What rings now about probes that send nothing, in a house with one in the walk-in and one for meat."""
    probes = {
        "box": Probe("box", "the box", ProbeReads.AIR, "walk-in", ("box",)),
        "m1": Probe("m1", "meat 1", ProbeReads.MEAT, None, ("m1",)),
    }
    found = alarms(gather(ledger, replace(house(), probes=probes), machine.true))
    return [one.key.split("/")[1] for one in found if one.kind is AlarmKind.SILENT]


def test_a_probe_is_silent_though_what_was_struck_was_fed_by_a_clock_that_was_ahead(ledger: Ledger) -> None:
    """Fed for a while by a clock five hours ahead, and struck by it: it rings ten minutes after the last."""
    machine = Machine(true=at("06:00"), booted=at("05:00")).runs(ledger)
    for error in (0, 0, 5, 0, 0):
        machine.error = error * HOUR
        machine.true += timedelta(minutes=4)
        one = Fed("box", machine.shows, 3.0, place="walk-in")
        feeding.take_fed(ledger, "stdin", [one], noted_at=machine.shows)
        if error:
            feeding.strike_probe(ledger, "box", one.at, one.at, **machine.said())
    rights(ledger, machine, 1, 7)
    assert silent_probes(ledger, machine) == []
    rights(ledger, machine, 4)
    assert silent_probes(ledger, machine) == ["box"]


def test_a_probe_put_in_by_a_clock_that_was_ahead_rings_when_it_never_sends(ledger: Ledger) -> None:
    """Ten minutes after it was put in, whatever the clock showed then."""
    machine = board_night(ledger)
    machine.error = HOUR
    feeding.place_probe(ledger, "m1", "sat-shoulder", **machine.said(1))
    machine.error = timedelta(0)
    rights(ledger, machine, 5)
    assert silent_probes(ledger, machine) == []
    rights(ledger, machine, 6)
    assert silent_probes(ledger, machine) == ["m1"]


def test_a_time_told_before_the_start_of_a_watch_that_a_wrong_clock_wrote_is_not_left_out(
    ledger: Ledger,
) -> None:
    """Meat at 22 °C by a time somebody told, six hours out by either of two clocks: it has failed."""
    machine = Machine().runs(ledger)
    rights(ledger, machine, 1, 30)
    tub = write.start_watch(ledger, Watched(TEMPERING, "beans"), **machine.said()).subject
    began = machine.true
    write.take_reading(ledger, 2.0, place=tub, **machine.said())
    machine.error = 2 * HOUR
    said = machine.said(42) | {"at": began + timedelta(minutes=27)}
    write.take_reading(ledger, 22.0, place=tub, **said)
    for minutes, celsius in ((149, 8.0), (165, 4.0)):
        write.take_reading(ledger, celsius, place=tub, **machine.said(minutes))
    assert verdict_of(ledger, machine).answer is Answer.FAIL
