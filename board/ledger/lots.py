"""Lot numbers: what a making is called on its label, so that meat is traced to it and back."""

from datetime import datetime, timedelta
from itertools import count

from board.errors import LedgerError
from board.ledger import typed
from board.ledger.facts import BatchFacts
from board.ledger.open import Ledger
from board.ledger.times import stamp

SAME_YEAR = timedelta(days=300)  # a lot says its day and month: it comes back the year after


def offered(ledger: Ledger, batch: BatchFacts, at: datetime) -> str:
    """The lot of a batch made at a moment: day, recipe and the making of that day, as `1219-ham-cure-1`."""
    stem = f"{at.astimezone(ledger.zone):%m%d}-{batch.recipe}"[: typed.LONGEST_NAME - 4]
    return next(lot for n in count(1) if _holder(ledger, lot := f"{stem}-{n}", batch, at) is None)


def checked(ledger: Ledger, lot: str | None, batch: BatchFacts, at: datetime) -> str:
    """The lot a batch is made under: what was typed, or what is offered where nothing was.

    Raises:
        LedgerError: another batch has it.
    """
    if not lot:
        return offered(ledger, batch, at)
    wanted = typed.name(lot, "the lot")
    other = _holder(ledger, wanted, batch, at)
    if other is not None:
        raise LedgerError(f"lot {wanted} is that of {other}; {offered(ledger, batch, at)} is free")
    return wanted


def _holder(ledger: Ledger, lot: str, batch: BatchFacts, at: datetime) -> str | None:
    """The batch made under a lot within the year, or planned under it as its name, if it is another one."""
    near = (stamp(at - SAME_YEAR), stamp(at + SAME_YEAR))
    row = ledger.row(
        """SELECT id, day FROM batches WHERE NOT (day = ? AND id = ?)
        AND (lot = ? AND made_at BETWEEN ? AND ? OR id = ? AND make_by BETWEEN ? AND ?)""",
        (batch.day.isoformat(), batch.id, lot, *near, lot, *near),
    )
    return f"{row['id']} of {row['day']}" if row else None
