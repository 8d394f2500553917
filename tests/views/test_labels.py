"""What a label says: all that an inspector or the next shift asks of a tub in the walk-in."""

from dataclasses import replace

from board.ledger.state import BatchStage
from board.views.labels import BLANK, label, labels, labels_of_day
from tests.app.house_fixture import DAY, at

from .cure_fixture import curing, standing, tuesday


def test_label_of_a_cure_tells_all_that_is_asked_of_it() -> None:
    """Name, lot, amount, who made it when, its times, its meat, its strength, allergens and cautions."""
    facts = curing(at("18:00"), batches=standing(BatchStage.MADE, at("13:00")))
    one = label(facts, tuesday(), tuesday().batches[0])
    assert (one.name, one.lot) == ("ham cure", "1219-ham-cure-1")
    assert one.says == (
        "2.9 kg, 2.5 L",
        "made Sat 19 Dec 2026 13:00 by Wren",
        "ready from Sat 19 Dec 2026 17:00",
        "use by Sun 20 Dec 2026 13:00",
        "for 6 hams",
        "sodium nitrite 0.148 %, 148 ppm in the meat",
        "allergens: MOLASSES",
    )
    assert one.minds == (
        "raw brine: discard after use",
        "Contains nitrite: not table salt; only for the meat it was weighed for",
    )


def test_label_before_the_making_leaves_room_to_write() -> None:
    """What is not known yet is left blank, not guessed."""
    one = label(curing(at("12:00")), tuesday(), tuesday().batches[0])
    assert one.lot == BLANK
    assert f"made {BLANK} by {BLANK}" in one.says
    assert f"use by {BLANK}" in one.says


def test_labels_of_a_day_are_of_what_is_made_on_it() -> None:
    """The cure is made on Saturday for Tuesday: Saturday's labels have it, Tuesday's do not."""
    facts = curing(at("12:00"))
    assert [one.name for one in labels_of_day(facts, DAY)] == ["ham cure"]
    assert labels_of_day(facts, tuesday().day) == []
    gone = curing(at("14:00"), batches=standing(BatchStage.DISCARDED, at("13:00")))
    assert labels_of_day(gone, DAY) == []


def test_each_pot_has_its_label() -> None:
    """A batch made in three pots has three labels, which say which of the three they are."""
    batch = replace(tuesday().batches[0], vessels=3)
    found = labels(curing(at("12:00")), tuesday(), batch)
    assert [one.says[-1] for one in found] == ["1 of 3", "2 of 3", "3 of 3"]


def test_a_label_whose_recipe_is_gone_calls_its_allergens_unknown() -> None:
    """Nothing known is not the same as none named; a cure keeps its caution."""
    facts = curing(at("18:00"), batches=standing(BatchStage.MADE, at("13:00")))
    one = label(replace(facts, house=replace(facts.house, recipes={})), tuesday(), tuesday().batches[0])
    assert "allergens: NOT KNOWN, its recipe is not in the house's files any more" in one.says
    assert any("nitrite" in mind for mind in one.minds)
