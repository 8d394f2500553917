"""What a key writes into the ledger: each act is one entry, told back in a sentence."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING, TypedDict

from board.app.session import Session
from board.errors import LedgerError
from board.house.calendar import zone
from board.house.wording import count, day_name
from board.ledger import write
from board.ledger.checking import Right
from board.ledger.facts import PinFacts
from board.ledger.ordering import NewOrder
from board.ledger.plans import OvertakenError
from board.ledger.signers import Vouched
from board.ledger.state import BatchStage, Entry, PlanVersion, Read
from board.ledger.timing import counted_at
from board.ledger.typed import AHEAD
from board.ledger.undo import UNDOABLE, plan_since
from board.ledger.when import moment_ago
from board.planning.cures import cures_over
from board.planning.names import Names
from board.planning.plan import Plan, PlannedLoad
from board.planning.replan.regroup import regrouped
from board.views import names
from board.views.checks import watched_by
from board.views.facts import Facts, batch_state, find_step
from board.views.guidance import Key
from board.views.happened import sentence, taken_back
from board.views.pinning import wishes_for
from board.views.reference import parts
from board.views.signing import wrong_before
from board.views.steps import next_of
from board.views.taken_back import stands_now
from board.views.taking import took

if TYPE_CHECKING:
    from board.planning.replan.pin import Pin
    from board.planning.replan.regroup import Wish

_SAID_OF_MANY = 3  # readings told one by one of those entered together


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


def said(session: Session, at: datetime | None = None) -> Said:
    """Who does something, and when: whoever is at the keys, now or at a moment they say."""
    now = session.clock.now()
    return {"who": session.who, "at": at or now, "noted_at": now}


def ago(session: Session, typed: str) -> datetime:
    """The moment that somebody means by how long ago, or at what time, it was.

    Raises:
        LedgerError: neither, or still to come.
    """
    now = session.clock.now()
    at = moment_ago(typed, zone(session.house), now)
    if at > now + AHEAD:
        raise LedgerError(f"{names.clock(session.house, at)} is still to come")
    return at


def tell(session: Session, entry: Entry) -> Told:
    """An entry told back in a sentence."""
    says = sentence(session.facts(), entry)
    before = f"already recorded by {_by(session, entry)}: " if entry.already else ""
    can_go = entry.kind in UNDOABLE and not entry.already
    return Told(f"{before}{says}", 1 if can_go else 0)


def _by(session: Session, entry: Entry) -> str:
    """Who recorded an entry, and when."""
    return f"{names.person_name(session.house, entry.who)} at {names.clock(session.house, entry.noted_at)}"


def mark_step(session: Session, key: str) -> Told:
    """Mark a planned step done, by its key, with what it took of which batch."""
    return mark_at(session, key, session.clock.now())


def mark_at(session: Session, key: str, at: datetime) -> Told:
    """Mark a planned step done at some moment, now or before."""
    day, id = parts(key)
    facts = session.facts()
    return _mark(session, facts, facts.plans.get(day), id, at)


def _mark(session: Session, facts: Facts, plan: Plan | None, id: str, at: datetime | None = None) -> Told:
    step = find_step(plan, id)
    used = took(facts, plan, step) if plan and step else ()
    watched = watched_by(facts, plan, step) if plan and step else None
    given = said(session)
    given["at"] = at or given["at"]
    with session.ledger.together():
        entry = write.mark_step(session.ledger, id, took=used, **given)
        if watched is None or entry.already:
            return tell(session, entry)
        write.start_watch(session.ledger, watched, **given)
    return replace(told := tell(session, entry), says=f"{told.says}, and watched")


def mark_load(session: Session, facts: Facts, key: str) -> Told:
    """Mark the next step of a load, by the load's key."""
    day, load = parts(key)
    plan = facts.plans.get(day)
    step = next_of(facts, plan, load) if plan else None
    if step is None:
        raise LedgerError("nothing is left to do for this load")
    return _mark(session, facts, plan, step.id)


