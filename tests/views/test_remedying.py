"""The scene that remedies are judged in, and whether one may still be done."""

from dataclasses import replace

from board.ledger.state import LoadStage, PitState
from board.planning.remedies.remedy import Action, Kind
from board.views.facts import load_of
from board.views.remedying import may_still_do, scene_of
from tests.app.house_fixture import DAY, at
from tests.views.facts_fixture import NOW, standing, state
from tests.views.test_remedies import LIT, ON, cooking, ham


def test_a_remedy_is_refused_where_things_have_changed() -> None:
    """Pulled, moved, the pit too small by now, or a load come that bears less heat: it may not be done."""
    of = cooking()
    plan, load = ham(of)
    raised = Action(Kind.RAISE, "little", 121.0)
    assert may_still_do(of, plan, load, raised)
    assert may_still_do(of, plan, load, Action(Kind.PULL_LOWER, "little", core_c=63.0))
    assert not may_still_do(of, plan, load, Action(Kind.PULL_LOWER, "little", core_c=55.0))
    assert not may_still_do(of, plan, load, Action(Kind.RAISE, "little", 200.0))
    assert not may_still_do(of, plan, load, Action(Kind.LOWER, "little", 107.0))
    assert not may_still_do(of, plan, load, Action(Kind.WRAP, "little"))
    assert not may_still_do(of, plan, load, Action(Kind.RAISE_AND_WRAP, "little", 121.0))
    pulled = replace(ON, stage=LoadStage.PULLED, pulled_at=NOW)
    assert not may_still_do(cooking(loads=standing(pulled)), plan, load, raised)
    moved = replace(ON, pit="south", moved_at=at("05:40"), moved_from="little")
    assert not may_still_do(cooking(loads=standing(moved)), plan, load, raised)


def test_a_move_is_refused_once_the_pit_is_full() -> None:
    """South had room when the list was made; the briskets have been carried there since."""
    lit = {"little": LIT, "south": PitState("south", at("04:30"), 121.0, None, None)}
    of = cooking(pits=lit)
    plan, load = ham(of)
    move = Action(Kind.MOVE, "south", 121.0)
    assert may_still_do(of, plan, load, move)
    small = replace(of.house.pits["south"], area_m2=0.5)
    full = replace(of, house=replace(of.house, pits={**of.house.pits, "south": small}))
    assert not may_still_do(full, plan, load, move)


def test_what_is_held_past_its_need_still_takes_room() -> None:
    """Hams in the hold since four and not served stand there after the need, as long as they may be held."""
    held = replace(ON, stage=LoadStage.HOLDING, pulled_at=at("03:00"), holding_at=at("12:30"))
    late = replace(cooking(loads=standing(held)), now=at("13:00"))
    plan, load = load_of(late, f"{DAY}/sat-brisket") or (None, None)
    assert plan is not None
    assert load is not None
    own = [one for one in late.plans[DAY].loads if one.id == "sat-ham"]
    assert own[0].needed_at < late.now
    brisket = state("sat-brisket", LoadStage.ON, on_at=at("19:14", -1), pit="north")
    scene = scene_of(replace(late, loads=standing(held, brisket)), plan, load)
    stays = [stay for stay in scene.held if stay.begin == late.now]
    assert any(stay.end == at("16:30") for stay in stays), scene.held
