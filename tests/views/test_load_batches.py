"""The batches of one load on its page: what it waits for, and its lots."""

from board.ledger.facts import UseFacts
from board.ledger.state import BatchStage
from board.views.facts import Facts
from board.views.load_batches import load_batches
from board.views.load_page import load_page
from board.views.reference import ref
from board.views.text import Tone
from tests.app.house_fixture import at

from .cure_fixture import CURE, HAMS, SERVED, curing, standing, tuesday


def told(facts: Facts) -> list[tuple[str, str, Tone]]:
    """What the hams' page says of their batches."""
    return [(one.word, one.says, one.tone) for one in load_batches(facts, tuesday(), tuesday().loads[0])]


def test_a_load_tells_what_it_waits_for() -> None:
    """A batch to make, one that cools and one that is ready are told apart; a late one is red."""
    assert told(curing(at("12:00"))) == [("waits", "for ham cure, to make by 13:00", Tone.PLAIN)]
    made = standing(BatchStage.MADE, at("13:00"))
    assert told(curing(at("14:00"), batches=made)) == [("waits", "for ham cure, ready 17:00", Tone.PLAIN)]
    assert told(curing(at("17:30"), batches=made)) == [("waits", "for ham cure, ready", Tone.PLAIN)]
    assert told(curing(at("00:50", 1)))[0][2] is Tone.LATE


def test_a_load_tells_that_its_batch_is_gone() -> None:
    """A batch thrown away is told with what to do."""
    gone = standing(BatchStage.DISCARDED, at("13:00"), discarded_at=at("14:00"))
    assert told(curing(at("14:00"), batches=gone)) == [
        ("waits", "for ham cure, which is discarded: plan again", Tone.LATE)
    ]


def test_a_load_tells_its_lots() -> None:
    """What was put in it is told by its lot and mass, on its page too."""
    use = UseFacts(SERVED, "t-inject", CURE, HAMS, SERVED, "1219-ham-cure-1", 2.88, "bram", at("18:00"))
    facts = curing(at("18:10"), uses=(use,), batches=standing(BatchStage.MADE, at("13:00")))
    assert ("lot", "1219-ham-cure-1, 2.9 kg", Tone.QUIET) in told(facts)
    page = load_page(facts, ref(SERVED, HAMS))
    assert page is not None
    assert "1219-ham-cure-1, 2.9 kg" in [one.says for one in page.facts]
