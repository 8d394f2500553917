"""Which load is meant: by its cut alone, and by its pieces or its time where others could be."""

from dataclasses import replace

from board.ledger.state import LoadStage
from board.views.subjects import the_load
from tests.app.house_fixture import at, plan
from tests.views.facts_fixture import facts, standing, state


def test_a_load_is_told_from_others_of_its_cut() -> None:
    """The only briskets are the briskets; two loads differ by their pieces, or by when they went on."""
    on = standing(state("sat-brisket", LoadStage.ON, on_at=at("19:12", -1)))
    brisket = next(load for load in plan().loads if load.id == "sat-brisket")
    seen = facts(loads=on)
    assert the_load(seen, plan(), brisket) == "the briskets"
    fewer, same = replace(brisket, id="b2", pieces=3), replace(brisket, id="b3", load_at=at("23:00", -1))
    two = replace(plan(), loads=(brisket, fewer))
    assert the_load(seen, two, fewer) == "the 3 briskets"
    three = replace(plan(), loads=(brisket, fewer, same))
    assert the_load(seen, three, brisket) == "the 12 briskets (on 19:12)"
    assert the_load(seen, three, same) == "the 12 briskets (on 23:00)"
