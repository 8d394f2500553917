"""A small part of a plan set free: the rest of it stands, as other days' loads do."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from board.planning.birds import is_bird
from board.planning.problem import (
    Assignment,
    Part,
    Placed,
    Problem,
    cooking,
    holding,
    resting,
    tasks,
)
from board.planning.run import Run, Task
from board.planning.search.occupancy import lightings
from board.planning.standing import Stay, Taken


@dataclass(frozen=True)
class Hearth:
    """A fire of a pit from cold to cold, through any change-over, and the parts it cooks."""

    pit: str
    runs: tuple[Run, ...]
    parts: tuple[Part, ...]

    @property
    def begin(self) -> int:
        """The slot it is lit in."""
        return self.runs[0].begin

    @property
    def end(self) -> int:
        """The slot it goes out in."""
        return self.runs[-1].end


def hearths(problem: Problem, plan: Assignment) -> list[Hearth]:
    """All fires of a plan with their parts, pit by pit in order of time."""
    here: dict[str, list[Part]] = {}
    for part in problem.parts:
        if part.id in plan.placed:
            here.setdefault(plan.placed[part.id].mode.pit, []).append(part)
    return [
        Hearth(pit, runs, tuple(p for p in here.get(pit, ()) if _within(runs, plan.placed[p.id].start)))
        for pit in plan.runs
        for runs in _chains(plan.runs[pit])
    ]


def _within(runs: tuple[Run, ...], start: int) -> bool:
    return runs[0].begin <= start < runs[-1].end


def _chains(runs: tuple[Run, ...]) -> list[tuple[Run, ...]]:
    chains: list[tuple[Run, ...]] = []
    for run in runs:
        if run.chained and chains:
            chains[-1] = (*chains[-1], run)
        else:
            chains.append((run,))
    return chains


@dataclass(frozen=True)
class Freed:
    """Parts to place anew on a few pits, `fires` of which may change; all else of the plan stands.

    Where it is `packed`, the parts are to be packed into the fires as they are.
    """

    parts: tuple[Part, ...]
    pits: frozenset[str]
    fires: tuple[Hearth, ...]
    packed: bool = False


def part_problem(problem: Problem, plan: Assignment, freed: Freed) -> Problem:
    """The problem of placing the freed parts on the freed pits beside the rest of the plan."""
    ids = {part.id for part in freed.parts}
    fixed = [(p, plan.placed[p.id]) for p in problem.parts if p.id in plan.placed and p.id not in ids]
    frame = problem.frame
    taken = replace(
        _more_taken(frame.taken, fixed),
        runs={pit: _standing_runs(problem, plan, pit, freed) for pit in frame.pits},
    )
    lit = (task for pit in frame.pits for task in _lit(problem, taken.runs[pit], pit))
    taken = replace(taken, tasks=(*taken.tasks, *lit))
    parts = tuple(_only_on(part, freed.pits) for part in freed.parts)
    return Problem(replace(frame, taken=taken), parts)


def hint_for(part: Problem, plan: Assignment, freed: Freed) -> Assignment:
    """What a plan says of the freed parts, as a plan of their part problem."""
    ids = {one.id for one in freed.parts}
    runs = {pit: _as_known(plan.runs[pit], part.frame.taken.runs[pit]) for pit in plan.runs}
    return Assignment({key: at for key, at in plan.placed.items() if key in ids}, runs)


def _as_known(runs: tuple[Run, ...], standing: tuple[Run, ...]) -> tuple[Run, ...]:
    begun = {run.begin for run in standing}
    return tuple(replace(run, known=run.begin in begun) for run in runs)


def joined(problem: Problem, plan: Assignment, freed: Freed, found: Assignment) -> Assignment:
    """The plan with what was found for the freed parts in place of what was."""
    ids = {part.id for part in freed.parts}
    placed = {key: at for key, at in plan.placed.items() if key not in ids} | found.placed
    runs = {
        pit: tuple(_named(problem, pit, run) for run in found.runs[pit]) if pit in freed.pits else kept
        for pit, kept in plan.runs.items()
    }
    return Assignment(placed, runs)


def _more_taken(taken: Taken, fixed: Iterable[tuple[Part, Placed]]) -> Taken:
    on, birds, others = (_lists(stays) for stays in (taken.cooking, taken.birds, taken.others))
    bench, hold, work = list(taken.bench), list(taken.hold), list(taken.tasks)
    for part, at in fixed:
        stay = (*cooking(part, at), part.area_cm2)
        on[at.mode.spot].append(stay)
        (birds if is_bird(part.need.cut) else others).setdefault(at.mode.spot, []).append(stay)
        bench.append((*resting(part, at), part.area_cm2))
        hold.append((*holding(part, at), part.area_cm2))
        work += tasks(part, at)
    return replace(
        taken,
        cooking=_tuples(on),
        birds=_tuples(birds),
        others=_tuples(others),
        bench=tuple(bench),
        hold=tuple(hold),
        tasks=tuple(work),
    )


def _lists(stays: Mapping[str, tuple[Stay, ...]]) -> dict[str, list[Stay]]:
    return {spot: list(here) for spot, here in stays.items()}


def _tuples(stays: Mapping[str, list[Stay]]) -> dict[str, tuple[Stay, ...]]:
    return {spot: tuple(here) for spot, here in stays.items()}


def _standing_runs(problem: Problem, plan: Assignment, pit: str, freed: Freed) -> tuple[Run, ...]:
    """The fires of a pit that stay as they are, and of those that may change what burnt already."""
    free = {run.begin for fire in freed.fires if fire.pit == pit for run in fire.runs}
    burnt = [run for run in problem.frame.taken.runs[pit] if run.begin in free]
    stay = [replace(run, known=True) for run in plan.runs[pit] if run.begin not in free]
    return tuple(sorted([*burnt, *stay], key=lambda run: (run.begin, run.end)))


def _lit(problem: Problem, standing: tuple[Run, ...], pit: str) -> list[Task]:
    """The lighting of fires that stand in the part problem and are not lit yet."""
    before = {run.begin for run in problem.frame.taken.runs[pit]}
    ours = tuple(replace(run, known=False) for run in standing if run.begin not in before)
    return lightings(problem, pit, ours, ())


def _named(problem: Problem, pit: str, run: Run) -> Run:
    """A run known only where it was known before the search."""
    known = any(before.begin == run.begin for before in problem.frame.taken.runs[pit])
    return replace(run, known=run.known and known)


def _only_on(part: Part, pits: frozenset[str]) -> Part:
    return replace(part, modes=tuple(mode for mode in part.modes if mode.pit in pits))
