"""The alarms of one board: kept up with the ledger, rung once each, listed, answered and put off."""

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from board.app.dialogs.alarms import ANSWER, GO, LOAD, PUT_OFF, AlarmsDialog
from board.views.alarm import Alarm
from board.views.alarm_answers import REASONS, PutOff, chosen, in_a_line, listen, loud, put_offs, several
from board.views.alarm_tables import alarms_table
from board.views.alarms import alarms
from board.views.alarms_of_clock import CLOCK
from board.views.alarms_of_probes import ASIDE
from board.views.checks import PREFIX
from board.views.do_next import due_now
from board.views.table import Table
from board.views.text import Cell, Tone
from board.views.warnings import warnings

if TYPE_CHECKING:
    from board.app.app import BoardApp


class Alarming:
    """What stands, what was heard of it on this board, and the questions about it."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board
        self._found: tuple[Alarm, ...] = ()
        self._heard: frozenset[str] | None = None  # nothing has been listened to yet

    @property
    def found(self) -> tuple[Alarm, ...]:
        """Every alarm there is, answered or not."""
        return self._found

    @property
    def loud(self) -> tuple[Alarm, ...]:
        """Those that nobody has answered or put off."""
        return loud(self._board.facts, self._found)

    def line(self) -> list[Cell]:
        """The worst of them in a line, and how many more."""
        return in_a_line(self.loud)

    def keep_up(self) -> None:
        """Look again, and ring for what is new.

        What stands when the board is first sure of its times is known to whoever started it.
        """
        board = self._board
        stood = {one.key: one.level for one in self._found}
        found = alarms(board.facts, board.revised, board.advising.worked_out, stood)
        self._found = (*board.clocking.alarm(), *found, *board.backing.alarms())
        if not board.revising:
            self._listen()
        if isinstance(board.screen, AlarmsDialog):
            board.screen.call_later(board.screen.show, self._table())  # once it is made

    def _listen(self) -> None:
        heard, is_new = listen(self._board.facts, self._found, self._heard or frozenset())
        if is_new and self._heard is not None and self._board.settings.bell:
            self._board.bell()
        self._heard = heard

    def open(self) -> None:
        """List the alarms."""
        self._board.push_screen(AlarmsDialog(self._table()), self._wanted)

    def _table(self) -> Table:
        facts = self._board.facts
        due = due_now(facts, self._board.revised)
        return alarms_table(facts, self._found, warnings(facts), due)

    async def _wanted(self, wanted: tuple[str, str] | None) -> None:
        """Do what was asked of an alarm."""
        what, key = wanted or ("", "")
        meant = chosen(self._board.facts, self._found, key)
        if not meant:
            return
        if what == ANSWER or (what == GO and meant[0].about):
            self._ask_why(meant)
        elif what == PUT_OFF:
            self._ask_until(meant)
        elif what == LOAD or (what == GO and meant[0].load and not meant[0].do):
            self._open_load(meant[0])
        elif what == GO:
            await self._see_to(meant[0])

    def _open_load(self, alarm: Alarm) -> None:
        if alarm.load:
            self._board.open_load(alarm.load)
        else:
            self._board.say("this alarm is about no load", Tone.CARE)

    async def _see_to(self, alarm: Alarm) -> None:
        """Do what settles an alarm, where a key does it."""
        if alarm.do == CLOCK:
            self._board.clocking.ask()
        elif alarm.do == ASIDE:
            self._board.probing.show_aside()
        elif alarm.do.startswith(PREFIX):
            self._board.keeping.do(alarm.do)
        elif alarm.do.startswith("place:"):
            self._board.ask_temperature(alarm.do)
        elif alarm.do:
            await self._board.go(alarm.do)

    def _ask_why(self, meant: Sequence[Alarm]) -> None:
        """Ask what was done; food outside its rule is answered one by one."""
        from board.app.dialogs.quick import Quick

        if len(meant) > 1 and any(alarm.about for alarm in meant):
            self._board.say("food outside its rule is answered line by line", Tone.CARE)
            return
        asks = "What was done about it?" if meant[0].about else "What do you say to it?"
        quick = Quick(asks, _told(meant), REASONS[meant[0].kind], free=True)
        self._board.push_screen(quick, partial(self._answered, meant))

    def _answered(self, meant: Sequence[Alarm], why: str | None) -> None:
        from board.app import alarm_acts

        if why:
            self._board.record(lambda: alarm_acts.answer(self._board.session, meant, why))

    def _ask_until(self, meant: Sequence[Alarm]) -> None:
        from board.app.dialogs.quick import Quick

        offered = put_offs(self._board.facts)
        quick = Quick("Put off for how long?", _told(meant), [one.name for one in offered])
        self._board.push_screen(quick, partial(self._put_off, meant, offered))

    def _put_off(self, meant: Sequence[Alarm], offered: Sequence[PutOff], name: str | None) -> None:
        from board.app import alarm_acts

        until = next((one.until for one in offered if one.name == name), None)
        if until is not None:
            self._board.record(lambda: alarm_acts.put_off(self._board.session, meant, until))


def _told(meant: Sequence[Alarm]) -> str:
    return meant[0].whole if len(meant) == 1 else several(meant[0].kind, len(meant))
