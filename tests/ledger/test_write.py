"""Marks, readings, sales and notes: what is taken, what is refused, and what follows."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.open import Ledger
from board.ledger.state import BatchStage, Entry, LoadStage

from .by_hand import DAY, EVENING, LOADED, brisket, plan, step

HOUR = timedelta(hours=1)
BRISKET = "1209-brisket-1"


def by(who: str, at: datetime, noted_at: datetime | None = None) -> dict[str, object]:
    """Who and when, written down at once unless told otherwise."""
    return {"who": who, "at": at, "noted_at": noted_at or at}


def cooked(ledger: Ledger) -> None:
    """Load, wrap and pull the brisket."""
    write.mark_load(ledger, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    write.mark_load(ledger, BRISKET, LoadStage.WRAPPED, **by("Ines", LOADED + 7 * HOUR))
    write.mark_load(ledger, BRISKET, LoadStage.PULLED, **by("Max", LOADED + 12 * HOUR))


def test_the_record_is_append_only(planned: Ledger) -> None:
    """Entries and plans refuse to be changed, removed or replaced, whoever asks."""
    for statement in (
        "UPDATE entries SET who = 'nobody'",
        "DELETE FROM entries",
        "UPDATE plans SET document = '{}'",
        "DELETE FROM plans",
        "INSERT OR REPLACE INTO entries SELECT * FROM entries",
        "REPLACE INTO plans SELECT * FROM plans",
    ):
        with pytest.raises(Exception, match=r"append-only|FOREIGN KEY"):
            planned.db.execute(statement)


def test_a_load_through_its_stages(planned: Ledger) -> None:
    """A load keeps the time of each stage, and its planned steps are done with it."""
    cooked(planned)
    state = read.load_states(planned, DAY)[0]
    assert (state.stage, state.since) == (LoadStage.PULLED, LOADED + 12 * HOUR)
    assert (state.on_at, state.wrapped_at) == (LOADED, LOADED + 7 * HOUR)
    done = {each.what: each.done_by for each in read.step_states(planned, DAY) if each.done_by}
    assert done == {"load": "Ines", "wrap": "Ines", "pull": "Max"}


def test_marking_a_step_moves_its_load(planned: Ledger) -> None:
    """Marking the planned step and marking the load's stage are the same thing."""
    write.mark_step(planned, f"{BRISKET}.load", **by("Ines", LOADED))
    assert read.load_states(planned, DAY)[0].on_at == LOADED


def test_the_last_work_before_the_pit_preps_the_load(planned: Ledger) -> None:
    """When nothing is left to do before loading, the load is prepped."""
    write.mark_step(planned, f"{BRISKET}.rub", **by("Ada", EVENING - 3 * HOUR))
    assert read.load_states(planned, DAY)[0].stage is LoadStage.PREPPED


def test_work_after_the_pit_leaves_the_stage(planned: Ledger) -> None:
    """Slicing is done without moving the load."""
    cooked(planned)
    write.mark_step(planned, f"{BRISKET}.slice", **by("Max", LOADED + 17 * HOUR))
    assert read.load_states(planned, DAY)[0].stage is LoadStage.PULLED


def test_marking_twice_finds_who_did_it(planned: Ledger) -> None:
    """The second person to mark a step gets the first one's entry, and nothing is written."""
    first = write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    version = read.data_version(planned)
    for again in (
        write.mark_load(planned, BRISKET, LoadStage.ON, **by("Max", LOADED + HOUR)),
        write.mark_step(planned, f"{BRISKET}.load", **by("Max", LOADED + HOUR)),
    ):
        assert (again.seq, again.who, again.already) == (first.seq, "Ines", True)
    assert not first.already
    assert read.data_version(planned) == version


def test_a_step_may_be_marked_late(planned: Ledger) -> None:
    """A wrap remembered after the pull is entered with its true time, and the load stays pulled."""
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    write.mark_load(planned, BRISKET, LoadStage.PULLED, **by("Max", LOADED + 12 * HOUR))
    late = by("Ines", LOADED + 7 * HOUR, noted_at=LOADED + 13 * HOUR)
    entry = write.mark_load(planned, BRISKET, LoadStage.WRAPPED, **late)
    state = read.load_states(planned, DAY)[0]
    assert entry.at == LOADED + 7 * HOUR
    assert (state.stage, state.wrapped_at) == (LoadStage.PULLED, LOADED + 7 * HOUR)


