"""What would help, from the facts of a moment to the words for it."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.ledger.state import LoadStage, PitState, Reading
from board.planning.plan import Plan, PlannedLoad
from board.planning.remedies.remedy import (
    Action,
    Advice,
    Cost,
    CostKind,
    Kind,
    LeftOut,
    Reason,
    Remedy,
)
from board.views.facts import Facts, find_step, load_of
from board.views.remedies import best_line, odds, remedies
from board.views.remedying import advised, asked_of, in_trouble, scene_of
from board.views.steps import say
from tests.app.advice import HAMS
from tests.app.house_fixture import DAY, at, span
from tests.views.facts_fixture import NOW, facts, standing, state

ON = state("sat-ham", LoadStage.ON, on_at=at("05:24"), pit="little")
LIT = PitState("little", at("04:30"), 107.0, None, None)


def ham(of: Facts) -> tuple[Plan, PlannedLoad]:
    """The hams and their plan."""
    found = load_of(of, f"{DAY}/sat-ham")
    assert found is not None
    return found


def cooking(**changes: object) -> Facts:
    """The hams on Little, 44 minutes after plan, and briskets beside on North."""
    brisket = state(
        "sat-brisket", LoadStage.WRAPPED, on_at=at("19:14", -1), wrapped_at=at("02:05"), pit="north"
    )
    usual = {"loads": standing(ON, brisket), "pits": {"little": LIT}}
    return facts(**(usual | changes))  # type: ignore[arg-type]


def remedy(kind: Kind = Kind.RAISE, chance: float = 0.9, **changes: object) -> Remedy:
    """A remedy on Little."""
    action = Action(kind, "little", 121.0, core_c=63.0, hold="hold", other="sat-brisket")
    return replace(Remedy(action, span("09:25", "09:58", "10:34"), chance), **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("chance", "says"),
    [
        (1.0, "almost surely in time"),
        (0.97, "9 times in 10 in time"),
        (0.62, "6 times in 10 in time"),
        (0.06, "1 time in 10 in time"),
        (0.02, "almost never in time"),
    ],
)
def test_a_chance_is_said_in_tenths(chance: float, says: str) -> None:
    """No chance but the surest is called sure, and none above a twentieth is called none."""
    assert odds(remedy(chance=chance)) == says


def test_every_remedy_cost_and_reason_has_words() -> None:
    """Nothing that the planning can answer is left without a sentence."""
    of = cooking()
    plan, load = ham(of)
    costs = tuple(Cost(kind, 12.0, 5, "sat-brisket", 63.0) for kind in CostKind)
    one = remedy(costs=costs)
    left_out = tuple(
        LeftOut(kind, reason, about)
        for kind in Kind
        for reason in Reason
        for about in ("", "little", "hold", "sat-brisket")
    )
    known = Advice("sat-ham", one, tuple(remedy(kind) for kind in Kind), left_out)
    view = remedies(of, plan, load, known)
    assert all(line.says for line in view.lines)
    assert len(view.lines[-1].costs) == len(CostKind)
    assert all(says.split(": ", 1)[1].strip() for says in view.left_out)
    assert "None" not in repr(view)


def test_the_best_line_names_what_when_and_how_surely() -> None:
    """One sentence under a load in trouble; a load without advice has none, and no remedy is said too."""
    of = cooking()
    _, load = ham(of)
    assert best_line(of, load, HAMS) == "raise Little to 121°: likely 09:58, 9 times in 10 in time"
    assert best_line(of, load, None) == ""
    assert best_line(of, load, replace(HAMS, remedies=())) == "nothing found that helps: remedies say why"


def test_a_load_that_is_ready_already_is_said_to_be() -> None:
    """Another load that rests and is ready is no likely time in the past, nor on its pit."""
    off = state("sat-brisket", LoadStage.PULLED, on_at=at("19:14", -1), pulled_at=at("08:00"), pit="north")
    of = cooking(now=at("10:00"), loads=standing(ON, off))
    _, load = ham(of)
    other = remedy(Kind.OTHER_FIRST, chance=0.02, ready=span("09:00", "09:00", "09:00"))
    says = best_line(of, load, replace(HAMS, remedies=(other,)))
    assert says == "serve the 12 briskets off North first: ready now, almost never both in time"
    assert remedies(of, *ham(of), replace(HAMS, remedies=(other,))).lines[0].ready == "now"


def test_a_scene_holds_what_stands_around_a_load() -> None:
    """The others on pits, those to come, the fires, and other loads of its item."""
    of = cooking()
    plan, load = ham(of)
    scene = scene_of(of, plan, load)
    assert [one.key for one in scene.beside] == ["sat-brisket"]
    assert {one.id for one in scene.coming} >= {"sat-ribs", "sat-chicken"}
    assert scene.lit == {"little": 107.0}
    assert scene.supplies == ()
    assert {stay.hold for stay in scene.held} == {"hold"}
    assert scene.elapsed == pytest.approx(18.0)


def test_a_wrap_that_is_overdue_is_not_taken_as_done() -> None:
    """Read past its wrap and not marked wrapped, a brisket is taken to lie open still."""
    open_still = state("sat-brisket", LoadStage.ON, on_at=at("19:14", -1), pit="north")
    read = Reading(9, at("05:30"), "ines", "sat-brisket", 80.0, "sat-brisket")
    of = cooking(loads=standing(ON, open_still), readings={(DAY, "sat-brisket"): (read,)})
    found = load_of(of, f"{DAY}/sat-brisket")
    assert found is not None
    assert scene_of(of, *found).load.cook.wrap_minute == float("inf")


def test_loads_in_trouble_are_those_that_may_be_late() -> None:
    """The hams went on late; the briskets have hours to spare."""
    assert [load.id for _, load in in_trouble(cooking())] == ["sat-ham"]


def test_advice_for_those_in_trouble_is_worked_out() -> None:
    """The real sums find a remedy for the fixture's hams that is no worse than doing nothing."""
    found = advised(cooking())
    assert set(found) == {"sat-ham"}
    assert all(one.chance >= found["sat-ham"].nothing.chance for one in found["sat-ham"].remedies)


def test_advice_is_asked_anew_when_something_changes() -> None:
    """A setpoint, a stage, or ten minutes; not one minute within them."""
    before = asked_of(cooking())
    assert asked_of(cooking()) == before
    assert asked_of(cooking(pits={"little": replace(LIT, setpoint_c=121.0)})) != before
    assert asked_of(replace(cooking(), now=NOW + timedelta(minutes=12))) != before
    assert asked_of(facts()) == ()


def test_a_moved_load_is_pulled_from_where_it_is() -> None:
    """Its steps and its story name the pit it was moved to, what came before the pit it was on."""
    moved = replace(ON, pit="south", moved_at=at("05:40"), moved_from="little")
    of = cooking(loads=standing(moved))
    plan, _ = ham(of)
    pull = find_step(plan, "s-pull-ham")
    assert pull is not None
    assert say(of, plan, pull) == "pull 4 hams from South"
