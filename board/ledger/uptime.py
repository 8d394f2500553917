"""How long this machine has been up: a count that goes on evenly whatever is done to its clock."""

import time
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

BOOT_ID = Path("/proc/sys/kernel/random/boot_id")  # random(4): new with each boot of Linux


class Uptime(NamedTuple):
    """A count of the machine's: two compare within one boot; `boot` is empty where none is known."""

    boot: str
    up_ms: int | None


UNKNOWN = Uptime("", None)
_ASLEEP_TOO: int | None = getattr(time, "CLOCK_BOOTTIME", None)  # clock_gettime(2): counts sleep, Linux alone


def seconds_up() -> float:
    """The count now, never set; it goes on while the machine sleeps, where the system counts that."""
    return time.monotonic() if _ASLEEP_TOO is None else time.clock_gettime(_ASLEEP_TOO)


def uptime() -> Uptime:
    """The count now, of which boot."""
    return Uptime(_boot() if _ASLEEP_TOO is not None else "", round(seconds_up() * 1_000))


def unknown() -> Uptime:
    """No count, for entries whose times were told and not read from this machine's clock."""
    return UNKNOWN


@lru_cache(maxsize=1)
def _boot() -> str:
    """Which boot of which machine this is; empty where the system does not say."""
    try:
        return BOOT_ID.read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        return ""
