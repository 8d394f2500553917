"""One reading of the ledger for all views."""

from pathlib import Path

from board.ledger import write
from board.ledger.state import LoadStage
from board.views.gather import gather
from tests.app.boards import NOW, later, night_ledger
from tests.app.house_fixture import DAY, at, house, sunday


def test_facts_hold_the_near_days(tmp_path: Path) -> None:
    """Plans, loads, steps and readings of yesterday to the week ahead are gathered."""
    with night_ledger(tmp_path / "board.db") as ledger:
        facts = gather(ledger, house(), NOW)
    assert set(facts.plans) == {DAY, sunday().day}
    assert facts.loads[DAY, "sat-brisket"].stage is LoadStage.WRAPPED
    assert len(facts.readings[DAY, "sat-brisket"]) == 5
    assert (DAY, "s-load-ham") in facts.done


def test_handover_just_signed_keeps_the_nights_story(tmp_path: Path) -> None:
    """The story starts at the handover before the one just signed, which is told as signed."""
    with night_ledger(tmp_path / "board.db") as ledger:
        facts = gather(ledger, house(), NOW)
        assert facts.since_at == at("21:00", -1)
        assert facts.handover is not None
        assert facts.handover.who == "ines"
        later_on = gather(ledger, house(), later(240))
    assert later_on.since_at == at("05:35")
    assert later_on.handover is None


def test_future_entries_are_not_told(tmp_path: Path) -> None:
    """What happened after the moment asked about is not part of its story."""
    with night_ledger(tmp_path / "board.db") as ledger:
        write.note(ledger, "later", who="wren", at=later(30), noted_at=later(30))
        facts = gather(ledger, house(), NOW)
    assert all(entry.at <= NOW for entry in facts.since)


def test_what_was_sold_tonight_is_known_past_midnight(tmp_path: Path) -> None:
    """A service that runs into the next day keeps its sales."""
    item = ("dinner", "brisket-plate")
    with night_ledger(tmp_path / "board.db") as ledger:
        late = at("00:20", 1)
        write.sell(ledger, DAY, *item, 7, who="wren", at=late, noted_at=late)
        facts = gather(ledger, house(), late)
    assert facts.sold[DAY, *item] == 7
