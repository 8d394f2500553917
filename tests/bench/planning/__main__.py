"""Prints what planning reaches beside what is owed, a row after the other, each case in its own process.

python -m tests.bench.planning                        all rows, a quarter of an hour
python -m tests.bench.planning small medium --seeds 3  these rows, on three drawn houses each

Seconds are by the clock, of the search alone where tables are told apart; costs are in points, beside the
plain back-scheduler of tests/planning/baseline.py on the same house, which reckons with no doors, takes all
shelves as one, and so looks cheaper than it is. Every plan is checked with code that shares nothing with the
planner: "0 faults".
"""

import argparse

from tests.bench.planning.rows import ROWS


def main() -> None:
    """Print the rows asked for."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("rows", nargs="*", metavar="row", help=f"any of {', '.join(ROWS)}; none: all")
    asked.add_argument("--seeds", type=int, help="how many drawn houses or cases of each size")
    given = asked.parse_args()
    unknown = [name for name in given.rows if name not in ROWS]
    if unknown:
        asked.error(f"no row {unknown[0]}; there are {', '.join(ROWS)}")
    for name in given.rows or ROWS:
        row = ROWS[name]
        print(f"\n{name}: {row.what}\n  goal {row.goal}; stretch {row.stretch}", flush=True)
        for sentence in row.measured(given.seeds or row.seeds):
            print(f"  - {sentence}", flush=True)


if __name__ == "__main__":
    main()
