"""Many steps marked in one go, on the screen and in the ledger."""

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from board.app.acting import Told, ago, mark_at
from board.app.dialogs.many import ManyDialog, Ticked
from board.app.session import Session
from board.views import names
from board.views.marking import markable

if TYPE_CHECKING:
    from board.app.app import BoardApp

_TOLD = 3  # steps that are named one by one


class Marking:
    """Lets a person tick steps and marks them together."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    def open(self, chosen: str = "") -> None:
        """List what can be marked, the step under the cursor chosen."""
        steps = markable(self._board.facts, self._board.revised)
        clock = names.example_clock(self._board.session.house)
        self._board.push_screen(ManyDialog(steps, self._ago, clock, chosen), self._ticked)

    def _ago(self, typed: str) -> datetime:
        return ago(self._board.session, typed)

    def _ticked(self, found: Ticked | None) -> None:
        if found is not None:
            at = self._ago(found.when) if found.when else None
            self._board.record(lambda: mark_many(self._board.session, found.keys, at))


def mark_many(session: Session, keys: Sequence[str], at: datetime | None = None) -> Told:
    """Mark steps at one time, now where none is given, in one transaction that one undo takes back."""
    now = session.clock.now()
    with session.ledger.together():
        told = [mark_at(session, key, at or now) for key in keys]
    new = [one for one in told if one.entries]
    more = f" and {len(told) - _TOLD} more" if len(told) > _TOLD else ""
    when = f" at {names.clock(session.house, at)}" if at is not None else ""
    says = "; ".join(one.says for one in told[:_TOLD])
    many = f"{len(told)} marked{when}: " if len(told) > 1 else ""
    return Told(f"{many}{says}{more}{when if not many else ''}", 1 if new else 0)
