"""A plan laid open beside what stands, to try its loads elsewhere."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from board.planning.plan import Plan
from board.views.facts import Facts
from board.views.pinning import without_lost

if TYPE_CHECKING:
    from board.planning.replan.desk import Desk


def opened(facts: Facts, plan: Plan, promises: Mapping[tuple[str, str], int]) -> "Desk":
    """The desk of a plan at this moment.

    Raises:
        PlanError: nothing of it can be moved any more.
    """
    from board.planning.replan.desk import desk_of  # noqa: PLC0415 - the sums load when first asked
    from board.views.standing import standing_for  # noqa: PLC0415

    standing = standing_for(facts, plan.day)
    kept = without_lost(facts, plan)
    return desk_of(facts.house, kept, promises=promises, now=facts.now, standing=standing)
