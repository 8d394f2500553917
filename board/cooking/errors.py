"""The cooking sums' own error."""

from board.errors import BoardError


class CookingError(BoardError):
    """A cook that cannot be: a core the pit cannot reach, a wrap that never comes, an impossible reading."""
