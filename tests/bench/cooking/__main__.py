"""Prints every table: time, memory, exactness, other solvers, published times, coverage, learning.

python -m tests.bench.cooking            all of it, some minutes
python -m tests.bench.cooking sums       speed, memory, exactness and other solvers alone
"""

import sys

from board.cooking.physics.parameters import parameters
from tests.bench import cooking_coverage, cooking_learning, cooking_pounds
from tests.bench.cooking import exactness, others, speed
from tests.bench.cooking_fit import report
from tests.cooking import published


def sums() -> None:
    """What the sums cost and how right they are as sums."""
    speed.report()
    exactness.report()
    others.report()


def truths() -> None:
    """How near they come to kitchens, and how honest their spans are."""
    print("\nPublished times and ranges of practice, everything at its middle")
    report(parameters(), published.ROLL_HALF_M)
    print()
    cooking_pounds.main()
    print()
    cooking_coverage.report()
    cooking_learning.report()


if __name__ == "__main__":
    sums()
    if sys.argv[1:] != ["sums"]:
        truths()
