"""What runs in a process of its own: a case tells its events as lines of JSON, its peak of memory last."""

import json
import resource
import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from functools import partial
from pathlib import Path
from time import perf_counter

from board.planning.core.project import shortest
from board.planning.core.search import Effort
from board.planning.costs import cost_parts
from board.planning.planner import plan_day
from board.planning.problem import Assignment, Problem, points
from board.planning.reckoning import settle_as_reckoned
from board.planning.replan.begun import begun_as_planned
from board.planning.replan.differences import moved
from board.planning.search.insertion import insertion
from board.planning.search.progress import Progress
from board.planning.search.settle import settle
from tests.bench.planning.houses import growing, house_of, problem_of
from tests.bench.replan import slipped as slip
from tests.planning.assignments import assignment_faults
from tests.planning.baseline import back_scheduled
from tests.planning.by_hand import written
from tests.planning.checker import faults
from tests.planning.checker.costs import cost_faults
from tests.planning.generator import DAY
from tests.planning.planted import planted as planted_problem
from tests.planning.published.judge import broken as rules_broken
from tests.planning.published.readers import flexible, job_shop, psplib, with_lags
from tests.planning.test_bound import problem_of as by_hand_problem


def tell(what: str, **event: object) -> None:
    """One event as a line."""
    print(json.dumps({"what": what, **event}), flush=True)


def told(problem: Problem, plan: Assignment) -> dict:
    """A solution's points, what of them is unserved or late, and its faults, found with code of their own."""
    parts, broken = cost_parts(problem, plan), assignment_faults(problem, plan)
    return {
        "cost": points(problem, plan),
        "unserved": parts.unserved,
        "late": parts.late,
        "faults": len(broken),
        "first_fault": broken[0] if broken else "",
    }


class Clock:
    """Seconds since it was made; asked whether to stop, it says when the time is up."""

    def __init__(self, seconds: float = float("inf")) -> None:
        self.began, self.most = perf_counter(), seconds

    @property
    def s(self) -> float:
        """Seconds gone."""
        return perf_counter() - self.began

    def up(self) -> bool:
        """Whether the time is up."""
        return self.s >= self.most

    def progress(self, p: Progress) -> None:
        """Tell of a better plan or a higher bound."""
        tell("now", s=self.s, cost=p.cost, bound=p.bound, stage=p.stage)


def searched(size: str, seed: int, seconds: float) -> None:
    """A drawn house: built, planned plainly, and searched for so many seconds by the clock."""
    house, day = house_of(size, seed)
    building = Clock()
    problem = problem_of(house, day)
    tell("built", s=building.s, parts=len(problem.parts), pits=len(house.pits))
    placing = Clock()
    plain = back_scheduled(problem)
    tell("plain", s=placing.s, **told(problem, plain))
    clock = Clock(seconds)
    search = partial(settle, seed=0)
    answer = settle_as_reckoned(problem, search, seconds=seconds, progress=clock.progress, stop=clock.up)
    s = clock.s
    tell("end", s=s, bound=answer.bound, proved=answer.proved, **told(answer.problem, answer.solution))


def planned(size: str, seed: int, seconds: float) -> None:
    """A house's day planned whole, as `board plan` does: steps, people, batches and accounts too."""
    house, day = house_of(size, seed)
    clock = Clock(seconds or float("inf"))
    plan = plan_day(house, day, seconds=seconds, progress=clock.progress, stop=clock.up)
    s = clock.s
    broken = [*faults(plan, house), *cost_faults(plan, house)]
    first = broken[0] if broken else ""
    tell(
        "end",
        s=s,
        cost=plan.cost,
        bound=plan.bound,
        result=plan.result,
        parts=len(plan.loads),
        faults=len(broken),
        first_fault=first,
    )


def grown(loads: int, seed: int) -> None:
    """The first plan of a house of a size: its tables, and then all its loads placed."""
    house = growing(loads, seed)
    building = Clock()
    problem = problem_of(house, DAY)
    built, placing = building.s, Clock()
    plan = insertion(problem)
    tell("first", parts=len(problem.parts), built=built, s=placing.s, **told(problem, plan))


def planted(pits: int, seed: int, seconds: float) -> None:
    """A problem whose best plan is known, settled."""
    with tempfile.TemporaryDirectory() as folder:
        house = written(Path(folder))
    template = by_hand_problem(house, {("lunch", "sliced"): 0, ("supper", "bird"): 0})
    problem, best = planted_problem(template, pits, seed)
    clock = Clock(seconds)
    answer = settle(problem, seconds=seconds, seed=0, progress=clock.progress, stop=clock.up)
    s = clock.s
    tell(
        "end",
        s=s,
        best=best,
        bound=answer.bound,
        proved=answer.proved,
        **told(answer.problem, answer.solution),
    )


def published(name: str, seconds: float) -> None:
    """A published case through the scheduling core."""
    readers = {".sm": psplib, ".sch": with_lags}
    reader = flexible if name.startswith("mk") else readers.get(Path(name).suffix, job_shop)
    project = reader(name)
    clock = Clock()
    schedule = shortest(project, Effort(seconds))
    s = clock.s
    wrong = [] if schedule.impossible else rules_broken(project, schedule)
    tell(
        "end",
        s=s,
        cost=schedule.cost,
        proved=schedule.proved,
        impossible=schedule.impossible,
        faults=len(wrong),
    )


def slipped(house_name: str, seconds: float) -> None:
    """Each load of a plan an hour late, half an hour after it went on; what the plan becomes then."""
    house, day = house_of(house_name, 0)
    plan = plan_day(house, day, seconds=seconds)
    for load in plan.loads:
        now = load.load_at + timedelta(minutes=30)
        standing = slip(begun_as_planned(plan, now), load.id)
        clock = Clock()
        again = plan_day(house, day, seconds=seconds, now=now, standing=standing, committed=plan)
        s = clock.s
        # what the slip alone breaks is a fact; the load that slipped tells of its own sum as it was planned
        late = next(ld for ld in standing.loads if ld.id == load.id)
        as_it_is = replace(plan, loads=tuple(late if ld.id == load.id else ld for ld in plan.loads))
        facts = set(faults(as_it_is, house))
        wrong = [fault for fault in faults(again, house) if load.id not in fault and fault not in facts]
        tell("slip", s=s, moved=len(moved(plan, again)), faults=len(wrong), first_fault=(wrong or [""])[0])
    tell("end", loads=len(plan.loads))


CASES: dict[str, Callable[..., None]] = {
    case.__name__: case for case in (searched, planned, grown, planted, published, slipped)
}


def peak_mib() -> float:
    """Peak memory of this process and of the largest it started."""
    own = next(row for row in Path("/proc/self/status").read_text().splitlines() if row.startswith("VmHWM"))
    return (int(own.split()[1]) + resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss) / 1024


if __name__ == "__main__":
    CASES[sys.argv[1]](**json.loads(sys.argv[2]))
    tell("memory", mib=peak_mib())
