"""Being told to stop: a board leaves the terminal as it was."""

import asyncio
import signal
from collections.abc import Callable
from contextlib import suppress

TERMINATED = 143  # what a shell says of a program that was told to stop


def when_told_to_stop(leave: Callable[[], None]) -> None:
    """Leave when told by SIGTERM or SIGHUP, on systems and in loops that can be told."""
    for name in ("SIGTERM", "SIGHUP"):
        with suppress(AttributeError, NotImplementedError, RuntimeError, ValueError):
            asyncio.get_running_loop().add_signal_handler(getattr(signal, name), leave)
