"""How likely each service is ready in time as a whole, by simulation: loads of one pit are late together."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import count

import numpy as np
from numpy.typing import NDArray

from board.house.model import Pit
from board.house.spans import minutes_between
from board.planning.dues import Due
from board.planning.factors import Cooked, Factors, draws_of, quantile_together, score, usual_factors
from board.planning.modes import takes
from board.planning.parts import Share
from board.planning.plan import Risk
from board.planning.problem import Assignment, Part, Placed, Problem, on_slot


@dataclass(frozen=True)
class _Wave:
    """Portions a load owes at one moment, and the draws in which it comes late for them."""

    due: Due
    item: str
    wanted: float
    late: NDArray[np.bool_]


def risks(problem: Problem, plan: Assignment, factors: Factors | None = None) -> tuple[Risk, ...]:
    """The chance of each service over all its waves, and the portions likely late, of what is cooked for it.

    Each load keeps the chance its own cook time gives; what is shared says how far they go together.
    """
    placed = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    shared = [_cooked(problem, part, at) for part, at in placed]
    waves: dict[str, list[_Wave]] = {}
    for (part, at), z in zip(placed, draws_of(shared, factors or usual_factors()), strict=True):
        for due in part.share.serves:
            late = z > score(chance_by(problem, part, at, due.at))
            waves.setdefault(due.occasion.id, []).append(_Wave(due, part.need.item, part.need.chance, late))
    found = (_risk(together) for together in waves.values())
    return tuple(sorted(found, key=lambda risk: (risk.at, risk.service)))


def _cooked(problem: Problem, part: Part, at: Placed) -> Cooked:
    return Cooked(problem.frame.pits[at.mode.pit].pit.kind, at.mode.pit, part.need.cut.id)


def chance_by(problem: Problem, part: Part, at: Placed, moment: datetime) -> float:
    """The chance that a placed part is pulled, rested and finished by a moment."""
    finishing = sum(rule.work.minutes(part.pieces) for rule in part.finish)
    after = timedelta(minutes=finishing + part.need.cut.rest_minutes[0])
    on = problem.frame.grid.moment(on_slot(part, at))
    return at.mode.cook.chance(minutes_between(on + after, moment))


def _risk(waves: Sequence[_Wave]) -> Risk:
    occasion = waves[0].due.occasion
    items = dict.fromkeys(wave.item for wave in waves)
    return Risk(
        service=occasion.id,
        at=occasion.at,
        chance=_all_in_time(waves),
        wanted=max(wave.wanted for wave in waves),
        late_portions=float(sum(wave.due.portions * wave.late.mean() for wave in waves)),
        items={item: _all_in_time([w for w in waves if w.item == item]) for item in items},
    )


def _all_in_time(waves: Sequence[_Wave]) -> float:
    return float(1.0 - np.logical_or.reduce([wave.late for wave in waves]).mean())


def load_quantiles(
    shares: Sequence[Share], pits: Iterable[Pit], factors: Factors | None = None
) -> dict[str, float]:
    """The chance each load of an occasion must reach so that the occasion reaches its own, by occasion.

    Where loads will lie is not known yet: they are dealt over the pits that take them, one after another.
    """
    rooms, turns = list(pits), count()
    takers: dict[str, list[Pit]] = {}
    loads: dict[str, list[Cooked]] = {}
    wanted: dict[str, float] = {}
    for share in shares:
        cut = share.need.cut
        if cut.id not in takers:
            takers[cut.id] = [pit for pit in rooms if takes(pit, cut)]
        fit = takers[cut.id]
        if not fit:
            continue
        pit = fit[next(turns) % len(fit)]
        for occasion in dict.fromkeys(due.occasion.id for due in share.serves):
            loads.setdefault(occasion, []).append(Cooked(pit.kind, pit.id, cut.id))
            wanted[occasion] = max(wanted.get(occasion, 0.0), share.need.chance)
    using = factors or usual_factors()
    return {key: quantile_together(tuple(each), wanted[key], using) for key, each in loads.items()}
