"""Play random days with the code of whatever version is on the path, and keep the most telling ledger.

Run by `make.py` in a checkout of that version, by that version's own rules of what people may do
(`tests/ledger/test_rebuild.py`): so every kind of entry it knew is in the ledger, as it wrote it.
"""

import shutil
import sqlite3
import sys
from contextlib import closing
from pathlib import Path

from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.ledger.test_rebuild import Kitchen

DAYS, ACTS = 40, 60


class Kept(Kitchen):
    """The same kitchen, whose ledger outlives it where it tells more than those before."""

    best = (0, 0)
    place = Path()

    def __init__(self) -> None:
        super().__init__()
        self.folder.cleanup, self.clean = self.keep, self.folder.cleanup  # type: ignore[method-assign]

    def keep(self) -> None:
        """Look what there is once the version has closed it."""
        with closing(sqlite3.connect(self.path)) as connection:
            telling = connection.execute("SELECT count(DISTINCT kind), count(*) FROM entries").fetchone()
        if telling > Kept.best:
            Kept.best = telling
            shutil.copyfile(self.path, Kept.place)
        self.clean()


def main(place: str) -> None:
    """Keep a ledger in a file, and say how many kinds of entry and entries it holds."""
    Kept.place = Path(place)
    run_state_machine_as_test(  # type: ignore[no-untyped-call]
        Kept,
        settings=settings(
            max_examples=DAYS,
            stateful_step_count=ACTS,
            derandomize=True,
            database=None,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
    print(*Kept.best)  # noqa: T201


if __name__ == "__main__":
    main(sys.argv[1])
