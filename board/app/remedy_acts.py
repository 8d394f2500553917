"""What choosing a remedy records: a setpoint, a wrap, a move, or a note of what was decided."""

from board.app import acting
from board.app.acting import Told
from board.app.session import Session
from board.errors import LedgerError
from board.ledger import write
from board.ledger.state import Entry, LoadStage
from board.planning.plan import PlannedLoad
from board.planning.remedies.remedy import Action, Kind
from board.views import names
from board.views.facts import Facts, all_loads
from board.views.remedies import action_words
from board.views.remedying import may_still_do

_FIRE = (Kind.RAISE, Kind.LOWER, Kind.RAISE_AND_WRAP)
_WRAP = (Kind.WRAP, Kind.RAISE_AND_WRAP)


def do_remedy(session: Session, facts: Facts, load: PlannedLoad, action: Action) -> Told:
    """Record that a remedy is done now.

    What the pit or the meat undergoes is a mark of its own; what only changes the plan of the day is a
    note. A pit that must be lit first is lit, and the move is chosen again when it is hot.

    Raises:
        LedgerError: it may no more be done as things stand by now, or cannot be recorded.
    """
    _check_still(session, load, action)
    entries = _recorded(session, facts, load, action)
    told = [acting.tell(session, entry) for entry in entries]
    says = " and ".join(one.says for one in told)
    if action.kind is Kind.MOVE and action.is_unlit:
        says += f"; move {names.the_pieces(facts.house, load)} there when it is hot"
    return Told(says, sum(one.entries for one in told))


def _check_still(session: Session, load: PlannedLoad, action: Action) -> None:
    facts = session.facts()
    plan = next((plan for plan, one in all_loads(facts) if one == load), None)
    if plan is None or not may_still_do(facts, plan, load, action):
        says = action_words(facts, load, action)
        raise LedgerError(f"{names.the_pieces(facts.house, load)}: {says} no longer fits; look again")


def _recorded(session: Session, facts: Facts, load: PlannedLoad, action: Action) -> list[Entry]:
    ledger, said = session.ledger, acting.said(session)
    setpoint_c = action.setpoint_c
    with ledger.writing():
        found: list[Entry] = []
        if action.kind in _FIRE and setpoint_c is not None:
            found.append(write.set_pit(ledger, action.pit, setpoint_c, **said))
        if action.kind in _WRAP:
            found.append(write.mark_load(ledger, load.id, LoadStage.WRAPPED, **said))
        if action.kind is Kind.MOVE and setpoint_c is not None:
            found.append(
                write.light(ledger, action.pit, setpoint_c, **said)
                if action.is_unlit
                else write.move_load(ledger, load.id, action.pit, zone=action.zone, **said)
            )
        if not found:
            found.append(write.note(ledger, _decided(facts, load, action), **said))
    return found


def _decided(facts: Facts, load: PlannedLoad, action: Action) -> str:
    """The note of a decision: `4 hams: pull at 65°`."""
    if action.kind is Kind.NOTHING:
        raise LedgerError("nothing is done, so nothing is recorded")
    return f"{names.pieces(facts.house, load)}: {action_words(facts, load, action)}"
