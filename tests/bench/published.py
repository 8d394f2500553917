"""Published job shops through the scheduling core: python -m tests.bench.published [seconds]."""

import sys
import time

from board.planning.core.project import shortest
from board.planning.core.search import Effort
from tests.planning.published.readers import flexible, job_shop

CASES = ((job_shop, "ft06", 55), (job_shop, "la01", 666), (flexible, "mk01", 40), (job_shop, "ft10", 930))


def main() -> None:
    """Print a row a case: what was found, its lower bound, the published best, and the time."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 60.0
    print(f"{'case':8}{'found':>8}{'bound':>8}{'best':>8}{'s':>8}")
    for read, name, best in CASES:
        began = time.perf_counter()
        schedule = shortest(read(name), Effort(seconds))
        took = time.perf_counter() - began
        print(f"{name:8}{schedule.cost or '-':>8}{schedule.bound:8.0f}{best:8}{took:8.1f}", flush=True)


if __name__ == "__main__":
    main()
