"""Processes of this command that write to a ledger and can be cut off."""

import os
import signal
import sys
import time
import traceback
from collections.abc import Callable, Sequence

IT_FELL = 70  # the exit code of a process that ended in a traceback


def start(work: Callable[[], None]) -> int:
    """A process that does this and ends; its number."""
    sys.stdout.flush()
    child = os.fork()
    if child:
        return child
    code = 0
    try:
        work()
    except SystemExit as left:
        code = int(left.code or 0)
    except BaseException:
        traceback.print_exc()
        code = IT_FELL
    os._exit(code)


def cut_off(children: Sequence[int], seconds: float) -> list[int]:
    """Kill these processes after so long, or sooner when one of them was killed; how each ended."""
    until = time.monotonic() + seconds
    ended: dict[int, int] = {}
    while (
        len(ended) < len(children)
        and time.monotonic() < until
        and signal.SIGKILL not in map(_by, ended.values())
    ):
        for child in set(children) - set(ended):
            number, status = os.waitpid(child, os.WNOHANG)
            if number:
                ended[child] = status
        time.sleep(0.001)
    for child in set(children) - set(ended):
        os.kill(child, signal.SIGKILL)
        ended[child] = os.waitpid(child, 0)[1]
    return [_ending(ended[child]) for child in children]


def _by(status: int) -> int:
    return os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0


def _ending(status: int) -> int:
    return os.waitstatus_to_exitcode(status)
