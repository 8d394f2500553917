"""The ways in which a disk refuses an operation, and what a person must not be told of it."""

from dataclasses import dataclass

from tests.faults import check
from tests.faults.layer import FOREVER, Class

ENOUGH = 20  # findings of one way
NEVER_SAID = ("database", "sqlite", "traceback", "locked", "errno", "\n")  # in a line to a cook


@dataclass(frozen=True, slots=True)
class Way:
    """What is refused, with which error, how often, and whether half of a write lands."""

    classes: Class
    error: str
    times: int = 1
    short: bool = False


WAYS = {
    "a write, disk full": Way(Class.WRITE, "ENOSPC"),
    "half a write, disk full": Way(Class.WRITE, "ENOSPC", short=True),
    "all writes from one on, disk full": Way(Class.WRITE | Class.NAME, "ENOSPC", FOREVER),
    "a write, disk fails": Way(Class.WRITE, "EIO"),
    "all but reads from one on, disk fails": Way(
        Class.WRITE | Class.SYNC | Class.TRUNCATE | Class.NAME, "EIO", FOREVER
    ),
    "a sync": Way(Class.SYNC, "EIO"),
    "all syncs from one on": Way(Class.SYNC, "EIO", FOREVER),
    "a cut of a file": Way(Class.TRUNCATE, "EIO"),
    "a name": Way(Class.NAME, "EIO"),
    "a read": Way(Class.READ, "EIO"),
    "all from one on, reads too": Way(Class(31), "EIO", FOREVER),
}


def unplain(hands: dict[str, check.Told]) -> list[str]:
    """Lines that no cook can act on."""
    lines = [line for told in hands.values() for line in told.lines]
    return [f"no plain line: {line}" for line in lines if any(word in line.casefold() for word in NEVER_SAID)]
