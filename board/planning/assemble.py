"""From a solution on the grid to a plan in moments: loads, steps and batches with ids and people."""

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from board.house.model import House
from board.house.spans import TimeSpan, minutes_between
from board.planning.batches.lying import Lying
from board.planning.batches.made import Given
from board.planning.batches.makings import make_batches
from board.planning.batches.needs import pots_beside, stock_of, to_make
from board.planning.batches.pots import Pots
from board.planning.chain import Link, finish_links, pit_links
from board.planning.dealing import Job
from board.planning.finishing import finish_minutes
from board.planning.grid import Grid
from board.planning.names import Names
from board.planning.plan import Draw, Plan, PlannedBatch, PlannedLoad, PlannedStep
from board.planning.preparing import prepared
from board.planning.problem import Assignment, Part, Placed, Problem, on_slot, phases, tasks
from board.planning.replan.same_work import same_chains, wanted_again
from board.planning.roster import Roster
from board.planning.run import Run, Task
from board.planning.shelves import Shelf, shelves_of
from board.planning.standing import Standing, zone_of
from board.planning.walk_in import Stay, stays


@dataclass(frozen=True)
class Laid:
    """A plan laid out: its loads with the part behind each, its steps and its batches.

    `kept` are the batches that stood, with what each load takes of them now; `draws` is all that was taken of
    batches that stood.
    """

    loads: tuple[PlannedLoad, ...]
    parts: dict[str, Part]
    steps: tuple[PlannedStep, ...]
    batches: tuple[PlannedBatch, ...]
    kept: tuple[PlannedBatch, ...] = ()
    draws: tuple[Draw, ...] = ()


def lay_out(
    house: House,
    problem: Problem,
    plan: Assignment,
    day: date,
    standing: Standing,
    *,
    committed: Plan | None = None,
    wished: Plan | None = None,
    named: Iterable[str] = (),
    beside: Standing | None = None,
) -> Laid:
    """Name the loads, give every step to someone, and make the batches they use.

    Loads that are where a committed plan has them keep their people. The others' are given away in the
    order of what can least be moved: fires and meat on the pits first, then finishing, then preparation,
    then batches.

    Args:
        wished: a plan whose people are asked first where they are free, no load's work being held to them.
        named: ids that no new load may have: the crew knows other loads by them.
        beside: all that stands, of other days too.
    """
    beside, named = beside or standing, set(named)
    ids = _load_ids(problem, plan, day, {*named, *(load.id for load in standing.loads)})
    here = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    used = {step.id for step in standing.steps}
    roster, same = _fixed(problem, plan, committed, wished)
    fires = _fire_steps(problem, plan, day, roster, used)
    pots = pots_beside(problem, beside)
    waiting = list(stays(house, standing.loads, standing.steps, standing.batches, standing.draws))
    roster, chains, pots = _chained(problem, here, same, roster, waiting=waiting, pots=pots)
    stock = stock_of(house, beside, named, committed or wished)
    demands = to_make(problem, here, ids, chains, stock)
    made, making = make_batches(problem, roster, day, demands, used={b.id for b in beside.batches}, pots=pots)
    given = [
        *fires,
        *(s for part, _ in here for s in _steps(problem.frame.grid, ids[part.id], chains[part.id])),
        *making,
    ]
    steps = [replace(step, who=roster.who(job)) for step, job in given]
    return Laid(
        loads=_loads(problem, plan, here, ids),
        parts={ids[part.id]: part for part, _ in here},
        steps=tuple(sorted(steps, key=lambda step: (step.at, step.id))),
        batches=tuple(made),
        kept=tuple(stock.settled(batch) for batch in standing.batches),
        draws=stock.draws(),
    )


