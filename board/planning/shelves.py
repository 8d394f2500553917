"""On which bench and in which hold each load waits."""

from dataclasses import dataclass

import numpy as np

from board.house.model import Hold, House
from board.planning.area import cm2
from board.planning.problem import Assignment, Part, Problem, holding, resting


@dataclass(frozen=True)
class Shelf:
    """Where a load rests and where it is held; None where it does neither."""

    load_id: str
    bench: str | None
    hold: str | None


def shelves_of(house: House, problem: Problem, plan: Assignment) -> dict[str, Shelf]:
    """The bench and hold of each placed part, by part id: the first with room, several only together."""
    here = [(part, plan.placed[part.id]) for part in problem.parts if part.id in plan.placed]
    cold = [hold for hold in house.holds.values() if hold.setpoint_c is None]
    hot = [hold for hold in house.holds.values() if hold.setpoint_c is not None]
    benches = _shelved(problem, cold, [(*resting(part, at), part) for part, at in here])
    holds = _shelved(problem, hot, [(*holding(part, at), part) for part, at in here])
    return {part.id: Shelf(part.id, benches.get(part.id), holds.get(part.id)) for part, _ in here}


def _shelved(problem: Problem, places: list[Hold], spans: list[tuple[int, int, Part]]) -> dict[str, str]:
    left = {p.id: np.full(problem.frame.grid.slots, cm2(p.area_m2), np.int64) for p in places}
    found = {}
    for begin, end, part in sorted(spans, key=lambda s: (s[0], s[2].id)):
        if end <= begin:
            continue
        wanted, used = part.area_cm2, []
        whole = [place for place in left if left[place][begin:end].min() >= wanted]
        for place in whole[:1] or left:
            share = min(wanted, int(left[place][begin:end].min()))
            if share > 0:
                left[place][begin:end] -= share
                wanted -= share
                used.append(place)
        found[part.id] = ", ".join(used)
    return found
