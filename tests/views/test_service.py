"""What the Service view says of each item."""

from board.ledger.state import LoadStage
from board.views.facts import Done
from board.views.progress import Risk
from board.views.service import ItemLine, service
from tests.app.house_fixture import DAY, at, plan
from tests.views.facts_fixture import facts, standing, state

HELD = state("sat-brisket", LoadStage.PULLED, on_at=at("19:12", -1), pulled_at=at("06:50"), portions_left=80)


def line(item: str, **changes: object) -> ItemLine:
    """One item's line."""
    now = changes.pop("now", at("12:00"))
    return next(one for one in service(facts(now=now, **changes)).lines if one.item == item)  # type: ignore[arg-type]


def test_rested_load_is_ready_with_its_age() -> None:
    """A load pulled and rested counts as ready, as old as the time since it had rested."""
    brisket = line("brisket-plate", loads=standing(HELD))
    assert (brisket.holding, brisket.oldest) == (80, "4 h 10")


def test_resting_load_is_not_ready_yet() -> None:
    """A load just pulled rests, and is not counted as ready."""
    brisket = line("brisket-plate", now=at("07:00"), loads=standing(HELD))
    assert (brisket.holding, brisket.resting) == (0, 80)


def test_held_past_its_longest_is_marked() -> None:
    """A hold longer than the cut allows is marked."""
    assert line("brisket-plate", loads=standing(HELD)).held_too_long
    assert not line("brisket-plate", now=at("11:00"), loads=standing(HELD)).held_too_long


def test_coming_waves_are_of_this_service_only() -> None:
    """Loads for dinner are not counted as coming for lunch."""
    chicken = line("half-bird", now=at("09:00"))
    assert [(wave.portions, wave.risk) for wave in chicken.coming] == [(60, Risk.LATE)]


def test_what_is_left_is_the_promise_less_the_sales() -> None:
    """Left counts down from what was promised."""
    brisket = line("brisket-plate", loads=standing(HELD), sold={(DAY, "lunch", "brisket-plate"): 30})
    assert (brisket.sold, brisket.left) == (30, 60)


def test_lasting_follows_todays_pace() -> None:
    """Thirty sold in the first hour leave ten portions for twenty minutes."""
    few = standing(
        state("sat-brisket", LoadStage.PULLED, on_at=at("19:12", -1), pulled_at=at("06:50"), portions_left=10)
    )
    brisket = line("brisket-plate", loads=few, sold={(DAY, "lunch", "brisket-plate"): 30})
    assert brisket.lasts == "until 12:20"
    assert brisket.runs_short


def test_slow_sales_last_to_the_end() -> None:
    """With more than will be sold, an item lasts to the end of the service."""
    brisket = line("brisket-plate", loads=standing(HELD), sold={(DAY, "lunch", "brisket-plate"): 10})
    assert brisket.lasts == "to the end"


def test_sold_out_says_so() -> None:
    """An item marked sold out says only that."""
    assert line("ham-plate", sold_out=frozenset({(DAY, "lunch", "ham-plate")})).lasts == "sold out"


def test_an_item_with_nothing_left_to_do_still_has_its_load() -> None:
    """Once every step is done the item points at the load that came ready last, without a step."""
    done = {(DAY, step.id): Done(at("11:30"), "bram") for step in plan().steps}
    brisket = line("brisket-plate", loads=standing(HELD), done=done)
    assert (brisket.load, brisket.step) == (f"{DAY.isoformat()}/sat-brisket", "")
