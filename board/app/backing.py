"""The backups that a board sees to by itself, beside its keys: the day's, and its copy off the machine."""

from datetime import datetime, timedelta
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

from textual.message import Message

from board.app.clock import BoardClock
from board.house.folder import folder_meant
from board.ledger import read
from board.ledger.backups.daily import Stands, keep_backed_up
from board.ledger.state import Entry
from board.views.alarm import Alarm
from board.views.alarms_of_backups import backup_alarms
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp

AGAIN = timedelta(minutes=15)  # after what could not be done, such as a stick that is not in


class BackedUp(Message):
    """How the backups stand after a look."""

    def __init__(self, stands: Stands) -> None:
        super().__init__()
        self.stands = stands


class Backing:
    """What one board does for its ledger's backups; one whose clock is set for show does nothing."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board
        self._stands = Stands()
        self._failing_since: datetime | None = None
        self._next: datetime | None = None
        self.is_busy = False
        self._restored = self._last_restored()

    def keep_up(self) -> None:
        """See to what is due, in a thread with a connection of its own."""
        session = self._board.session
        now = session.clock.now()
        if not isinstance(session.clock, BoardClock) or self.is_busy or (self._next and now < self._next):
            return
        self.is_busy, self._next = True, now + AGAIN
        to = self._board.settings.backup_to
        place = folder_meant(to) if to else None
        Thread(target=self._look, args=(session.ledger.path, place, now), daemon=True).start()

    def look_now(self) -> None:
        """See to it without waiting, as after a folder was named."""
        self._next = None
        self.keep_up()

    def tell_restored(self) -> None:
        """Say that a backup was restored under this board, once for each time."""
        last = self._last_restored()
        if last is not None and (self._restored is None or last.seq != self._restored.seq):
            from board.views.happened import sentence

            self._board.say(
                f"{sentence(self._board.facts, last)}; look what is to be recorded again", Tone.CARE
            )
        self._restored = last

    def _last_restored(self) -> Entry | None:
        found = read.entries(self._board.session.ledger, kinds=["restored"], limit=1)
        return found[0] if found else None

    def _look(self, ledger: Path, to: Path | None, now: datetime) -> None:
        """In its own thread: tells the application, touches nothing else."""
        stands = Stands(problem="the backups could not be looked at")
        try:
            stands = keep_backed_up(ledger, to, now)
        finally:
            self._board.post_message(BackedUp(stands))

    def took_in(self, message: BackedUp) -> None:
        """Keep how they stand."""
        self._stands, self.is_busy = message.stands, False
        now = self._board.session.clock.now()
        self._failing_since = (self._failing_since or now) if self._stands.problem else None

    def alarms(self) -> tuple[Alarm, ...]:
        """What is wrong with them."""
        return tuple(backup_alarms(self._board.facts, self._stands, self._failing_since))
