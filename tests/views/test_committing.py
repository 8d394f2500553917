"""What is said once a day is planned, and before it is committed."""

from dataclasses import replace

from board.app.keymap import Keymap
from board.planning.plan import Risk
from board.views.committing import commit_lines, less_sure
from tests.app.house_fixture import at, plan
from tests.views.facts_fixture import facts

KEY = Keymap().key


def sure(chance: float):
    """The fixture's plan with lunch so sure."""
    return replace(plan(), risks=(Risk("lunch", at("11:00"), chance, 0.9, 0.0),))


def committed(chance: float):
    """The facts with such a plan committed."""
    return facts(plans={plan().day: sure(chance)})


def test_a_service_that_a_new_plan_leaves_less_sure_is_told() -> None:
    """94 before and 82 now, below what is wanted: both numbers, and where to see why."""
    says = less_sure(committed(0.94), sure(0.82), KEY)
    assert "lunch is 82 of 100 sure, 94 before: d shows what changes" in says.lower()


def test_as_sure_as_wanted_or_hardly_less_is_not_told() -> None:
    """What stays above its wanted chance, or fell by less than anybody plans by, raises no alarm."""
    for before, after in ((0.99, 0.91), (0.88, 0.86), (0.82, 0.94)):
        assert less_sure(committed(before), sure(after), KEY) == ""


def test_a_first_plan_has_nothing_to_compare_with() -> None:
    """Without a committed plan the lines say how many loads it has and how sure it is."""
    first, second = commit_lines(facts(plans={}), sure(0.94), KEY)
    assert first.startswith("The first plan of this day: ")
    assert "94 of 100 sure" in second
