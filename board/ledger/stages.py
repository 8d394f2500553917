"""The order in which a load and a batch go through their stages, and what may be marked when."""

from collections.abc import Callable, Mapping
from datetime import datetime

from board.errors import LedgerError
from board.ledger.state import BatchStage, LoadStage

L, B = LoadStage, BatchStage
Times = Mapping[str, datetime]

LOAD_ORDER = (L.PREPPED, L.ON, L.WRAPPED, L.PULLED, L.RESTING, L.HOLDING, L.SERVED, L.LOST)
BATCH_ORDER = (B.MADE, B.READY, B.USED, B.DISCARDED)

# What must have been marked before a stage can be.
NEEDS: Mapping[str, str] = {
    L.WRAPPED: L.ON,
    L.PULLED: L.ON,
    L.RESTING: L.PULLED,
    L.HOLDING: L.PULLED,
    L.SERVED: L.PULLED,
    B.READY: B.MADE,
    B.USED: B.MADE,
}

# A planned step whose doing is a stage of its load.
STAGE_OF_STEP: Mapping[str, LoadStage] = {
    "load": L.ON,
    "wrap": L.WRAPPED,
    "pull": L.PULLED,
    "rest": L.RESTING,
    "hold": L.HOLDING,
}
STEP_OF_STAGE: Mapping[LoadStage, str] = {stage: step for step, stage in STAGE_OF_STEP.items()}
ENDS = frozenset({L.SERVED, L.LOST, B.DISCARDED})
_COOKING = LOAD_ORDER.index(L.WRAPPED)  # the last stage on a pit


def check_new(
    subject: str,
    stage: str,
    at: datetime,
    times: Times,
    *,
    order: tuple[str, ...],
    clock: Callable[[datetime], str],
) -> None:
    """Check that a stage may be marked at a time, given when the others were.

    Args:
        subject: the load or batch, for the sentence.
        stage: the stage to mark, not among `times`.
        at: when it happened.
        times: stages marked so far, with their times.
        order: all stages from first to last.
        clock: how to show a moment.

    Raises:
        LedgerError: what to mark or take back first, or which time it contradicts.
    """
    needed = NEEDS.get(stage)
    if needed and needed not in times:
        raise LedgerError(f"{subject} is not marked {needed} yet; mark it {needed} first, with its true time")
    for other, other_at in times.items():
        if other in ENDS and at >= other_at:
            raise LedgerError(f"{subject} was marked {other} at {clock(other_at)}; undo that first")
        later = order.index(stage) > order.index(other)
        if (later and at < other_at) or (not later and at > other_at):
            raise LedgerError(
                f"{subject} cannot be {stage} at {clock(at)}: it was {other} at {clock(other_at)}, "
                f"and is {stage} {'after' if later else 'before'} that"
            )


def check_moved(
    subject: str, at: datetime, times: Times, moved_at: datetime | None, *, clock: Callable[[datetime], str]
) -> None:
    """Check that a load was on a pit at a moment, and not moved after it.

    Raises:
        LedgerError: what to mark or take back first, or which time it contradicts.
    """
    if L.ON not in times:
        raise LedgerError(f"{subject} is not marked on yet; mark it on first, with its true time")
    since = max(times[L.ON], moved_at or times[L.ON])
    if at < since:
        raise LedgerError(f"{subject} cannot be moved at {clock(at)}: it came to its pit at {clock(since)}")
    off = [(stage, off_at) for stage, off_at in times.items() if LOAD_ORDER.index(stage) > _COOKING]
    for stage, off_at in off:
        if at > off_at or stage in ENDS:
            raise LedgerError(f"{subject} was {stage} at {clock(off_at)}; it is on no pit after that")


def check_since_moved(
    subject: str, stage: str, at: datetime, moved_at: datetime | None, *, clock: Callable[[datetime], str]
) -> None:
    """Check that a load leaves its pit after it was moved there, and goes on before.

    Raises:
        LedgerError: which time it contradicts.
    """
    if moved_at is None or stage == L.WRAPPED:
        return
    before = LOAD_ORDER.index(L(stage)) < _COOKING
    if (at > moved_at) if before else (at < moved_at):
        when = "before" if before else "after"
        raise LedgerError(
            f"{subject} cannot be {stage} at {clock(at)}: it was moved at {clock(moved_at)}, {when} which "
            f"it is {stage}"
        )


def check_left(subject: str, times: Times, moved_at: datetime | None = None) -> None:
    """Check that what remains after an undo is still a possible story; `moved_at` to another pit.

    Raises:
        LedgerError: what must be undone first.
    """
    if moved_at is not None and L.ON not in times:
        raise LedgerError(f"{subject} was moved after it went on; undo the move first")
    for stage in times:
        needed = NEEDS.get(stage)
        if needed and needed not in times:
            raise LedgerError(f"{subject} was marked {stage} after it was {needed}; undo {stage} first")