@pytest.mark.parametrize(
    ("stage", "at", "sentence"),
    [
        (LoadStage.HOLDING, LOADED + HOUR, "not marked pulled yet; mark it pulled first"),
        (LoadStage.WRAPPED, LOADED - HOUR, "cannot be wrapped at 18:00: it was on at 19:00"),
        (LoadStage.PREPPED, LOADED + HOUR, "cannot be prepped at 20:00: it was on at 19:00"),
        (LoadStage.WRAPPED, LOADED - 48 * HOUR, "was not there yet at 19:00 on Sun 6 Dec 2026"),
        (LoadStage.PLANNED, LOADED + HOUR, "mark it one of prepped, on"),
    ],
)
def test_stages_that_cannot_be(planned: Ledger, stage: LoadStage, at: datetime, sentence: str) -> None:
    """A stage that contradicts the record is refused, saying what to do first."""
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    with pytest.raises(LedgerError, match=sentence):
        write.mark_load(planned, BRISKET, stage, **by("Max", at))


def test_nothing_follows_a_lost_load(planned: Ledger) -> None:
    """A lost load takes no later mark until that is undone."""
    write.mark_load(planned, BRISKET, LoadStage.LOST, **by("Max", LOADED + HOUR))
    assert read.load_states(planned, DAY)[0].portions_left == 0
    with pytest.raises(LedgerError, match="was marked lost at 20:00; undo that first"):
        write.mark_load(planned, BRISKET, LoadStage.ON, **by("Max", LOADED + 2 * HOUR))


def test_a_time_still_to_come(planned: Ledger) -> None:
    """Two clocks may differ by five minutes; more is a slip of the hand."""
    write.note(planned, "windy", **by("Ines", LOADED + timedelta(minutes=5), noted_at=LOADED))
    with pytest.raises(LedgerError, match="19:06 is still to come; it is 19:00 now"):
        write.note(planned, "windy", **by("Ines", LOADED + timedelta(minutes=6), noted_at=LOADED))


def test_unknown_names_are_told_what_there_is(planned: Ledger) -> None:
    """A slip in a name is answered with the names there are."""
    with pytest.raises(LedgerError, match=f"no load brisket; there are {BRISKET}"):
        write.mark_load(planned, "brisket", LoadStage.ON, **by("Ines", LOADED))
    with pytest.raises(LedgerError, match="no batch glaze; there are 1209-glaze-1"):
        write.make_batch(planned, "glaze", **by("Ines", LOADED))
    with pytest.raises(LedgerError, match="no step wrap; there are"):
        write.mark_step(planned, "wrap", **by("Ines", LOADED))


def test_a_name_that_comes_back_next_year(planned: Ledger) -> None:
    """A mark is about the load of that name nearest in time."""
    year = timedelta(days=365)
    again = plan(brisket(load_at=LOADED + year), day=DAY + year)
    write.commit_plan(planned, again, **by("Ada", EVENING + year))
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED + year))
    assert read.load_states(planned, DAY)[0].stage is LoadStage.PLANNED
    assert read.load_states(planned, DAY + year)[0].stage is LoadStage.ON


def test_readings_of_a_load(planned: Ledger) -> None:
    """A load shows its latest core temperature by when it was taken, and equal readings are kept."""
    for hours, core_c in ((2, 40.0), (4, 61.0), (4, 61.0), (3, 52.0)):
        write.take_reading(planned, core_c, load=BRISKET, **by("Ines", LOADED + hours * HOUR))
    state = read.load_states(planned, DAY)[0]
    assert (state.last_core_c, state.last_core_at) == (61.0, LOADED + 4 * HOUR)
    assert [r.temperature_c for r in read.readings(planned, load=BRISKET)] == [40.0, 52.0, 61.0, 61.0]


def test_readings_of_a_pit(planned: Ledger) -> None:
    """A lit pit shows its latest air temperature."""
    write.light(planned, "north", 118.0, **by("Ines", EVENING))
    write.take_reading(planned, 98.0, place="north", **by("Ines", LOADED))
    pit = read.pit_states(planned)["north"]
    assert (pit.lit_at, pit.setpoint_c, pit.last_air_c, pit.last_air_at) == (EVENING, 118.0, 98.0, LOADED)


@pytest.mark.parametrize("degrees", [-41.0, 401.0, float("nan"), float("inf")])
def test_no_kitchen_temperature(planned: Ledger, degrees: float) -> None:
    """A broken probe's reading is refused."""
    with pytest.raises(LedgerError, match="from -40 to 400 °C is recorded"):
        write.take_reading(planned, degrees, place="north", **by("Ines", LOADED))


