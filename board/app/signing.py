"""Signing, and taking a signature back: by a PIN where the house asks for one."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from board.app import acting
from board.app.acting import Told, said, tell
from board.app.session import Session
from board.house.calendar import day_bounds
from board.ledger import write
from board.ledger.signers import Vouched, check_may_try
from board.views.signing import wrong_before

if TYPE_CHECKING:
    from board.app.app import BoardApp

Then = Callable[[Vouched | None], None]


def vouch(board: "BoardApp", does: str, then: Then) -> None:
    """Go on once a PIN was shown, where the house asks for one; else at once.

    Raises:
        LedgerError: no PIN is set, or wrong ones make the next try wait.
    """
    if board.session.house.signs_with_pin:
        ask_pin(board, does, then)
    else:
        then(None)


def ask_pin(board: "BoardApp", does: str, then: Then) -> None:
    """Ask the PIN of whoever is at the keys, and go on once it was shown.

    Raises:
        LedgerError: no PIN is set, or wrong ones make the next try wait.
    """
    from board.app.dialogs.pin import PinDialog

    session = board.session
    check_may_try(session.ledger, session.who, session.clock.now())

    def shown(vouched: Vouched | None) -> None:
        if vouched is not None:
            then(vouched)

    board.push_screen(PinDialog(session, does), shown)


def sign(session: Session, day: date, vouched: Vouched | None) -> Told:
    """Sign the record of a day."""
    since, until = day_bounds(day, session.house.zone)
    told = tell(session, write.sign(session.ledger, since, until, vouched=vouched, **said(session)))
    return replace(told, says=told.says + wrong_before(vouched))


def undo(board: "BoardApp") -> None:
    """Take back this person's last entry; one signed with a PIN asks for it."""
    from board.ledger.undo import last_undoable

    last = last_undoable(board.session.ledger, board.session.who)
    if last is None or "pin" not in last.data:
        board.record(lambda: acting.undo(board.session))
        return

    def take_back(vouched: Vouched | None) -> None:
        board.record(lambda: acting.undo(board.session, vouched))

    ask_pin(board, "takes back what was signed", take_back)
