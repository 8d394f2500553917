"""The planner as the board uses it: a first plan at once, then the settled one."""

from functools import partial

from board.app.session import Better, Wanted
from board.app.warming import load
from board.planning.plan import Plan
from board.planning.search.patience import SECONDS


def plan(wanted: Wanted, better: Better, *, seconds: float = SECONDS) -> Plan:
    """Plan a day in two goes around what is decided, telling of the first plan and of how the search goes."""
    load("board.planning.planner", "board.planning.solver.solve", "board.planning.bound.rising")
    from board.planning.planner import plan_day
    from board.planning.search.progress import Progress
    from board.views.standing import standing_for
    from board.views.worth import how_far

    def told(progress: Progress) -> None:
        better(None, how_far(progress.cost, progress.bound))

    search = partial(
        plan_day,
        wanted.house,
        wanted.day,
        promises=wanted.promises,
        now=wanted.now,
        standing=standing_for(wanted.facts, wanted.day),
        committed=wanted.keep,
        pins=wanted.pins,
    )
    better(search(seconds=0), "looking for a better plan")
    return search(seconds=seconds, progress=told, stop=wanted.stop)
