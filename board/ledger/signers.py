"""Who signs with a PIN: setting one, and showing that it is known, with tries that cannot be hurried.

A try is counted before it is looked at, and on disk, so that neither leaving the board nor many boards at
once give more of them. Wrong tries make the next one wait and never lock anybody out: the wait of one
person is not another's, and is at most a quarter of an hour.
"""

import unicodedata
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.errors import LedgerError
from board.ledger import typed
from board.ledger.append import append
from board.ledger.open import Ledger, Row
from board.ledger.scrypt import Cost, Kept, check_new, kept
from board.ledger.state import Entry
from board.ledger.times import moment, stamp

# Common practice, no source: a slip costs nothing, a thousand guesses take days.
FREE_TRIES = 5  # of one person before a wait
MANY_WRONG = 15  # of all persons in an hour: from then on each has one free try
RECENTLY = timedelta(hours=1)
FIRST_WAIT, LONGEST_WAIT = timedelta(minutes=1), timedelta(minutes=15)


@dataclass(frozen=True, slots=True)
class Vouched:
    """Somebody showed that they know their PIN: that of entry `seq`, after so many wrong tries."""

    who: str
    seq: int
    wrong: int


@dataclass(frozen=True, slots=True)
class Try:
    """One try, counted already: whose, what is kept of their PIN, and the wrong tries before it."""

    who: str
    seq: int
    kept: Kept
    wrong: int


def has_pin(ledger: Ledger, who: str) -> bool:
    """Whether this person has a PIN."""
    return ledger.row("SELECT 1 FROM signers WHERE who = ?", (_signer(who),)) is not None


def set_pin(
    ledger: Ledger,
    pin: str,
    old: Vouched | None = None,
    *,
    forgotten: bool = False,
    who: str,
    at: datetime,
    noted_at: datetime,
) -> Entry:
    """Set a person's PIN; the record says that it was set and whether the old one was known, never the PIN.

    Raises:
        LedgerError: one that is guessed first, or somebody who has a PIN and did not show it.
    """
    check_new(pin, who)
    new = kept(pin)
    with ledger.writing():
        said = typed.said(ledger, who, at, noted_at)
        known = old is not None and _signer(old.who) == _signer(said.who)
        had = _was_set(ledger, said.who)
        if had and not known and not forgotten:
            raise LedgerError(
                f"{said.who} has a PIN: give it, or --forgotten, which stands in the record from then on"
            )
        how = ("changed" if known else "forgotten") if had else "first"
        entry = append(ledger, said, "pin set", said.who, {"how": how})
        ledger.db.execute(
            """INSERT OR REPLACE INTO signers (who, seq, salt, hash, cost, block, lanes)
            VALUES (?, ?, ?, ?, ?, ?, ?)""",
            (_signer(said.who), entry.seq, new.salt, new.hash, new.cost.cost, new.cost.block, new.cost.lanes),
        )
        return entry


def show_pin(ledger: Ledger, who: str, pin: str, now: datetime) -> Vouched:
    """Show that a person knows their PIN.

    Raises:
        LedgerError: a wrong one, none set, or a wait that is not over.
    """
    one = begin_try(ledger, who, now)
    return end_try(ledger, one, right=one.kept.is_of(pin), now=now)


def check_may_try(ledger: Ledger, who: str, now: datetime) -> None:
    """Say before a PIN is asked for that it could not be tried now.

    Raises:
        LedgerError: no PIN is set, or a wait is not over.
    """
    _may_try(ledger, who, now)


def begin_try(ledger: Ledger, who: str, now: datetime) -> Try:
    """Count a try of a person's PIN; it is looked at by `kept.is_of`, which takes its time, and ended after.

    Raises:
        LedgerError: no PIN is set, or a wait is not over.
        RuntimeError: inside a transaction, whose end could take the count back.
    """
    if ledger.db.conn.in_transaction:
        raise RuntimeError("a try counts whatever becomes of what it is for")
    with ledger.writing():
        row = _may_try(ledger, who, now)
        ledger.db.execute(
            "UPDATE signers SET wrong = wrong + 1, wrong_at = ? WHERE who = ?", (stamp(now), row["who"])
        )
    cost = Cost(row["cost"], row["block"], row["lanes"])
    return Try(who, row["seq"], Kept(row["salt"], row["hash"], cost), row["wrong"])


def end_try(ledger: Ledger, one: Try, *, right: bool, now: datetime) -> Vouched:
    """What a try leads to: the count begins anew, or the wrong one stays counted.

    Raises:
        LedgerError: it was wrong; says when the next may be.
    """
    if not right:
        until = _waits_until(ledger, one.wrong + 1, stamp(now), now)
        when = f"; the next try is at {ledger.clock(until)}" if until else "; try again"
        raise LedgerError(f"that PIN is wrong{when}")
    with ledger.writing():
        ledger.db.execute(
            "UPDATE signers SET wrong = 0, wrong_at = NULL WHERE who = ? AND seq = ?",
            (_signer(one.who), one.seq),
        )
    return Vouched(one.who, one.seq, one.wrong)


def vouched_for(who: str, vouched: Vouched | None) -> dict[str, int]:
    """What a signed entry says of the PIN it was signed with: the entry that set it.

    Raises:
        LedgerError: the PIN shown was another person's.
    """
    if vouched is None:
        return {}
    if _signer(vouched.who) != _signer(who):
        raise LedgerError(f"the PIN shown was {vouched.who}'s, and {who} signs; sign with your own")
    return {"pin": vouched.seq}


def _may_try(ledger: Ledger, who: str, now: datetime) -> Row:
    """What is kept of a person's PIN, where they may try it now."""
    row = ledger.row("SELECT * FROM signers WHERE who = ?", (_signer(who),))
    if row is None:
        raise LedgerError(f"{who} has no PIN yet; set one in a terminal: board pin set '{who}'")
    until = _waits_until(ledger, row["wrong"], row["wrong_at"], now)
    if until is not None:
        raise LedgerError(f"wrong PINs were tried; the next try is at {ledger.clock(until)}")
    return row


def _was_set(ledger: Ledger, who: str) -> bool:
    """Whether the person ever had a PIN, by the record too: a lost table makes nobody new."""
    rows = ledger.rows("SELECT DISTINCT who FROM entries WHERE kind = 'pin set'")
    return has_pin(ledger, who) or any(_signer(row["who"]) == _signer(who) for row in rows)


def _waits_until(ledger: Ledger, wrong: int, wrong_at: str | None, now: datetime) -> datetime | None:
    """Until when the next try waits; None where it may be made.

    A last try that lies ahead was made under a wrong clock, and holds nobody up.
    """
    if wrong_at is None or moment(wrong_at) > now:
        return None
    since = stamp(now - RECENTLY)
    row = ledger.row("SELECT total(wrong) AS wrong FROM signers WHERE wrong_at >= ?", (since,))
    free = 1 if row is not None and row["wrong"] >= MANY_WRONG else FREE_TRIES
    if wrong < free:
        return None
    until = moment(wrong_at) + min(FIRST_WAIT * 2 ** min(wrong - free, 8), LONGEST_WAIT)
    return until if until > now else None


def _signer(who: str) -> str:
    """One person, however their name is typed: letters that are not seen make no second one."""
    seen = "".join(c for c in who if unicodedata.category(c) != "Cf")
    return " ".join(unicodedata.normalize("NFKC", seen).casefold().split())
