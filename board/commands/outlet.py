"""What a command prints, without anything a terminal would obey, wherever its text came from."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any, TextIO

import click

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


class Talk(Outlet):
    """Standard error: what cannot be said there, as on a full disk, changes nothing of what is done."""

    def write(self, text: str) -> int:
        """Write it, made harmless, where it can be."""
        with suppress(OSError):
            super().write(text)
        return len(text)

    def flush(self) -> None:
        """Have it said, where it can be."""
        with suppress(OSError):
            self._stream.flush()


def say_done(printed: str, sentence: str = "") -> None:
    """Print what tells that something is done; where the output takes nothing, say so beside it.

    An error would have it done again. `sentence` is said then, where what is printed is no sentence.
    """
    try:
        click.echo(printed)
    except OSError as error:
        says = f"{sentence or printed}; it is done, but could not be printed: {error.strerror}"
        click.echo(f"board: {says}", err=True)


def say_beside(sentence: str, *, as_json: bool) -> None:
    """Say what is done: on standard error where standard output is for a document, else as `say_done`."""
    if as_json:
        click.echo(sentence, err=True)
    else:
        say_done(sentence)


@contextmanager
def harmless_outlets(*, as_json: bool) -> Iterator[None]:
    """Standard output and standard error carry nothing that a terminal would obey."""
    before = sys.stdout, sys.stderr
    if sys.stdout is not None:
        sys.stdout = Outlet(sys.stdout, escaped if as_json else harmless)
    if sys.stderr is not None:
        sys.stderr = Talk(sys.stderr, harmless)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before