def test_a_reading_is_of_one_thing(planned: Ledger) -> None:
    """A reading names a place or a load, not both and not neither."""
    with pytest.raises(LedgerError, match="name one of them"):
        write.take_reading(planned, 50.0, **by("Ines", LOADED))


def test_lighting_a_pit(planned: Ledger) -> None:
    """Lighting does the planned step; a new setpoint keeps the time of lighting; out forgets both."""
    first = write.light(planned, "north", 118.0, **by("Ines", EVENING))
    assert first.data["step"] == "north.light"
    assert write.light(planned, "north", 118.0, **by("Max", EVENING + HOUR)).seq == first.seq
    write.light(planned, "north", 125.0, **by("Max", EVENING + HOUR))
    pit = read.pit_states(planned)["north"]
    assert (pit.lit_at, pit.setpoint_c) == (EVENING, 125.0)
    write.put_out(planned, "north", **by("Max", EVENING + 20 * HOUR))
    assert read.pit_states(planned)["north"].lit_at is None
    assert write.put_out(planned, "north", **by("Ines", EVENING + 21 * HOUR)).already
    with pytest.raises(LedgerError, match="south was never lit"):
        write.put_out(planned, "south", **by("Max", EVENING))


def test_a_pit_nobody_put_out_is_lit_afresh(planned: Ledger) -> None:
    """When the next lighting is marked, yesterday's fire is over though nobody said so."""
    write.light(planned, "north", 110.0, **by("Ines", EVENING - 20 * HOUR))
    write.mark_step(planned, "north.light", **by("Ines", EVENING))
    assert read.pit_states(planned)["north"].lit_at == EVENING


def test_lighting_by_its_step_takes_the_planned_setpoint(planned: Ledger) -> None:
    """The step of lighting asks the pit for what the plan cooks at."""
    write.mark_step(planned, "north.light", **by("Ines", EVENING))
    assert read.pit_states(planned)["north"].setpoint_c == 118.0


def test_setting_a_pit_between_loads(ledger: Ledger) -> None:
    """The step of setting a pit asks it for what its next load wants, and leaves it lit since when it was."""
    hot = replace(brisket("1209-chicken-1", LOADED + 14 * HOUR), setpoint_c=135.0)
    both = plan(brisket(), hot)
    setting = replace(step("set", LOADED + 13 * HOUR, pit="north"), id="north.set-2")
    write.commit_plan(ledger, replace(both, steps=(*both.steps, setting)), **by("Ada", EVENING))
    write.mark_step(ledger, "north.light", **by("Ines", EVENING))
    write.mark_step(ledger, "north.set-2", **by("Max", LOADED + 13 * HOUR))
    pit = read.pit_states(ledger)["north"]
    assert (pit.lit_at, pit.setpoint_c) == (EVENING, 135.0)


def test_turning_a_pit_with_the_meat_on(ledger: Ledger) -> None:
    """The step at a load's turn asks for that load's second setpoint, whatever else comes on later."""
    turn = LOADED + 7 * HOUR
    turned = replace(brisket(), turn_at=turn, then_c=135.0)
    later = replace(brisket("1209-chicken-1", LOADED + 14 * HOUR), setpoint_c=150.0)
    both = plan(turned, later)
    setting = replace(step("set", turn, pit="north"), id="north.set")
    write.commit_plan(ledger, replace(both, steps=(*both.steps, setting)), **by("Ada", EVENING))
    write.mark_step(ledger, "north.light", **by("Ines", EVENING))
    write.mark_step(ledger, "north.set", **by("Ines", turn + HOUR / 6))
    pit = read.pit_states(ledger)["north"]
    assert (pit.lit_at, pit.setpoint_c) == (EVENING, 135.0)


def test_a_batch(planned: Ledger) -> None:
    """A batch is made with its lot, by its step or by its name, then used."""
    entry = write.make_batch(planned, "1209-glaze-1", "L7", **by("Max", LOADED + 9 * HOUR))
    assert write.mark_step(planned, "1209-glaze-1.make", **by("Ines", LOADED + 10 * HOUR)).seq == entry.seq
    again = write.mark_batch(planned, "1209-glaze-1", BatchStage.MADE, **by("Ines", LOADED + 10 * HOUR))
    assert (again.seq, again.already) == (entry.seq, True)
    write.mark_batch(planned, "1209-glaze-1", BatchStage.USED, **by("Max", LOADED + 16 * HOUR))
    state = read.batch_states(planned, DAY)[0]
    assert (state.stage, state.lot, state.made_by) == (BatchStage.USED, "L7", "Max")
    with pytest.raises(LedgerError, match="a batch is not marked due"):
        write.mark_batch(planned, "1209-glaze-1", BatchStage.DUE, **by("Max", LOADED))


