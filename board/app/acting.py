"""What a key writes into the ledger: each act is one entry, told back in a sentence."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, TypedDict

from board.app.session import Session
from board.errors import LedgerError
from board.house.wording import count, day_name
from board.ledger import find, lots, write
from board.ledger.facts import PinFacts
from board.ledger.plans import OvertakenError
from board.ledger.state import BatchStage, Entry, PlanVersion, Weight
from board.ledger.undo import UNDOABLE
from board.planning.cures import cures_over
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.batch_card import planned
from board.views.batch_waits import waits, waits_line
from board.views.checks import watched_by
from board.views.facts import Facts, batch_state, find_step
from board.views.happened import sentence
from board.views.labels import BLANK, labels
from board.views.opening import next_occasion
from board.views.reference import parts
from board.views.steps import next_of
from board.views.taking import took
from board.views.weighing import ScaleLine

if TYPE_CHECKING:
    from board.planning.replan.pin import Pin


class Said(TypedDict):
    """Who did something, when it happened and when it is written down."""

    who: str
    at: datetime
    noted_at: datetime


@dataclass(frozen=True, slots=True)
class Told:
    """What was recorded, as the board says it back, and how many new entries `u` would take back."""

    says: str
    entries: int = 1


def said(session: Session) -> Said:
    """Who does something, and when: whoever is at the keys, now."""
    now = session.clock.now()
    return {"who": session.who, "at": now, "noted_at": now}


def tell(session: Session, entry: Entry) -> Told:
    """An entry told back in a sentence."""
    says = sentence(session.facts(), entry)
    before = "already recorded: " if entry.already else ""
    can_go = entry.kind in UNDOABLE and not entry.already
    return Told(f"{before}{says}", 1 if can_go else 0)


def mark_step(session: Session, key: str) -> Told:
    """Mark a planned step done, by its key, with what it took of which batch."""
    day, id = parts(key)
    facts = session.facts()
    return _mark(session, facts, facts.plans.get(day), id)


def _mark(session: Session, facts: Facts, plan: Plan | None, id: str) -> Told:
    step = find_step(plan, id)
    used = took(facts, plan, step) if plan and step else ()
    watched = watched_by(facts, plan, step) if plan and step else None
    given = said(session)
    with session.ledger.writing():
        entry = write.mark_step(session.ledger, id, took=used, **given)
        if watched is None or entry.already:
            return tell(session, entry)
        write.start_watch(session.ledger, watched, **given)
    told = tell(session, entry)
    return Told(f"{told.says}, and watched", told.entries + 1)


def mark_load(session: Session, facts: Facts, key: str) -> Told:
    """Mark the next step of a load, by the load's key."""
    day, load = parts(key)
    plan = facts.plans.get(day)
    step = next_of(facts, plan, load) if plan else None
    if step is None:
        raise LedgerError("nothing is left to do for this load")
    return _mark(session, facts, plan, step.id)


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
        raise LedgerError(f"it is made already; {waiting}. In Batches (4) Enter marks it used all the same")
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
    try:
        path.write_bytes(session.label_printer(printed))
    except OSError as error:
        raise LedgerError(f"{path} cannot be written: {error.strerror or error}") from error
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


def take_reading(session: Session, place: str, celsius: float) -> Told:
    """Record a temperature of a load (`load:DAY/ID`) or of a place (`place:ID`)."""
    kind, _, name = place.partition(":")
    if kind == "load":
        entry = write.take_reading(session.ledger, celsius, load=parts(name)[1], **said(session))
    else:
        entry = write.take_reading(session.ledger, celsius, place=name, **said(session))
    return tell(session, entry)


def note(session: Session, text: str, about: str = "") -> Told:
    """Write a note."""
    return tell(session, write.note(session.ledger, text, about, **said(session)))


def handover(session: Session, text: str) -> Told:
    """Sign the handover."""
    write.handover(session.ledger, text, **said(session))
    who = names.person_name(session.house, session.who)
    return Told(f"handover signed by {who}")


def sell(session: Session, facts: Facts, item: str, portions: int) -> Told:
    """Record portions sold at the service now or next."""
    plan, occasion = _serving(facts)
    return tell(session, write.sell(session.ledger, plan.day, occasion, item, portions, **said(session)))


def sold_out(session: Session, facts: Facts, item: str) -> Told:
    """Mark an item sold out at the service now or next."""
    plan, occasion = _serving(facts)
    return tell(session, write.sold_out(session.ledger, plan.day, occasion, item, **said(session)))


def _serving(facts: Facts) -> tuple[Plan, str]:
    coming = next_occasion(facts)
    if coming is None:
        raise LedgerError("no service is planned; plan the day first")
    return coming[0], coming[1].id


def promise(session: Session, day: date, service: str, item: str, portions: int) -> Told:
    """Promise so many portions of an item at a service."""
    entry = write.set_promise(session.ledger, day, service, item, portions, **said(session))
    return tell(session, entry)


def commit(session: Session, plan: Plan, reason: str) -> Told:
    """Make a draft the plan that is cooked from.

    Raises:
        LedgerError: another board committed a plan of that day meanwhile; the draft stays, and now stands
            beside that one. Or a cure in it is over its limit.
    """
    if refused := cures_over(session.house, plan, _made(session.facts(), plan)):
        raise LedgerError(f"not committed: {'; '.join(refused)}")
    over = session.drafted_over.get(plan.day)
    try:
        entry = write.commit_plan(session.ledger, plan, reason, over=over, **said(session))
    except OvertakenError as overtaken:
        session.drafted_over[plan.day] = overtaken.version.version
        raise LedgerError(_overtaken(session, overtaken.version)) from overtaken
    session.drafts.pop(plan.day, None)
    return tell(session, entry)


def _made(facts: Facts, plan: Plan) -> frozenset[str]:
    """The batches of a plan that are made already, and so no longer for it to refuse."""
    due = (batch.id for batch in plan.batches if batch_state(facts, batch, plan.day).stage is BatchStage.DUE)
    return frozenset(batch.id for batch in plan.batches) - frozenset(due)


def _overtaken(session: Session, by: PlanVersion) -> str:
    who, clock = names.person_name(session.house, by.who), names.clock(session.house, by.at)
    return (
        f"{who} committed another plan for {day_name(by.day)} at {clock}: d compares yours with it, "
        "g plans again from it, c commits yours over it"
    )


def pin(session: Session, day: date, place: "Pin") -> Told:
    """Hold a load of a plan to a place."""
    wanted = PinFacts(day, place.load, place.pit, place.zone, place.setpoint_c, place.at, place.pieces)
    return tell(session, write.pin_load(session.ledger, wanted, **said(session)))


def pin_here(session: Session, day: date, load: PlannedLoad) -> Told:
    """Hold a load of a plan where it is."""
    from board.planning.replan.pin import pin_of  # noqa: PLC0415 - the sums load when first asked

    return pin(session, day, pin_of(load))


def unpin(session: Session, day: date, load: str) -> Told:
    """Let a load go where planning likes it best."""
    return tell(session, write.unpin_load(session.ledger, day, load, **said(session)))


def undo(session: Session) -> Told:
    """Take back the last thing this person recorded."""
    return tell(session, write.undo(session.ledger, **said(session)))
