"""This machine's clock on one board: whether it is doubted, which is right, and what a wrong one wrote."""

from datetime import datetime, timedelta
from functools import partial
from typing import TYPE_CHECKING

from board.app.clock import BoardClock
from board.errors import LedgerError
from board.house.calendar import zone
from board.ledger.clock_right import timed
from board.ledger.clocks import Doubt
from board.ledger.doubtful import disagrees, expected, said_right
from board.ledger.state import RightClock
from board.ledger.when import moment_meant
from board.views import names
from board.views.alarm import Alarm
from board.views.alarms_of_clock import Apart, choices, clock_alarm

if TYPE_CHECKING:
    from board.app.app import BoardApp


class Clocking:
    """What a board makes of its machine's clock; a clock that is set for show is never doubted."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board
        self._noticed: datetime | None = None
        self._words = said_right(board.session.ledger)

    def noticed(self) -> bool:
        """Whether the machine's clock was set, or set right, since this was last asked."""
        clock = self._board.session.clock
        since = clock.apart_since if isinstance(clock, BoardClock) else None
        is_new, self._noticed = since != self._noticed, since
        return is_new

    @property
    def apart(self) -> Apart | None:
        """How the machine's clock differs from the board's time or the last entry; None where it does not."""
        clock, ledger = self._board.session.clock, self._board.session.ledger
        if not isinstance(clock, BoardClock):
            return None
        now = clock.now()
        if clock.apart_since is not None:
            return Apart(now + clock.apart, now, clock.apart_since)
        found = disagrees(ledger, now)
        if found is None or found.is_set:
            return None
        return Apart(now, found.expected, found.expected, is_last_entry=True)

    def hear(self) -> None:
        """Go by what was said of the clock on any board, or taken back."""
        clock, ledger = self._board.session.clock, self._board.session.ledger
        words = said_right(ledger)
        if words != self._words and isinstance(clock, BoardClock) and (right := expected(ledger)):
            clock.go_on_from(right)
        self._words = words

    def alarm(self) -> tuple[Alarm, ...]:
        """The alarm about it, if there is one."""
        apart = self.apart
        return () if apart is None else (clock_alarm(self._board.session.house, apart),)

    def doubting(self, error: LedgerError) -> LedgerError:
        """An error with a word that the clock looks wrong, where it does."""
        if self.apart is None or type(error) is not LedgerError:
            return error
        return LedgerError(
            f"{error}; this machine's clock looks wrong, {self._board.keymap.key('alarms')} tells"
        )

    def ask(self) -> None:
        """Ask which time is right."""
        from board.app.dialogs.quick import Quick

        apart = self.apart
        if apart is None:
            self._board.say("this machine's clock is right again")
            return
        answers = choices(self._board.session.house, apart)
        asks = Quick("Which time is right?", clock_alarm(self._board.session.house, apart).says, [*answers])
        self._board.push_screen(asks, lambda said: self._settle(answers.get(said or "")))

    def _settle(self, right: RightClock | None) -> None:
        """Record which is right, go by it, and offer to put right what the other wrote."""
        from board.app import clock_acts

        apart = self.apart
        if right is None or apart is None:
            return
        self._board.record(partial(clock_acts.settle, self._board.session, apart, right))
        for doubt in clock_acts.of_this_boot(self._board.session):
            self.offer_times_right(doubt)

    def offer_times_right(self, doubt: Doubt) -> None:
        """Offer to put right all times that a wrong clock wrote; asks by how much where nobody knows."""
        from board.app import clock_acts
        from board.app.dialogs.ask import Ask
        from board.app.dialogs.confirm import Confirm
        from board.views.clock_words import stretch_told

        board, ahead = self._board, doubt.ahead
        says = stretch_told(board.facts, doubt, timed(board.session.ledger, doubt))
        if ahead is None:
            clock = names.example_clock(board.session.house)
            such_as = f"{clock}, or {board.facts.today} {clock}"
            asks = f"{says[0]} When did the first of them truly happen? Such as {such_as}"
            board.push_screen(Ask("Put the times right", asks, check=partial(self._put_first, doubt)))
            return

        def put(sure: bool | None) -> None:
            if sure:
                board.record(partial(clock_acts.put_times_right, board.session, doubt, ahead))

        board.push_screen(Confirm("Put the times right", says, "puts them right"), put)

    def _put_first(self, doubt: Doubt, typed: str) -> None:
        """Put a stretch right by the time of its first entry."""
        from board.app import clock_acts

        session = self._board.session
        first_at = moment_meant(typed, zone(session.house), session.clock.now())
        left = timed(session.ledger, doubt)
        ahead = left[0].at - first_at if left else timedelta(0)
        self._board.write(partial(clock_acts.put_times_right, session, doubt, ahead))
