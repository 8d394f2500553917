"""What the keys of Service write: sales of one item or of all, an item sold out, an order handed over."""

from collections.abc import Mapping

from board.app.acting import Told, said, tell
from board.app.session import Session
from board.errors import BoardError, LedgerError
from board.ledger import read, write
from board.planning.plan import Plan
from board.views import names
from board.views.facts import Facts
from board.views.guidance import Key
from board.views.opening import next_occasion
from board.views.orders import find_order, to_collect
from board.views.text import inert

_MOST_DIGITS = 5


def portions(typed: str) -> int:
    """A whole number of portions; raises BoardError for anything else."""
    text = typed.strip()
    if not text.isascii() or not text.isdigit() or len(text) > _MOST_DIGITS:
        raise BoardError("type a number of portions, such as 12")
    return int(text)


def sell(session: Session, facts: Facts, item: str, number: int) -> Told:
    """Record portions sold at the service now or next."""
    plan, occasion = _serving(facts)
    return tell(session, write.sell(session.ledger, plan.day, occasion, item, number, **said(session)))


def sell_many(session: Session, facts: Facts, numbers: Mapping[str, int]) -> Told:
    """Record portions sold of several items, in one transaction that one undo takes back."""
    plan, occasion = _serving(facts)
    sold = {item: number for item, number in numbers.items() if number > 0}
    if not sold:
        raise LedgerError("nothing was typed; nothing is recorded")
    given = said(session)
    with session.ledger.together():
        for item, number in sold.items():
            write.sell(session.ledger, plan.day, occasion, item, number, **given)
    says = [names.portions(session.house, item, number) for item, number in sold.items()]
    return Told(f"{names.listed(says)} sold")


def sold_out(session: Session, facts: Facts, item: str) -> Told:
    """Mark an item sold out at the service now or next; where it is, take that back: there is more."""
    plan, occasion = _serving(facts)
    if (plan.day, occasion, item) not in facts.sold_out:
        return tell(session, write.sold_out(session.ledger, plan.day, occasion, item, **said(session)))
    entry = read.sold_out_entry(session.ledger, plan.day, occasion, item)
    if entry is not None:
        write.undo(session.ledger, entry.seq, **said(session))
    return Told(f"{names.item_name(session.house, item)} is on again", 0)


def hand_over(session: Session, facts: Facts, order_id: str, key: Key) -> Told:
    """Record that an order is handed over: what is left of it is sold to it, in one transaction."""
    plan, _ = _serving(facts)
    order = find_order(plan, order_id)
    if order is None:
        raise LedgerError("choose an order first")
    left, given = to_collect(facts, plan, order), said(session)
    if not left:
        takes_back = f"{key('undo')} takes back what you recorded last"
        raise LedgerError(f"{inert(order.name)} has it all; {takes_back}")
    with session.ledger.together():
        for item, number in left.items():
            write.sell(session.ledger, plan.day, order.id, item, number, **given)
    says = [names.portions(session.house, item, number) for item, number in left.items()]
    return Told(f"{names.listed(says)} handed over to {inert(order.name)}")


def _serving(facts: Facts) -> tuple[Plan, str]:
    coming = next_occasion(facts)
    if coming is None:
        raise LedgerError("no service is planned; plan the day first")
    return coming[0], coming[1].id
