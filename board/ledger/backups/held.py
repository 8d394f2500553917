"""A folder held while something in it is half made, which no wrong clock then makes look abandoned."""

import os
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

try:
    import fcntl
except ImportError:  # a system without such locks: the age of a file alone tells
    fcntl = None  # type: ignore[assignment]


@contextmanager
def held(folder: Path, *, alone: bool = False) -> Iterator[bool]:
    """Hold a folder together with all who make something in it, or `alone` where just now nobody does.

    A killed program lets go. Tells whether it is held; who only makes something goes on without.
    """
    if fcntl is None:
        yield True
        return
    with ExitStack() as until_done:
        try:
            opened = os.open(folder, os.O_RDONLY)
            until_done.callback(os.close, opened)
            fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB if alone else fcntl.LOCK_SH)
            is_held = True
        except OSError:
            is_held = False
        yield is_held
