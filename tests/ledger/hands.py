"""A process that writes to a ledger and says so: one line a reading, after it is acknowledged."""

import sys
from datetime import UTC, datetime
from pathlib import Path

from board.ledger.open import open_ledger
from board.ledger.write import take_reading


def main(path: str, who: str, count: str) -> None:
    """Write so many readings, each its own number of degrees and thousandths."""
    with open_ledger(Path(path)) as ledger:
        print("ready", flush=True)  # noqa: T201
        for number in range(int(count)):
            now = datetime.now(UTC)
            entry = take_reading(ledger, number / 1000, place="north", who=who, at=now, noted_at=now)
            print(entry.seq, number, flush=True)  # noqa: T201


if __name__ == "__main__":
    main(*sys.argv[1:])
