"""Plan a day: from promises to loads on pits, steps for people, batches, and what will be short."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime
from functools import partial, reduce

from board.house.model import House
from board.planning.account.account import accounts
from board.planning.assemble import Laid, lay_out
from board.planning.batches.cautions import batch_cautions
from board.planning.build import build
from board.planning.cooked.judge import cooked_as_planned
from board.planning.cooked.words import not_met
from board.planning.costs import cost_parts
from board.planning.cures import cures_over
from board.planning.demand import Need, needs_of
from board.planning.dues import Promises, occasions_on
from board.planning.lighting import lit_sooner
from board.planning.plan import Draw, Occasion, Plan, PlannedBatch, PlannedLoad, PlannedStep
from board.planning.problem import Assignment, Problem, points
from board.planning.reckoning import put_right, settle_as_reckoned
from board.planning.replan.carry import Again, again
from board.planning.replan.pin import Pin, check_known
from board.planning.replan.settled import settled_from_committed, takes_from_some
from board.planning.risk import risks
from board.planning.search.progress import Answer, Stop, Watcher
from board.planning.search.reseat import bare_parts, reseat
from board.planning.search.settle import settle
from board.planning.search.tidy import tidy
from board.planning.shortfall.attempt import Asked, attempt_with, tried_of
from board.planning.shortfall.shortfalls import Outcome, shortfalls
from board.planning.standing import NOTHING, Standing
from board.planning.unstaffed import nobody_for
from board.planning.walk_in import cautions
from board.planning.weights import weights_of

# A plan whose hands are not found after so many moves is shown with the steps nobody is free for.
_RESEATS_MOST = 12


def plan_day(
    house: House,
    day: date,
    *,
    promises: Promises | None = None,
    chance: float | None = None,
    seconds: float = 3.0,
    seed: int = 0,
    now: datetime | None = None,
    standing: Standing = NOTHING,
    committed: Plan | None = None,
    pins: Sequence[Pin] = (),
    progress: Watcher | None = None,
    stop: Stop | None = None,
) -> Plan:
    """Plan all services and orders of a local day, the night and the days before included.

    Args:
        promises: portions by (service id, item id) in place of the house's own.
        chance: the wanted chance of being ready, in place of the house's and its services'.
        seconds: about how long to search after the first plan; 0 keeps the first.
        seed: the same house, day and seed give the same plan.
        now: nothing is planned before this moment (aware UTC); None plans freely.
        standing: loads of other days' plans, and those of this day that have begun, with their steps and
            batches; they keep their room and people, and what they serve of this day stays in its plan.
        committed: the plan in force, changed as little as helps; its loads keep their ids.
        pins: loads of the committed plan that a person puts somewhere; all else is planned around them.
        progress: told of each better plan; may be called from another thread.
        stop: asked now and then; when true the best plan so far is taken.

    Raises:
        PlanError: for a promise of something the house does not make, or a pin that breaks a rule.
    """
    house = _with_chance(house, chance)
    weights = weights_of(house.weighing)
    occasions = occasions_on(house, day, promises)
    own = standing.serving(occasions, [load.id for load in committed.loads] if committed else ())
    needs = needs_of(house, occasions, weights.enough_chance, own.loads)
    check_known(house, committed, [load.id for load in own.loads], pins)
    if not needs:
        nothing = Plan(house.name, day, house.zone, "proved", 0.0, 0.0, (), (), (), (), occasions)
        cold = _kept_cold(house, standing, Laid((), {}, (), (), own.batches))
        return _kept(house, replace(nothing, cautions=cold), own)
    built = partial(build, house, weights=weights, seed=seed, now=now, standing=standing)
    if committed is None:
        search = partial(settle, seed=seed)
        found = [settle_as_reckoned(built(needs), search, seconds=seconds, progress=progress, stop=stop)]
    else:
        problem = again(built, Again(house, needs, committed, own, tuple(pins)), weights)
        found = [*settled_from_committed(problem, seconds=seconds, seed=seed, progress=progress, stop=stop)]
    staffed = (
        _staffed(house, day, answer, taken=own, beside=standing, committed=committed) for answer in found
    )
    answer, laid = reduce(_better, staffed)
    own = replace(own, batches=laid.kept, draws=(*own.draws, *_from_others(laid)))
    asked = Asked(day, weights, seconds, seed, now, standing, promises or {}, tuple(pins), stop)
    return _kept(house, _as_plan(house, asked, occasions, answer, laid, needs=answer.problem.needs), own)


def _staffed(
    house: House, day: date, answer: Answer, *, taken: Standing, beside: Standing, committed: Plan | None
) -> tuple[Answer, Laid]:
    """Lay the plan out, moving loads until everyone needed is found or no move helps."""
    named = [load.id for load in committed.loads] if committed else []
    laid = partial(lay_out, house, day=day, standing=taken, named=named, wished=committed, beside=beside)
    best = tried = _laid(answer, partial(laid, committed=committed), answer.problem, answer.solution)
    if committed is not None and bare_parts(best[1]):
        best = tried = _laid(answer, laid, answer.problem, answer.solution)
    for _ in range(_RESEATS_MOST):
        bare = bare_parts(tried[1])
        problem, plan = reseat(tried[0].problem, tried[0].solution, bare)
        if not bare or plan is tried[0].solution:
            break
        problem, plan = put_right(problem, tidy(problem, plan))
        tried = _laid(replace(answer, proved=False), laid, problem, plan)
        best = min(best, tried, key=_how_bare)
    return best


def _kept_cold(house: House, standing: Standing, laid: Laid) -> tuple[str, ...]:
    """What the plan's batches leave to the crew, and where the walk-in is over full, sentence by sentence."""
    here, mine = _with_all(standing, laid), {batch.id for batch in (*laid.kept, *laid.batches)}
    return *batch_cautions(house, *here, mine=mine), *cautions(house, *here)