def take_reading(session: Session, place: str, celsius: float, at: datetime | None = None) -> Told:
    """Record a temperature of a load (`load:DAY/ID`) or of a place (`place:ID`), taken now or at a moment."""
    one = _read(place, celsius)
    entry = write.take_reading(session.ledger, celsius, place=one.place, load=one.load, **said(session, at))
    told = tell(session, entry)
    return told if at is None else Told(f"{told.says} at {names.clock(session.house, at)}", told.entries)


def take_readings(session: Session, readings: Sequence[tuple[str, float, datetime | None]]) -> Told:
    """Record several temperatures at once, each by its place, now or at a moment; one `u` undoes all."""
    written: list[Entry] = []
    with session.ledger.together():
        for at in dict.fromkeys(taken_at for *_, taken_at in readings):
            read = [_read(place, celsius) for place, celsius, taken_at in readings if taken_at == at]
            written += write.take_readings(session.ledger, read, **said(session, at))
    facts = session.facts()
    says = [sentence(facts, entry) for entry in written]
    more = f", and {len(says) - _SAID_OF_MANY} more" if len(says) > _SAID_OF_MANY else ""
    return Told(f"{count(len(says), 'temperature')}: {', '.join(says[:_SAID_OF_MANY])}{more}")


def _read(place: str, celsius: float) -> Read:
    kind, _, name = place.partition(":")
    return Read(celsius, load=parts(name)[1]) if kind == "load" else Read(celsius, place=name)


def put_time_right(session: Session, entries: Sequence[Entry], at: datetime) -> Told:
    """Say when what was entered truly happened; the entries stay as they are, with the right time beside."""
    later = at > counted_at(session.ledger, entries[0])
    in_turn = (
        reversed(entries) if later else entries
    )  # so that stages of one load keep their order on the way
    with session.ledger.together():
        right = [write.correct(session.ledger, e.seq, Right(taken_at=at), **said(session)) for e in in_turn]
    told = tell(session, right[-1 if later else 0])
    return told if len(right) == 1 else Told(f"{told.says}, and {len(right) - 1} with it")


def note(session: Session, text: str, about: str = "") -> Told:
    """Write a note."""
    return tell(session, write.note(session.ledger, text, about, **said(session)))


def handover(session: Session, text: str, told: Sequence[str] = (), vouched: Vouched | None = None) -> Told:
    """Sign the handover, with how things were told to stand."""
    write.handover(session.ledger, text, told=told, vouched=vouched, **said(session))
    who = names.person_name(session.house, session.who)
    return Told(f"handover signed by {who}{wrong_before(vouched)}")


def promise(session: Session, day: date, service: str, item: str, portions: int) -> Told:
    """Promise so many portions of an item at a service."""
    entry = write.set_promise(session.ledger, day, service, item, portions, **said(session))
    return tell(session, entry)


def put_due(session: Session, day: date, service: str, due: datetime) -> Told:
    """Put a service or an order of a day at another time."""
    return tell(session, write.put_due(session.ledger, day, service, due, **said(session)))


def take_order(session: Session, day: date, name: str, due: datetime, line: tuple[str, int]) -> Told:
    """Take an order for a day: who for, when it is collected, what and how many."""
    facts = session.facts()
    used = {order.id for order in facts.house.orders} | {one.service for one in facts.occasions}
    id, (item, portions) = Names(used).new(f"{day:%m%d}-order"), line
    order = NewOrder(day, id, name, due, item, portions)
    return tell(session, write.take_order(session.ledger, order, **said(session)))


def strike(session: Session, day: date, order: str) -> Told:
    """Strike an order of a day."""
    return tell(session, write.strike_order(session.ledger, day, order, **said(session)))


