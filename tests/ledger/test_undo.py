"""Taking entries back."""

from datetime import timedelta

import pytest

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.facts import PinFacts
from board.ledger.open import Ledger
from board.ledger.state import LoadStage

from .by_hand import DAY, EVENING, LOADED, brisket, plan
from .test_write import BRISKET, HOUR, by, cooked

HAM_PIN = PinFacts(DAY, "1209-ham-1", "south", None, None, EVENING)


def test_undo_takes_back_the_last(planned: Ledger) -> None:
    """An undo is a new entry that tells what it took back; the state is as before."""
    before = read.load_states(planned, DAY), read.step_states(planned, DAY)
    marked = write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    entry = write.undo(planned, **by("Ines", LOADED + HOUR))
    assert (entry.kind, entry.undoes, entry.subject) == ("undo", marked.seq, BRISKET)
    assert (entry.data["kind"], entry.data["who"], entry.data["data"]["stage"]) == ("load", "Ines", "on")
    assert (read.load_states(planned, DAY), read.step_states(planned, DAY)) == before
    taken_back = read.entry(planned, marked.seq)
    assert taken_back is not None
    assert taken_back.undone


def test_undo_takes_back_ones_own(planned: Ledger) -> None:
    """Without a number, only one's own last entry is taken back; another's by its number."""
    marked = write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    with pytest.raises(LedgerError, match="nothing of Max's to undo"):
        write.undo(planned, **by("Max", LOADED))
    assert read.last_undoable(planned, "Ines") == marked
    assert write.undo(planned, marked.seq, **by("Max", LOADED)).undoes == marked.seq
    assert read.last_undoable(planned, "Ines") is None


def test_what_was_undone_can_be_marked_again(planned: Ledger) -> None:
    """Marking again after an undo is a new fact with its own time."""
    write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED))
    write.undo(planned, **by("Ines", LOADED))
    again = write.mark_load(planned, BRISKET, LoadStage.ON, **by("Ines", LOADED + HOUR))
    assert not again.already
    assert read.load_states(planned, DAY)[0].on_at == LOADED + HOUR


def test_what_cannot_be_undone(planned: Ledger) -> None:
    """No undo of an undo, of a plan, of nothing, or of the same thing twice."""
    write.note(planned, "windy", **by("Ines", LOADED))
    undone = write.undo(planned, **by("Ines", LOADED))
    for seq, sentence in (
        (undone.seq, "mark the thing again"),
        (undone.undoes, "was taken back before"),
        (1, "a committed plan is not undone"),
        (99, "there is no entry 99"),
    ):
        with pytest.raises(LedgerError, match=sentence):
            write.undo(planned, seq, **by("Ines", LOADED))


def test_no_undo_of_what_later_marks_rest_on(planned: Ledger) -> None:
    """A loading is not taken back under a wrap that followed it."""
    cooked(planned)
    loading = next(e for e in read.entries(planned, kinds=["load"]) if e.data["stage"] == "on")
    with pytest.raises(LedgerError, match="undo wrapped first"):
        write.undo(planned, loading.seq, **by("Ines", LOADED + 13 * HOUR))
    assert read.load_states(planned, DAY)[0].on_at == LOADED


def test_undo_of_each_kind(planned: Ledger) -> None:
    """Readings, sales, promises, batches, lights, notes and handovers come back as they were."""
    cooked(planned)
    at = LOADED + 14 * HOUR

    def all_there_is() -> object:
        return (
            read.load_states(planned, DAY),
            read.batch_states(planned, DAY),
            read.step_states(planned, DAY),
            read.pit_states(planned),
            read.readings(planned),
            read.promises(planned, DAY),
            read.pins(planned, DAY),
            {key: state for key, state in read.sold(planned, DAY).items() if state.sold or state.sold_out_at},
            read.last_handover(planned),
        )

    before = all_there_is()
    for write_one in (
        lambda: write.take_reading(planned, 88.0, load=BRISKET, **by("Max", at)),
        lambda: write.sell(planned, DAY, "lunch", "sliced-brisket", 5, **by("Max", at)),
        lambda: write.sold_out(planned, DAY, "lunch", "sliced-brisket", **by("Max", at)),
        lambda: write.set_promise(planned, DAY, "lunch", "sliced-brisket", 70, **by("Max", at)),
        lambda: write.pin_load(planned, HAM_PIN, **by("Max", at)),
        lambda: write.make_batch(planned, "1209-glaze-1", **by("Max", at)),
        lambda: write.light(planned, "north", 110.0, **by("Max", at)),
        lambda: write.note(planned, "windy", **by("Max", at)),
        lambda: write.handover(planned, "all well", **by("Max", at)),
        lambda: write.mark_step(planned, f"{BRISKET}.slice", **by("Max", at)),
    ):
        entry = write_one()
        assert write.undo(planned, **by("Max", at + timedelta(minutes=1))).undoes == entry.seq
        assert all_there_is() == before


def test_undo_after_a_new_plan(planned: Ledger) -> None:
    """A load dropped from the plan while prepped goes when its prepping is taken back."""
    write.mark_load(planned, BRISKET, LoadStage.PREPPED, **by("Ada", EVENING))
    write.commit_plan(planned, plan(brisket("1209-brisket-2")), **by("Ada", EVENING))
    assert [state.id for state in read.load_states(planned, DAY)] == [BRISKET, "1209-brisket-2"]
    write.undo(planned, **by("Ada", EVENING))
    assert [state.id for state in read.load_states(planned, DAY)] == ["1209-brisket-2"]


def test_what_was_written_together_is_taken_back_together(planned: Ledger) -> None:
    """One undo takes back all entries of an act, the last first, whatever their kinds."""
    with planned.together():
        notes = [write.note(planned, text, **by("Max", LOADED)) for text in ("one", "two")]
        sold = write.sell(planned, DAY, "lunch", "sliced-brisket", 3, **by("Max", LOADED))
    undone = write.undo_together(planned, **by("Max", LOADED))
    assert [one.undoes for one in undone] == [sold.seq, notes[1].seq, notes[0].seq]
    assert read.last_undoable(planned, "Max") is None


def test_one_entry_of_an_act_can_be_taken_back_alone(planned: Ledger) -> None:
    """By its number an entry goes alone; the next undo takes the rest."""
    with planned.together():
        notes = [write.note(planned, text, **by("Max", LOADED)) for text in ("one", "two", "three")]
    write.undo(planned, notes[1].seq, **by("Max", LOADED))
    assert [e.undone for e in read.entries(planned, kinds=["note"])] == [False, True, False]
    undone = write.undo_together(planned, **by("Max", LOADED))
    assert [one.undoes for one in undone] == [notes[2].seq, notes[0].seq]


def test_a_failed_act_leaves_nothing_and_no_tie(planned: Ledger) -> None:
    """An error takes the whole act back, and what is written next is tied to nothing."""

    def two(second: str) -> None:
        with planned.together():
            write.note(planned, "one", **by("Max", LOADED))
            write.note(planned, second, **by("Max", LOADED))

    with pytest.raises(LedgerError):
        two("")
    assert "with" not in write.note(planned, "alone", **by("Max", LOADED)).data
    assert len(read.entries(planned, kinds=["note"])) == 1
