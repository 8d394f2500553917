"""What somebody is about to sign: how much the record of a day has, and what in it was not answered."""

from datetime import date, timedelta

from board.house.calendar import day_bounds
from board.house.wording import count, day_name
from board.ledger import read
from board.ledger.open import Ledger
from board.ledger.signers import Vouched
from board.views import names
from board.views.facts import Facts
from board.views.record import Kind, record


def to_sign(ledger: Ledger, facts: Facts, day: date, who: str) -> tuple[str, ...]:
    """The day, its entries and people, what failed, and what signing means, in sentences."""
    since, until = day_bounds(day, facts.house.zone)
    entries = read.entries(ledger, since=since, until=min(until, facts.now + timedelta(minutes=1)))
    people = {entry.who for entry in entries}
    failed = record(ledger, facts, Kind.FAILED, day=day).lines
    open_ones = sum(any("nothing is written" in text for text in line.below) for line in failed)
    unanswered = (
        f"{count(open_ones, 'line')} of what failed with nothing written of what was done"
        if open_ones
        else "nothing that failed is unanswered"
    )
    so_far = " so far; the day is not over" if until > facts.now else ""
    return (
        f"{day_name(day)}: {count(len(entries), 'entry')} by {count(len(people), 'person')}{so_far}",
        unanswered[:1].upper() + unanswered[1:],
        f"{names.person_name(facts.house, who)} signs that this was looked over; the digest is kept",
    )


def wrong_before(vouched: Vouched | None) -> str:
    """A word on the wrong PINs tried since the last right one, so that guessing is seen; empty for none."""
    if vouched is None or not vouched.wrong:
        return ""
    were = "1 wrong PIN was" if vouched.wrong == 1 else f"{vouched.wrong} wrong PINs were"
    return f"; {were} tried before"
