"""What the Batches and Record views say."""

from pathlib import Path

from board.ledger import write
from board.ledger.state import BatchStage, BatchState, LoadStage
from board.views.batches import batches
from board.views.gather import gather
from board.views.record import Kind, record
from board.views.text import Tone
from tests.app.boards import NOW, later, night_ledger
from tests.app.house_fixture import DAY, at, house, plan, sunday
from tests.views.facts_fixture import facts, standing, state


def test_batches_to_make_come_first() -> None:
    """What is to be made stands above what is made, the most pressing first."""
    made = BatchState("b-rub", DAY, BatchStage.MADE, at("06:00", -1), "wren", "1218-rub")
    lines = batches(facts(batches={(DAY, "b-rub"): made})).lines
    assert [line.name for line in lines] == ["cider glaze", "poultry brine", "pepper rub"]


def test_batches_that_are_used_come_last() -> None:
    """What is made and still wanted stands above what is all in the meat, whichever was made first."""
    made = {
        (DAY, "b-rub"): BatchState("b-rub", DAY, BatchStage.MADE, at("06:00", -1), "wren", "1218-rub"),
        (sunday().day, "b-brine"): BatchState("b-brine", sunday().day, BatchStage.MADE, NOW, "wren", "L1"),
    }
    on = standing(state("sat-brisket", LoadStage.ON, on_at=at("19:12", -1)))
    lines = batches(facts(batches=made, loads=on)).lines
    assert [line.name for line in lines] == ["cider glaze", "poultry brine", "pepper rub"]


def test_batch_past_its_time_is_overdue() -> None:
    """A batch not made in time says so, with its sign."""
    line = next(ln for ln in batches(facts(now=at("07:00"))).lines if ln.name == "cider glaze")
    assert line.state == "overdue ▲, 25 min, Wren"


def test_batch_that_is_used_up_is_not_alarming() -> None:
    """A batch whose meat has all had it is no worry, whatever its use-by."""
    made = BatchState("b-rub", DAY, BatchStage.MADE, at("06:00", -1), "wren", None)
    on = standing(state("sat-brisket", LoadStage.ON, on_at=at("19:12", -1)))
    stale = facts(now=at("12:00", 20), plans={DAY: plan()}, batches={(DAY, "b-rub"): made}, loads=on)
    rub = next(line for line in batches(stale).lines if line.name == "pepper rub")
    assert rub.state.endswith("all in the meat")


def test_card_weighs_the_recipe_for_its_meat() -> None:
    """The card of a brine says what to weigh, how strong it is, and what stays in the meat."""
    card = batches(facts(), f"{sunday_key()}").card
    assert card is not None
    assert [line.name for line in card.weighing] == ["water", "salt"]
    assert any("% salt in the meat" in text for text in card.says)


def sunday_key() -> str:
    """The key of Sunday's brine."""
    return "2026-12-20/b-brine"


def test_record_is_newest_first_and_keeps_corrections(tmp_path: Path) -> None:
    """The record shows the newest entry first, and what was taken back with the taking back."""
    with night_ledger(tmp_path / "board.db") as ledger:
        marked = write.mark_step(ledger, "s-pull-shoulder", who="tomas", at=NOW, noted_at=NOW)
        write.undo(ledger, who="tomas", at=later(1), noted_at=later(1))
        view = record(ledger, gather(ledger, house(), later(2)))
    assert view.lines[0].says == "taken back: 6 shoulders came off South"
    assert view.lines[1].key == str(marked.seq)
    assert view.lines[1].taken_back


def test_record_tells_what_was_written_later(tmp_path: Path) -> None:
    """An entry written down well after it happened says when."""
    with night_ledger(tmp_path / "board.db") as ledger:
        write.note(ledger, "South was hot", who="ines", at=at("03:00"), noted_at=NOW)
        view = record(ledger, gather(ledger, house(), NOW), Kind.NOTES)
    assert (
        next(line.noted for line in view.lines if "hot”" in line.says and line.clock == "03:00")
        == "written 05:42"
    )


def test_long_record_is_cut_and_says_so(tmp_path: Path) -> None:
    """Older entries than are shown are announced."""
    with night_ledger(tmp_path / "board.db") as ledger:
        view = record(ledger, gather(ledger, house(), NOW), lines=5)
    assert len(view.lines) == 5
    assert view.left_out


def test_what_is_late_comes_first_with_its_work() -> None:
    """A batch that cannot be made in time stands above one due sooner, with its minutes and who makes it."""
    known = facts(now=at("13:50"), batches={})
    first, *others = batches(known).lines
    assert first.tone is Tone.LATE
    assert " min, Wren" in first.state
    assert all(line.tone is not Tone.LATE for line in others[2:])


def test_a_batch_is_ready_no_sooner_than_it_may_be_made() -> None:
    """Ready is told for the last moment it may be made, so that it never stands before that."""
    glaze = next(line for line in batches(facts()).lines if line.name == "cider glaze")
    assert glaze.make_by <= glaze.ready_from