def test_a_batch_used_before_it_is_made(planned: Ledger) -> None:
    """A batch nobody made is not used."""
    with pytest.raises(LedgerError, match="not marked made yet; mark it made first"):
        write.mark_batch(planned, "1209-glaze-1", BatchStage.USED, **by("Max", LOADED))


def test_sales_come_from_the_oldest_load(planned: Ledger) -> None:
    """A sale is taken from what is off the pit; what is sold beyond that is still recorded."""
    cooked(planned)
    noon = LOADED + 17 * HOUR
    write.sell(planned, DAY, "lunch", "sliced-brisket", 90, **by("Max", noon))
    entry = write.sell(planned, DAY, "lunch", "sliced-brisket", 10, **by("Max", noon))
    assert entry.data["from"] == [{"load": BRISKET, "day": "2026-12-09", "portions": 6}]
    assert read.load_states(planned, DAY)[0].portions_left == 0
    assert read.sold(planned, DAY)["lunch", "sliced-brisket"].sold == 100


def test_a_sale_is_of_what_was_off_by_then_and_for_that_service(ledger: Ledger) -> None:
    """Lunch sells its own load though dinner's is older; what was sold before it came off is of the other."""
    dinner = replace(brisket("dinner"), services=("dinner",), needed_at=LOADED + 20 * HOUR)
    two = plan(dinner, brisket("lunch"))
    write.commit_plan(ledger, two, **by("Ada", EVENING))
    for id, hours in (("dinner", 11), ("lunch", 12)):
        write.mark_load(ledger, id, LoadStage.ON, **by("Ines", LOADED))
        write.mark_load(ledger, id, LoadStage.PULLED, **by("Ines", LOADED + hours * HOUR))
    noon, before = LOADED + 17 * HOUR, LOADED + 11.5 * HOUR

    def sold(service: str, at: datetime, portions: int = 1) -> list[str]:
        entry = write.sell(ledger, DAY, service, "sliced-brisket", portions, **by("Max", at, noon))
        return [part["load"] for part in entry.data["from"]]

    assert sold("lunch", noon) == ["lunch"]
    assert sold("dinner", noon) == ["dinner"]
    assert sold("lunch", before) == ["dinner"]
    assert sold("lunch", noon, 100) == ["lunch", "dinner"]


def test_sold_out(planned: Ledger) -> None:
    """An item is sold out once, and told who said so."""
    noon = LOADED + 17 * HOUR
    first = write.sold_out(planned, DAY, "lunch", "sliced-brisket", **by("Max", noon))
    write.sell(planned, DAY, "lunch", "sliced-brisket", 1, **by("Max", noon))
    assert write.sold_out(planned, DAY, "lunch", "sliced-brisket", **by("Ines", noon)).seq == first.seq
    assert read.sold(planned, DAY)["lunch", "sliced-brisket"].sold_out_at == noon


def test_counted_portions(planned: Ledger) -> None:
    """What a load gave when counted takes the place of what was planned."""
    write.mark_load(planned, BRISKET, LoadStage.ON, pit="south", **by("Ines", LOADED))
    write.mark_load(planned, BRISKET, LoadStage.PULLED, portions=88, **by("Max", LOADED + 12 * HOUR))
    state = read.load_states(planned, DAY)[0]
    assert (state.portions_left, state.portions, state.pit) == (88, 96, "south")


def test_promises(planned: Ledger) -> None:
    """The last promise counts; repeating it writes nothing."""
    write.set_promise(planned, DAY, "lunch", "sliced-brisket", 80, **by("Ada", EVENING))
    last = write.set_promise(planned, DAY, "lunch", "sliced-brisket", 90, **by("Ada", EVENING))
    again = write.set_promise(planned, DAY, "lunch", "sliced-brisket", 90, **by("Max", EVENING))
    assert (again.seq, again.already) == (last.seq, True)
    assert read.promises(planned, DAY) == {("lunch", "sliced-brisket"): 90}