def _chained(
    problem: Problem,
    here: list[tuple[Part, Placed]],
    same: dict[str, list[Link]],
    roster: Roster,
    *,
    waiting: list[Stay],
    pots: Pots,
) -> tuple[Roster, dict[str, list[Link]], Pots]:
    """Every load's steps in order, the crew's time without them, and the containers that they leave.

    Args:
        same: the steps of loads that keep theirs, by part id.
        waiting: what is in the walk-in already.
        pots: what the containers are taken for already.
    """
    house = problem.frame.house
    for part, at in here:
        _lie_again(Lying(house, part, pots), at, same.get(part.id, ()))
    fresh = [(part, at) for part, at in here if part.id not in same]
    chains: dict[str, list[Link]] = {part.id: same.get(part.id, []) for part, _ in here}
    for part, at in sorted(fresh, key=lambda pair: pair[1].start):
        chains[part.id] += pit_links(part, at, roster)
    for part, at in fresh:
        chains[part.id] += finish_links(part, at, roster, problem.frame.grid)
    ready = prepared(problem, fresh, roster, waiting, pots)
    for part_id, links in ready.links.items():
        chains[part_id] = links + chains[part_id]
    return ready.roster, chains, ready.pots


def _lie_again(lying: Lying, at: Placed, links: Sequence[Link]) -> None:
    """Fill the containers of a load whose preparation stays as it was."""
    prep = lying.part.need.cut.prep
    ends = [*(link.begin for link in links[1 : len(prep)]), at.start]
    for rule, link, end in zip(prep, links, ends, strict=False):
        lying.take(rule, link.begin, end)


def _loads(
    problem: Problem, plan: Assignment, here: list[tuple[Part, Placed]], ids: dict[str, str]
) -> tuple[PlannedLoad, ...]:
    """The loads in the order they go on, each with its shelves."""
    shelves = shelves_of(problem.frame.house, problem, plan)
    loads = [
        _load(problem, run_of(plan, part, at), part, at, replace(shelves[part.id], load_id=ids[part.id]))
        for part, at in here
    ]
    return tuple(sorted(loads, key=lambda load: (load.load_at, load.id)))


def _fixed(
    problem: Problem, plan: Assignment, committed: Plan | None, wished: Plan | None
) -> tuple[Roster, dict[str, list[Link]]]:
    """The roster with all work that cannot move dealt, and the chains of loads that keep theirs.

    A chain is not kept as it was where pits and fires would then find nobody.
    """
    dropped: frozenset[str] = frozenset()
    while True:
        roster = Roster(problem.frame.crew, wanted_again(problem, committed or wished))
        chains = same_chains(problem, plan, committed, roster, dropped)
        fresh = [part for part in problem.parts if part.id in plan.placed and part.id not in chains]
        asked = [task for part in fresh for task in tasks(part, plan.placed[part.id])]
        roster.deal([*firing(problem, plan), *asked])
        bare = [job for job in roster.jobs if job.row is None]
        met = {
            part for part, links in chains.items() if any(_meet(link, job) for link in links for job in bare)
        }
        if not met:
            return roster, chains
        dropped |= met


def _meet(link: Link, job: Job) -> bool:
    return link.begin < job.end and job.begin < link.begin + max(1, link.slots)


def _load_ids(problem: Problem, plan: Assignment, day: date, used: Iterable[str]) -> dict[str, str]:
    """An id for each placed part: its committed load's, or its day, its cut and a number no load has."""
    kept = {part.id: part.kept.load for part in problem.parts if part.kept and part.kept.load}
    names = Names({*used, *kept.values()})
    placed = [(plan.placed[p.id].start, p.id, p.need.cut.id) for p in problem.parts if p.id in plan.placed]
    return {
        part_id: kept.get(part_id) or names.new(f"{day:%m%d}-{cut}") for _, part_id, cut in sorted(placed)
    }


