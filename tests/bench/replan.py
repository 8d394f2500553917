"""How far and how fast a plan changes when something does: python -m tests.bench.replan [seconds]."""

import sys
import time
from dataclasses import replace
from datetime import date, timedelta

from board.house.files import read_house
from board.house.seeds import seed_house
from board.planning.planner import plan_day
from board.planning.replan.begun import begun_as_planned
from board.planning.replan.differences import differences, moved
from board.planning.standing import Standing

DAYS = (("tallow_row", date(2026, 12, 19)), ("hatch", date(2026, 12, 19)))
SLIP = timedelta(minutes=60)


def slipped(standing: Standing, load: str) -> Standing:
    """What stands, with one load likely done an hour later."""

    def later(span):
        return replace(span, p10=span.p10 + SLIP, p50=span.p50 + SLIP, p90=span.p90 + SLIP)

    loads = tuple(
        replace(ld, pull_at=later(ld.pull_at), ready_at=later(ld.ready_at)) if ld.id == load else ld
        for ld in standing.loads
    )
    return replace(standing, loads=loads)


def main() -> None:
    """Print a row a load that slips: seconds, loads moved, sentences, how the plan stands."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 1.0
    print(f"{'house, load that slips an hour':42}{'seconds':>9}{'moved':>7}{'told':>6}  result")
    for name, day in DAYS:
        house = read_house(seed_house(name))
        plan = plan_day(house, day, seconds=seconds)
        for load in plan.loads:
            now = load.load_at + timedelta(minutes=30)
            standing = slipped(begun_as_planned(plan, now), load.id)
            began = time.perf_counter()
            again = plan_day(house, day, seconds=seconds, now=now, standing=standing, committed=plan)
            took = time.perf_counter() - began
            told = len(differences(plan, again, house))
            row = f"{took:9.2f}{len(moved(plan, again)):7}{told:6}"
            print(f"{name + ' ' + load.id:42}{row}  {again.result}", flush=True)


if __name__ == "__main__":
    main()
