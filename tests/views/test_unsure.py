"""What is said of a service that is less sure than it wants, where nothing of it is short."""

from dataclasses import replace

from board.planning.plan import Plan, Risk
from board.views.cures import short_of
from tests.app.house_fixture import at, plan
from tests.views.facts_fixture import facts


def served(chance: float) -> Plan:
    """Saturday's plan, short of nothing, with lunch at a chance where 90 in 100 are wanted."""
    every = tuple(replace(one, promises={}) for one in plan().occasions)
    return replace(plan(), short=(), occasions=every, risks=(Risk("lunch", at("11:00"), chance, 0.9, 0.0),))


def test_an_unsure_service_is_told_with_the_load_it_hangs_on_and_what_helps() -> None:
    """The chance beside the one wanted, its least sure load with its own, and the key to press."""
    made = served(0.57)
    least = min((load for load in made.loads if "lunch" in load.services), key=lambda load: load.chance)
    says = short_of(facts(), made, lambda _: "p")
    assert says.startswith("not all is sure: lunch: in time 57 times in 100, 90 wanted, least sure ")
    assert f"least sure {least.pieces} " in says
    assert f", {round(100 * least.chance)} times in 100; " in says
    assert says.endswith("; a later time or a smaller promise helps (p), or more room or hands")


def test_a_sure_plan_has_nothing_to_say() -> None:
    """At the chance that is wanted nothing stands there."""
    made = served(0.93)
    assert short_of(facts(), made, lambda _: "p") == ""
