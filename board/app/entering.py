"""Entering readings and the true time of what was entered: what is asked, and what is then recorded."""

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from board.app import acting
from board.app.dialogs.ask import Ask
from board.app.dialogs.temperature import AT, TemperatureDialog, Typed
from board.app.dialogs.temperatures import Many, TemperaturesDialog
from board.app.typed import temperature_c
from board.house.degrees import degree_sign
from board.ledger import read
from board.ledger.state import Entry
from board.ledger.typed import temperature
from board.views import names
from board.views.days import when
from board.views.happened import sentence
from board.views.measuring import doubt, places, whole_figure
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp


class Entering:
    """The readings and times of one board."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    @property
    def _unit(self) -> str:
        return degree_sign(self._board.session.house.display)

    def one(self, place: str) -> None:
        """Ask for a temperature, the place under the cursor already."""
        board = self._board
        choices = places(board.facts, board.revised)
        whole, clock = partial(whole_figure, board.facts), names.example_clock(board.session.house)
        dialog = TemperatureDialog(choices, place, self._unit, self._typed, whole, clock=clock)
        board.push_screen(dialog, self._take_one)

    def _typed(self, text: str) -> Typed:
        """Degrees, and after an @ when they were read."""
        figure, at, ago = text.partition(AT)
        celsius = temperature(temperature_c(figure, self._board.session.house.display))
        return Typed(celsius, acting.ago(self._board.session, ago) if at else None)

    def _take_one(self, reading: tuple[str, Typed] | None) -> None:
        if reading:
            place, typed = reading
            session = self._board.session
            self._board.record(lambda: acting.take_reading(session, place, typed.celsius, typed.at))

    def many(self) -> None:
        """Ask for the temperatures of all that may be measured."""
        board = self._board
        choices = places(board.facts, board.revised)
        doubts, whole = partial(doubt, board.facts), partial(whole_figure, board.facts)
        dialog = TemperaturesDialog(choices, self._unit, self._typed, doubts, whole)
        board.push_screen(dialog, self._take_many)

    def _take_many(self, readings: Many | None) -> None:
        if readings:
            taken = [(place, typed.celsius, typed.at) for place, typed in readings]
            self._board.record(lambda: acting.take_readings(self._board.session, taken))

    def put_time_right(self) -> None:
        """Ask when the last thing that this person entered truly happened."""
        board = self._board
        session = board.session
        last = read.last_timed(session.ledger, session.who)
        if not last:
            board.say("nothing of yours has a time to put right", Tone.CARE)
            return
        says = sentence(board.facts, last[0]) + (f" and {len(last) - 1} more" if last[1:] else "")
        at = when(board.facts, last[0].noted_at)
        such_as = f"10, 1 h 10, or {names.example_clock(session.house)}"
        ask = Ask(
            "Put the time right",
            f"{says}; written {at}. How long ago was it? Such as {such_as}",
            check=partial(acting.ago, session),
        )
        board.push_screen(ask, partial(self._put, last))

    def _put(self, entries: Sequence[Entry], typed: str | None) -> None:
        session = self._board.session
        if typed:
            at = acting.ago(session, typed)
            self._board.record(lambda: acting.put_time_right(session, entries, at))
