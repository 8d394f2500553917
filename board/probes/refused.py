"""Why something a probe sent cannot be taken."""

from board.errors import BoardError

_SHOWN = 40


class BadMessageError(BoardError):
    """A message to set aside; its text says what was found and what is allowed."""


def quoted(text: object) -> str:
    """What was found, cut short."""
    found = str(text)
    cut = f"{found[:_SHOWN]}…" if len(found) > _SHOWN else found
    return f"'{cut}'" if cut else "nothing"
