"""Adds up the raw meat in the walk-in minute by minute, and asks that too much of it is told."""

import re
from collections.abc import Iterator
from datetime import timedelta

from board.house.model import House
from board.planning.plan import Plan
from tests.planning.checker.batches import cold_brine

MINUTE = timedelta(minutes=1)


def walk_in_faults(plan: Plan, house: House) -> Iterator[str]:
    """A walk-in over full and nothing said of it, or something said of one that is not."""
    chilled = list(cold_brine(plan, house))
    for load in plan.loads:
        moment = load.load_at
        for rule in reversed(house.cuts[load.cut].prep):
            step = next((s for s in plan.steps if s.load == load.id and s.what == rule.what), None)
            if step is None:
                break
            if rule.chilled:
                chilled.append((step.ends_at, moment, load.mass_kg))
            moment = step.at
    most = max((sum(kg for a, b, kg in chilled if a <= at < b) for at, _, _ in chilled), default=0.0)
    told = [caution for caution in plan.cautions if re.search("over full|no walk-in", caution)]
    if most > house.walk_in_kg + 0.01 and not told:
        yield f"the walk-in holds {most:.1f} kg of {house.walk_in_kg:.1f}, and nothing is said"
    if most < house.walk_in_kg - 0.01 and told:
        yield f"the walk-in is told as over full with {most:.1f} kg of {house.walk_in_kg:.1f}"
    kilograms = [float(kg) for says in told for kg in re.findall(r"([\d.]+) kg", says)]
    over = most - house.walk_in_kg
    if kilograms and max(kilograms) < 0.98 * over - 0.06:
        yield f"the walk-in is {over:.1f} kg over full, and only {max(kilograms)} kg are told"
