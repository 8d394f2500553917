"""`python -m tests.faults.fuzz --inputs 1000000`: spoilt input at every way in; 1 where anything broke."""

import argparse
import sys
import tempfile
from pathlib import Path

from tests.faults.fuzz.hammering import Row, hammer
from tests.faults.fuzz.targets import borrowed, targets


def main() -> int:
    """Hammer, and print a table of what was fed and what broke."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults.fuzz")
    parser.add_argument("--inputs", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only", default="", help="targets with this in their name")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="board-fuzz-") as scratch:
        chosen = [target for target in targets(Path(scratch)) if asked.only in target.name]
        rows = hammer(chosen, borrowed(), asked.inputs, asked.seed)
    print(f"{'into':34}{'inputs':>9}{'µs each':>10}{'slowest ms':>12}{'broke':>7}")
    for name, row in rows.items():
        _print(name, row)
    broke = sum((row.broke for row in rows.values()), start=type(Row().broke)())
    for what, times in broke.most_common():
        print(f"{times:>7} × {what}")
    return 1 if broke else 0


def _print(name: str, row: Row) -> None:
    each = 1e6 * row.seconds / max(1, row.inputs)
    print(f"{name:34}{row.inputs:>9}{each:>10.0f}{1e3 * row.slowest:>12.0f}{row.broke.total():>7}")


if __name__ == "__main__":
    sys.exit(main())
