"""What may have its temperature taken, and in which order it is offered."""

from dataclasses import replace

from board.ledger.state import LoadStage
from board.views.measuring import places
from tests.app.house_fixture import at
from tests.views.facts_fixture import facts, standing, state


def test_what_cooks_comes_first_and_what_was_served_is_gone() -> None:
    """The loads on the pits stand on top; one that came off for a service that is over is not offered."""
    off = state("sat-brisket", LoadStage.PULLED, on_at=at("19:12", -1), pulled_at=at("09:00"))
    on = state("sat-ham", LoadStage.ON, on_at=at("05:30"), last_core_c=30.0)
    now = facts(now=at("09:30"), loads=standing(off, on))
    names = [choice.name for choice in places(now)]
    assert names[:3] == ["4 hams, Little", "12 briskets, North", "North, the pit"]
    later = [choice.name for choice in places(replace(now, now=at("23:50")))]
    assert later[:2] == ["4 hams, Little", "North, the pit"]