def _load(problem: Problem, run: Run, part: Part, at: Placed, shelf: Shelf) -> PlannedLoad:
    grid, need, on = problem.frame.grid, part.need, on_slot(part, at)
    needed, finishing = part.share.first.at, timedelta(minutes=finish_minutes(part.finish, part.pieces))
    pull = TimeSpan.after(grid.moment(on), at.mode.cook.minutes)
    after = finishing + timedelta(minutes=need.cut.rest_minutes[0])
    ready = TimeSpan(pull.p10 + after, pull.p50 + after, pull.p90 + after)
    rest_minutes = max(need.cut.rest_minutes[0], 5.0 * at.rest if at.rest > part.rest_min else 0.0)
    spare = minutes_between(ready.p50, needed)
    waits = minutes_between(pull.p50, grid.moment(part.wait_until)) - rest_minutes
    return PlannedLoad(
        id=shelf.load_id,
        cut=need.cut.id,
        item=need.item,
        pieces=part.pieces,
        mass_kg=part.pieces * need.cut.mass_kg.usual,
        pit=at.mode.pit,
        setpoint_c=at.mode.setpoint_c,
        light_at=_lit_at(problem, at.mode.pit, run),
        load_at=grid.moment(at.start),
        wrap_at=grid.moment(on + at.mode.wrap) if at.mode.wrap is not None else None,
        pull_at=pull,
        ready_at=ready,
        needed_at=needed,
        services=part.services,
        portions=part.portions,
        area_m2=part.pieces * need.cut.area_m2,
        rest_minutes=rest_minutes,
        hold_minutes_p50=max(0.0, waits),
        spare_minutes_p50=spare,
        chance=at.mode.cook.chance(minutes_between(grid.moment(on) + after, needed)),
        bench=shelf.bench,
        hold=shelf.hold,
        waves=part.share.waves,
        timed_as=part.share.timed_as,
        openings=at.mode.openings,
        zone=zone_of(at.mode.spot),
        turn_at=grid.moment(on + at.mode.turn.after) if at.mode.turn is not None else None,
        then_c=at.mode.turn.setpoint_c if at.mode.turn is not None else None,
    )


def _lit_at(problem: Problem, pit: str, run: Run) -> datetime:
    """When a run's fire is lit: one that burns already, when it was."""
    begins = problem.frame.grid.moment(run.begin)
    return problem.frame.taken.lit.get((pit, run.begin), begins) if run.known else begins


def run_of(plan: Assignment, part: Part, at: Placed) -> Run:
    """The run of the pit into which a placed part is loaded."""
    first = phases(part, at)[0]
    return next(r for r in plan.runs[at.mode.pit] if r.begin <= first.begin and first.end <= r.end)


def firing(problem: Problem, plan: Assignment) -> list[Task]:
    """The work of lighting and setting that the plan's fires ask for."""
    return [
        Task("set", run.begin, run.begin + 1)
        if run.chained
        else Task("light", run.begin, run.begin + problem.frame.pits[pit].light)
        for pit, runs in plan.runs.items()
        for run in runs
        if not run.known
    ]


def _fire_steps(
    problem: Problem, plan: Assignment, day: date, roster: Roster, used: Container[str]
) -> list[Given]:
    steps, names = [], Names(used)
    for pit, runs in plan.runs.items():
        room, grid = problem.frame.pits[pit], problem.frame.grid
        for run in (r for r in runs if not r.known):
            what = "set" if run.chained else "light"
            minutes = 0.0 if run.chained else room.pit.light_work.fixed_minutes
            job = roster.give(what, run.begin, 1 if run.chained else room.light)
            at = grid.moment(run.begin)
            ends = at + timedelta(minutes=minutes)
            step_id = names.new(f"{day:%m%d}-{pit}.{what}")
            steps.append((PlannedStep(step_id, at, ends, what, None, None, None, minutes, pit), job))
    return steps


def _steps(grid: Grid, load_id: str, links: Sequence[Link]) -> list[Given]:
    seen: dict[str, int] = {}
    steps: list[Given] = []
    for link in links:
        seen[link.what] = seen.get(link.what, 0) + 1
        suffix = "" if seen[link.what] == 1 else f"-{seen[link.what]}"
        at = grid.moment(link.begin)
        ends = at + timedelta(minutes=link.minutes)
        step_id = f"{load_id}.{link.what}{suffix}"
        step = PlannedStep(step_id, at, ends, link.what, None, load_id, None, link.minutes)
        steps.append((step, link.job))
    return steps
