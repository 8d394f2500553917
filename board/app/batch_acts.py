"""What the keys of batches write, each told back in a sentence; and their labels."""

from board.app.acting import Told, said, tell
from board.app.session import Session
from board.errors import LedgerError
from board.house.put_file import put_file
from board.house.wording import count
from board.ledger import find, lots, write
from board.ledger.state import BatchStage, Weight
from board.views.batch_card import planned
from board.views.batch_waits import waits, waits_line
from board.views.facts import Facts, batch_state
from board.views.labels import BLANK, labels
from board.views.reference import parts
from board.views.weighing import ScaleLine


def mark_batch(session: Session, facts: Facts, key: str) -> Told:
    """Mark a batch made under the lot that is offered, or used once nothing waits for it.

    Raises:
        LedgerError: it is gone, or loads still wait for it.
    """
    stage = stage_of(facts, key)
    if stage is BatchStage.DUE:
        return make_batch(session, key)
    if stage not in (BatchStage.MADE, BatchStage.READY):
        raise LedgerError(f"this batch is {stage.value}; nothing is left to mark")
    if waiting := waits_for(facts, key):
        raise LedgerError(f"it is made already; {waiting}. In Batches it can be marked used all the same")
    return use_batch(session, key)


def use_batch(session: Session, key: str) -> Told:
    """Mark a batch used up."""
    entry = write.mark_batch(session.ledger, parts(key)[1], BatchStage.USED, **said(session))
    return tell(session, entry)


def waits_for(facts: Facts, key: str) -> str:
    """What still waits for a batch; empty when nothing does."""
    found = planned(facts, key)
    return waits_line(facts, waits(facts, *found)) if found else ""


def stage_of(facts: Facts, key: str) -> BatchStage:
    """Where a batch stands.

    Raises:
        LedgerError: no plan has it any more.
    """
    found = planned(facts, key)
    if found is None:
        raise LedgerError("this batch is in no plan any more")
    return batch_state(facts, found[1], found[0].day).stage


def make_batch(session: Session, key: str, lot: str | None = None) -> Told:
    """Mark a batch made under a lot, the one that is offered where none is typed."""
    return tell(session, write.make_batch(session.ledger, parts(key)[1], lot, **said(session)))


def batch_place(facts: Facts, key: str) -> str:
    """The place that temperatures of a batch are read under: its lot once it is made; empty before."""
    state = facts.batches.get(parts(key))
    return f"place:{state.lot or state.id}" if state is not None and state.made_at is not None else ""


def print_labels(session: Session, facts: Facts, key: str) -> str:
    """Write a batch's labels beside the ledger, and say where.

    Raises:
        BoardError: no plan has the batch any more, or the file cannot be written.
    """
    found = planned(facts, key)
    if found is None or session.label_printer is None:
        raise LedgerError("this batch is in no plan any more")
    printed = labels(facts, *found)
    name = printed[0].lot if printed[0].lot != BLANK else found[1].id
    path = session.ledger.path.with_name(f"labels-{_as_file(name)}.pdf")
    put_file(path, session.label_printer(printed))
    return f"{count(len(printed), 'label')} written to {path}"


def _as_file(name: str) -> str:
    """A lot as part of a file's name."""
    return "".join(c if c.isalnum() or c in "-_" else "-" for c in name)


def offered_lot(session: Session, key: str) -> str:
    """The lot that a batch made now would get."""
    now = session.clock.now()
    return lots.offered(session.ledger, find.batch(session.ledger, parts(key)[1], now), now)


def weigh(session: Session, key: str, line: ScaleLine, grams: float, reader: str | None) -> Told:
    """Record what the scale showed of one line of a batch, and who else read it."""
    weight = Weight(line.line, line.name, line.asked_g, grams)
    entry = write.weigh(session.ledger, parts(key)[1], weight, reader=reader, **said(session))
    return tell(session, entry)


def discard_batch(session: Session, key: str, reason: str) -> Told:
    """Mark a batch discarded, and why."""
    id = parts(key)[1]
    entry = write.mark_batch(session.ledger, id, BatchStage.DISCARDED, reason=reason, **said(session))
    return tell(session, entry)