def _with_all(
    standing: Standing, laid: Laid
) -> tuple[Sequence[PlannedLoad], Sequence[PlannedStep], Sequence[PlannedBatch], Sequence[Draw]]:
    """The loads, steps, batches and draws of a plan with all that stands beside it."""
    kept = {batch.id: batch for batch in laid.kept}
    return (
        (*standing.loads, *laid.loads),
        (*standing.steps, *laid.steps),
        (*(kept.get(batch.id, batch) for batch in standing.batches), *laid.batches),
        (*standing.draws, *_from_others(laid)),
    )


def _from_others(laid: Laid) -> Iterator[Draw]:
    """What is taken of batches that are not this plan's."""
    mine = {batch.id for batch in laid.kept}
    return (draw for draw in laid.draws if draw.batch not in mine)


def _better(before: tuple[Answer, Laid], after: tuple[Answer, Laid]) -> tuple[Answer, Laid]:
    """The later of two plans where it is better with its people, and no service gets less of anything."""
    better = _bare_and_dear(after) < _bare_and_dear(before)
    return after if better and not takes_from_some(after[0], before[0]) else before


def _bare_and_dear(tried: tuple[Answer, Laid]) -> tuple[int, float]:
    answer, laid = tried
    return len(bare_parts(laid)), points(answer.problem, answer.solution)


def _laid(
    answer: Answer, laid: Callable[[Problem, Assignment], Laid], problem: Problem, plan: Assignment
) -> tuple[Answer, Laid]:
    """A plan laid out, its fires lit sooner where somebody can light them only then."""
    lit = lit_sooner(problem, plan)
    proved = answer.proved and lit is plan
    return replace(answer, problem=problem, solution=lit, proved=proved), laid(problem, lit)


def _how_bare(tried: tuple[Answer, Laid]) -> tuple[int, int, float]:
    """Loads left out count before steps nobody is free for, and those before points."""
    answer, laid = tried
    left_out = len(answer.problem.parts) - len(answer.solution.placed)
    return left_out, len(bare_parts(laid)), points(answer.problem, answer.solution)


def _with_chance(house: House, chance: float | None) -> House:
    if chance is None:
        return house
    services = {key: replace(service, chance=chance) for key, service in house.services.items()}
    return replace(house, chance=chance, services=services)


def _as_plan(
    house: House,
    asked: Asked,
    occasions: tuple[Occasion, ...],
    answer: Answer,
    laid: Laid,
    *,
    needs: tuple[Need, ...],
) -> Plan:
    tried = tried_of(answer.problem, answer.solution, needs, laid)
    cost = points(answer.problem, answer.solution)
    made = Plan(
        house=house.name,
        day=asked.day,
        zone=house.zone,
        result="proved" if answer.proved else "good",
        cost=cost,
        bound=min(answer.bound, cost),
        loads=laid.loads,
        steps=laid.steps,
        batches=laid.batches,
        short=(),
        occasions=occasions,
    )
    attempt = attempt_with(asked, made)
    short = shortfalls(Outcome(house, answer.problem, answer.solution, needs, occasions, tried, attempt))
    return replace(
        made,
        result="short" if short else made.result,
        short=short,
        why=accounts(house, answer.problem, answer.solution, laid),
        costs=cost_parts(answer.problem, answer.solution),
        risks=risks(answer.problem, answer.solution),
        cautions=(
            *nobody_for(house, laid.loads, laid.steps, laid.batches),
            *_kept_cold(house, asked.standing, laid),
        ),
    )


def _kept(house: House, plan: Plan, own: Standing) -> Plan:
    """The plan with what had begun of its day left in it, and how each load of it is cooked safe."""
    loads = tuple(sorted([*own.loads, *plan.loads], key=lambda load: (load.load_at, load.id)))
    cooked = cooked_as_planned(house, loads)
    whole = replace(plan, loads=loads, batches=(*own.batches, *plan.batches))
    return replace(
        whole,
        cooked=cooked,
        cautions=(*cures_over(house, whole), *not_met(house, loads, cooked), *plan.cautions),
        steps=tuple(sorted([*own.steps, *plan.steps], key=lambda step: (step.at, step.id))),
        draws=own.draws,
    )
