"""Errors a cook can act on: one line that says what, where and what is allowed."""


class BoardError(Exception):
    """Something the person can put right; its text is the one line they are shown."""


class QuantityError(BoardError):
    """A quantity that cannot be read: the wrong dimension, no unit, not a number."""


class HouseFileError(BoardError):
    """A house file that says something impossible; names the file and the key."""


class PlanError(BoardError):
    """A question the planner cannot be asked, such as a day outside any calendar."""


class LedgerError(BoardError):
    """A ledger that cannot be opened, or an entry it cannot take."""
