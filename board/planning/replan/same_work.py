"""Loads that stay where they were keep their people and their hours too."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass

from board.planning.chain import Link
from board.planning.grid import step_slots
from board.planning.plan import Plan, PlannedLoad, PlannedStep
from board.planning.problem import Assignment, Part, Placed, Problem, tasks
from board.planning.roster import Roster


@dataclass(frozen=True)
class Work:
    """One step a load asks for, with the slot it must begin in where the plan fixes it."""

    what: str
    minutes: float
    slots: int
    recipe: str | None = None
    begin: int | None = None


def wanted_again(problem: Problem, committed: Plan | None) -> frozenset[tuple[str, int, int]]:
    """Who does what in which slot of a committed plan, as kinds of work, slots and rows of the crew."""
    rows = {person.id: row for row, person in enumerate(problem.frame.crew.people)}
    steps = committed.steps if committed else ()
    floor = problem.frame.grid.floor
    return frozenset((step.what, floor(step.at), rows[step.who]) for step in steps if step.who in rows)


def same_chains(
    problem: Problem,
    plan: Assignment,
    committed: Plan | None,
    roster: Roster,
    dropped: Container[str] = (),
) -> dict[str, list[Link]]:
    """The chains of loads that stay as they were, by part, less those dropped; their people are then busy."""
    if committed is None:
        return {}
    before = {load.id: load for load in committed.loads}
    steps = {step.id: step for step in committed.steps}
    found = {}
    for part in problem.parts:
        at = plan.placed.get(part.id)
        if at is None or part.id in dropped or part.kept is None:
            continue
        if not _asks_the_same(part, before.get(part.kept.load)):
            continue
        chain = _as_it_was(problem, part, at, steps)
        if chain and all(roster.open(row, begin, begin + max(1, work.slots)) for row, begin, work in chain):
            found[part.id] = [_kept(roster, *one) for one in chain]
    return found


def _asks_the_same(part: Part, before: PlannedLoad | None) -> bool:
    """Whether a load has its pieces as before and, where it is finished, is needed when it was."""
    if before is None or before.pieces != part.pieces:
        return False
    return not part.finish or before.needed_at == part.share.first.at


def _as_it_was(
    problem: Problem, part: Part, at: Placed, steps: dict[str, PlannedStep]
) -> list[tuple[int, int, Work]]:
    """Who did each piece of work, and from when, by the committed steps; nothing where it does not hold."""
    grid, earliest = problem.frame.grid, problem.frame.outset.earliest
    rows = {person.id: row for row, person in enumerate(problem.frame.crew.people)}
    chain: list[tuple[int, int, Work]] = []
    works = _works(part, at)
    for step, work in zip(_steps_of(part, works, steps), works, strict=True):
        if step is None or step.who not in rows:
            return []
        begin = grid.floor(step.at)
        if begin < max(0, earliest) or work.begin not in (None, begin):
            return []
        chain.append((rows[step.who], begin, work))
    return chain


def _steps_of(
    part: Part, works: Sequence[Work], steps: dict[str, PlannedStep]
) -> Iterator[PlannedStep | None]:
    """The committed step behind each piece of work; the second of a kind is told apart as in the plan."""
    seen: dict[str, int] = {}
    load = part.kept.load if part.kept else ""
    for what in (work.what for work in works):
        seen[what] = seen.get(what, 0) + 1
        suffix = "" if seen[what] == 1 else f"-{seen[what]}"
        yield steps.get(f"{load}.{what}{suffix}")


def _works(part: Part, at: Placed) -> list[Work]:
    cut, pieces = part.need.cut, part.pieces
    minutes = {"load": cut.load_work.minutes(pieces), "pull": cut.pull_work.minutes(pieces)}
    if cut.wrap is not None:
        minutes["wrap"] = cut.wrap.work.minutes(pieces)
    prep = [_rule(rule.what, rule.work.minutes(pieces), rule.recipe) for rule in cut.prep]
    finish = [_rule(rule.what, rule.work.minutes(pieces), rule.recipe) for rule in part.finish]
    on_pit = [
        Work(task.what, minutes[task.what], task.end - task.begin, None, task.begin)
        for task in tasks(part, at)
        if task.what in minutes
    ]
    return [*prep, *on_pit, *finish]


def _rule(what: str, minutes: float, recipe: str | None) -> Work:
    return Work(what, minutes, step_slots(minutes), recipe)


def _kept(roster: Roster, row: int, begin: int, work: Work) -> Link:
    """A piece of work given to one person again."""
    job = roster.keep(work.what, begin, begin + max(1, work.slots), row)
    return Link(work.what, begin, work.slots, work.minutes, job, work.recipe)
