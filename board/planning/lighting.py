"""Fires lit a little sooner than their meat asks, where nobody is free to light them at that minute."""

from collections.abc import Iterator
from dataclasses import replace

from board.planning.assemble import firing
from board.planning.problem import Assignment, Problem, tasks
from board.planning.roster import Roster
from board.planning.run import Run, Task
from board.planning.search.sound import is_sound

# A fire burns no longer than so many slots for want of hands: two hours.
_SOONER_MOST = 24


def lit_sooner(problem: Problem, plan: Assignment) -> Assignment:
    """The plan with fires lit sooner, each at the latest moment before that leaves less work to nobody."""
    bare = _bare(problem, plan)
    for pit in plan.runs if bare else ():
        for run in plan.runs[pit]:
            light = Task("light", run.begin, run.begin + problem.frame.pits[pit].light)
            if run.known or run.chained or not any(_meet(light, task) for task in bare):
                continue
            for moved in _moved(problem, plan, pit, run):
                left = _bare(problem, moved)
                if len(left) < len(bare) and is_sound(problem, moved):
                    plan, bare = moved, left
                    break
    return plan


def _meet(one: Task, other: Task) -> bool:
    return one.begin < other.end and other.begin < one.end


def _moved(problem: Problem, plan: Assignment, pit: str, run: Run) -> Iterator[Assignment]:
    """The plan with one fire lit sooner, slot by slot, as long as the pit is free to burn."""
    runs, shut = plan.runs[pit], problem.frame.pits[pit].shut
    until = max((other.end for other in runs if other.end <= run.begin), default=-1)
    first = max(0, problem.frame.outset.earliest, until + 1, run.begin - _SOONER_MOST)
    for begin in range(run.begin - 1, first - 1, -1):
        if shut[begin]:
            return
        changed = tuple(replace(other, begin=begin) if other is run else other for other in runs)
        yield replace(plan, runs={**plan.runs, pit: changed})


def _bare(problem: Problem, plan: Assignment) -> list[Task]:
    """The work at fixed times that nobody can be found for."""
    roster = Roster(problem.frame.crew)
    placed = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    roster.deal([*firing(problem, plan), *(task for part, at in placed for task in tasks(part, at))])
    return [Task(job.what, job.begin, job.end) for job in roster.jobs if job.row is None]
