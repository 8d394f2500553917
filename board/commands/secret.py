"""Asking for what nobody may see: hidden in a terminal, else a line of standard input; never an argument.

An argument would stand in the shell's history and in the list of processes.
"""

import sys
from getpass import getpass

from board.errors import BoardError

_LONGEST = 1_000


def asked_secretly(question: str) -> str:
    """What is typed, without its line's end.

    Raises:
        BoardError: there is nothing to read.
    """
    try:
        if sys.stdin is not None and sys.stdin.isatty():
            return getpass(f"{question}: ", stream=sys.stderr)
        line = sys.stdin.readline(_LONGEST) if sys.stdin is not None else ""
    except (EOFError, ValueError, OSError) as error:
        raise BoardError(f"{question}: nothing can be read; type it in a terminal") from error
    if not line:
        raise BoardError(
            f"{question}: nothing was on standard input; give it there as a line, or in a terminal"
        )
    return line.rstrip("\r\n")