@pytest.mark.parametrize(
    "record",
    [
        lambda ledger, said: write.set_promise(ledger, DAY, "lunch", "pork", -1, **said),
        lambda ledger, said: write.sell(ledger, DAY, "lunch", "pork", 0, **said),
        lambda ledger, said: write.sell(ledger, DAY, "a/b", "pork", 1, **said),
        lambda ledger, said: write.note(ledger, "x" * 501, **said),
        lambda ledger, said: write.note(ledger, " \x07 ", **said),
        lambda ledger, said: write.note(ledger, "windy", "y" * 81, **said),
        lambda ledger, said: write.note(ledger, "windy", **{**said, "who": "\x1b"}),
        lambda ledger, said: write.light(ledger, "", 100.0, **said),
    ],
)
def test_what_is_refused_leaves_nothing(planned: Ledger, record: Callable[..., Entry]) -> None:
    """What cannot be recorded is refused in one line and leaves no trace."""
    before = read.data_version(planned)
    with pytest.raises(LedgerError) as refused:
        record(planned, by("Ines", LOADED))
    assert "\n" not in str(refused.value)
    assert read.data_version(planned) == before


def test_text_is_kept_as_written_but_inert(planned: Ledger) -> None:
    """Brackets, quotes and emoji stay; what a terminal would obey goes."""
    typed = "[red]hot[/] “'; DROP\x1b[31m 🔥\u202e tub\x00\x9b2J\nline\ttwo\ud800"
    entry = write.note(planned, typed, about="north", **by("Ines\x1b]0;x\x07", LOADED))
    kept = read.entry(planned, entry.seq)
    assert kept is not None
    assert kept.data["text"] == "[red]hot[/] “'; DROP[31m 🔥 tub2J\nline two"
    assert (kept.who, kept.subject) == ("Ines]0;x", "north")


def test_since_the_last_handover(planned: Ledger) -> None:
    """The opening crew reads what was written since the last signature."""
    assert read.last_handover(planned) is None
    write.handover(planned, "South runs hot", **by("Ada", EVENING))
    write.note(planned, "windy", **by("Ines", LOADED))
    write.take_reading(planned, 90.0, place="north", **by("Ines", LOADED))
    signed = read.last_handover(planned)
    assert signed is not None
    assert signed.data == {"text": "South runs hot"}
    assert [e.kind for e in read.since_handover(planned)] == ["note", "reading"]
    assert [e.kind for e in read.since_handover(planned, kinds=["note"])] == ["note"]


def test_entries_in_the_order_they_happened(planned: Ledger) -> None:
    """What was entered late stands where it happened; the latest ones are kept when limited."""
    write.note(planned, "second", **by("Ines", LOADED + HOUR))
    write.note(planned, "first", **by("Ines", LOADED, noted_at=LOADED + HOUR))
    found = read.entries(planned, since=LOADED, until=LOADED + 2 * HOUR)
    assert [e.data["text"] for e in found] == ["first", "second"]
    assert [e.data["text"] for e in read.entries(planned, limit=1)] == ["second"]


def test_open_steps(planned: Ledger) -> None:
    """What is still to do, whichever day's plan asks for it, by time."""
    assert [s.what for s in read.open_steps(planned, EVENING, LOADED + HOUR)] == ["light", "load"]
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    assert [s.what for s in read.open_steps(planned, EVENING, LOADED + HOUR)] == ["light"]


def test_many_entries_in_one_transaction(planned: Ledger) -> None:
    """Entries written in one block share its commit, and one that is refused does not harm the rest."""
    with planned.writing():
        write.take_reading(planned, 90.0, place="north", **by("Ines", LOADED))
        with pytest.raises(LedgerError):
            write.take_reading(planned, 900.0, place="north", **by("Ines", LOADED))
        write.take_reading(planned, 91.0, place="north", **by("Ines", LOADED))
    assert [r.temperature_c for r in read.readings(planned, place="north")] == [90.0, 91.0]


def test_the_clock_set_back(planned: Ledger) -> None:
    """On the night the clock is set back, the order and the elapsed time are the true ones."""
    first = datetime.fromisoformat("2026-11-01T01:40-06:00")
    second = datetime.fromisoformat("2026-11-01T01:10-07:00")
    write.take_reading(planned, 90.0, place="north", **by("Ines", first))
    write.take_reading(planned, 91.0, place="north", **by("Ines", second))
    taken = [r.at for r in read.readings(planned, place="north")]
    assert taken[1] - taken[0] == timedelta(minutes=30)
