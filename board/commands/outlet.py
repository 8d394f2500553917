"""What a command prints, without anything a terminal would obey, wherever its text came from."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TextIO

from board.views.obeyed import escaped, harmless


class Outlet:
    """A stream that makes what is written to it harmless; everything else is the stream's own."""

    def __init__(self, stream: TextIO, made: Callable[[str], str]) -> None:
        self._stream = stream
        self._made = made

    def write(self, text: str) -> int:
        """Write it, made harmless."""
        return self._stream.write(self._made(text))

    def __getattr__(self, name: str) -> Any:
        if name == "buffer":  # a way around
            raise AttributeError(name)
        return getattr(self._stream, name)


@contextmanager
def harmless_outlets(*, as_json: bool) -> Iterator[None]:
    """Standard output and standard error carry nothing that a terminal would obey."""
    before = sys.stdout, sys.stderr
    if sys.stdout is not None:
        sys.stdout = Outlet(sys.stdout, escaped if as_json else harmless)
    if sys.stderr is not None:
        sys.stderr = Outlet(sys.stderr, harmless)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before
