"""How fast and how good plans are: python tests/bench/planning.py [seconds]."""

import sys
import time
from datetime import date

from board.house.files import read_house
from board.house.seeds import seed_house
from board.planning.build import build
from board.planning.demand import needs_of
from board.planning.dues import occasions_on
from board.planning.planner import plan_day
from board.planning.problem import points
from board.planning.search.insertion import insertion
from board.planning.weights import weights_of

DAYS = (("tallow_row", date(2026, 12, 19)), ("tallow_row", date(2026, 12, 16)), ("hatch", date(2026, 12, 19)))


def main() -> None:
    """Print a row a day: times of the stages, and cost and gap after each."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 3.0
    heads = ("parts", "times s", "first s", "first", "all s", "cost", "gap")
    print(f"{'house and day':26}" + "".join(f"{head:>9}" for head in heads))
    for name, day in DAYS:
        house, weights = read_house(seed_house(name)), weights_of(house.weighing)
        began = time.perf_counter()
        needs = needs_of(house, occasions_on(house, day), weights.enough_chance)
        problem = build(house, needs, weights, seed=0, now=None)
        built = time.perf_counter()
        first = points(problem, insertion(problem))
        placed = time.perf_counter()
        plan = plan_day(house, day, seconds=seconds)
        whole = time.perf_counter() - placed
        row = f"{len(problem.parts):9}{built - began:9.2f}{placed - built:9.2f}{first:9.0f}"
        print(f"{name + ' ' + day.isoformat():26}{row}{whole:9.2f}{plan.cost:9.0f}{plan.gap:9.0%}")


if __name__ == "__main__":
    main()