def commit(session: Session, plan: Plan, reason: str, key: Key) -> Told:
    """Make a draft the plan that is cooked from.

    Raises:
        LedgerError: another board committed a plan of that day meanwhile; the draft stays, and now stands
            beside that one. Or a cure in it is over its limit, or it lacks a split or a join.
    """
    if refused := cures_over(session.house, plan, _made(session.facts(), plan)):
        raise LedgerError(f"not committed: {'; '.join(refused)}")
    if regrouped(plan, wishes_for(session.facts(), plan.day)) != plan:
        plans = f"{key('plan')} plans with it"
        raise LedgerError(f"not committed: a load was split or joined since this was planned: {plans}")
    over = session.drafted_over.get(plan.day)
    try:
        entry = write.commit_plan(session.ledger, plan, reason, over=over, **said(session))
    except OvertakenError as overtaken:
        session.drafted_over[plan.day] = overtaken.version.version
        raise LedgerError(_overtaken(session, overtaken.version, key)) from overtaken
    session.drafts.pop(plan.day, None)
    return tell(session, entry)


def _made(facts: Facts, plan: Plan) -> frozenset[str]:
    """The batches of a plan that are made already, and so no longer for it to refuse."""
    due = (batch.id for batch in plan.batches if batch_state(facts, batch, plan.day).stage is BatchStage.DUE)
    return frozenset(batch.id for batch in plan.batches) - frozenset(due)


def _overtaken(session: Session, by: PlanVersion, key: Key) -> str:
    who, clock = names.person_name(session.house, by.who), names.clock(session.house, by.at)
    return (
        f"{who} committed another plan for {day_name(by.day)} at {clock}: {key('changes')} compares yours "
        f"with it, {key('plan')} plans again from it, {key('commit')} commits yours over it"
    )


def pin(session: Session, day: date, place: "Pin") -> Told:
    """Hold a load of a plan to a place."""
    wanted = PinFacts(day, place.load, place.pit, place.zone, place.setpoint_c, place.at, place.pieces)
    return tell(session, write.pin_load(session.ledger, wanted, **said(session)))


def pin_here(session: Session, day: date, load: PlannedLoad) -> Told:
    """Hold a load of a plan where it is."""
    from board.planning.replan.pin import pin_of

    return pin(session, day, pin_of(load))


def unpin(session: Session, day: date, load: str) -> Told:
    """Let a load go where planning likes it best."""
    return tell(session, write.unpin_load(session.ledger, day, load, **said(session)))


def regroup(session: Session, day: date, wish: "Wish") -> Told:
    """Have the next plan of a day split a load, or join two."""
    from board.planning.replan.regroup import Split

    if isinstance(wish, Split):
        entry = write.split_load(session.ledger, day, wish.load, wish.pieces, wish.into, **said(session))
    else:
        entry = write.join_loads(session.ledger, day, wish.load, wish.other, **said(session))
    return tell(session, entry)


def undo(session: Session, vouched: Vouched | None = None) -> Told:
    """Take back the last thing this person recorded, and say what stands now.

    `vouched` is that they showed their PIN, where it was signed with one.

    Raises:
        LedgerError: nothing can be taken back; or, once, a plan was committed since, which never is.
    """
    committed = plan_since(session.ledger, session.who)
    if committed and committed != session.warned:
        session.warned = committed
        raise LedgerError(
            "the last you recorded is a committed plan, which is not taken back: plan again and commit "
            "another; once more takes back what came before it"
        )
    undone = write.undo_together(session.ledger, vouched=vouched, **said(session))
    facts = session.facts()
    says = sentence(facts, undone[-1])
    if undone[1:]:
        others = len(undone) - 1
        what = count(others, "temperature") if taken_back(undone[0]).kind == "reading" else f"{others} more"
        return Told(f"{says} and {what} entered with it", 0)
    stands = stands_now(facts, taken_back(undone[0]))
    return Told(f"{says}; {stands}" if stands else says, 0)
