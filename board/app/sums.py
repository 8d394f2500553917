"""The sums a board has done in the background, each imported by the thread that first needs it."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from board.app.warming import load
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts
from board.views.progress import Revised

if TYPE_CHECKING:
    from board.planning.remedies.remedy import Advice
    from board.planning.replan.desk import Desk
    from board.views.load_course import LoadCourse
    from board.views.remedying import Advised


def revised(facts: Facts) -> Revised:
    """The pull times as the readings have them."""
    load("board.cooking.cook")
    from board.views.revising import revised as found

    return found(facts)


def course_of(facts: Facts, key: str) -> "LoadCourse | None":
    """What the sums expect of one load."""
    from board.views.load_course import course_of as found

    return found(facts, key)


def advised(facts: Facts, revised: Revised) -> "Advised":
    """What helps each load in trouble."""
    from board.views.remedying import advised as found

    return found(facts, revised)


def advice_for(facts: Facts, plan: Plan, load: PlannedLoad, revised: Revised) -> "Advice | None":
    """What helps one load."""
    from board.views.remedying import advice_for as found

    return found(facts, plan, load, revised)


def opened(facts: Facts, plan: Plan, promises: Mapping[tuple[str, str], int]) -> "Desk":
    """A plan laid open to try its loads elsewhere."""
    from board.views.opening_plan import opened as found

    return found(facts, plan, promises)
