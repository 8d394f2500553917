"""Closing a service: what is left was served, is cooled, thrown away or held on, one after another."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from board.app import watch_acts
from board.app.acting import Told, said, tell
from board.app.dialogs.ask import Ask
from board.app.dialogs.pick import Choice, Pick
from board.app.session import Session
from board.app.typed import mass_kg
from board.errors import LedgerError
from board.ledger import write
from board.ledger.state import LoadStage
from board.views.facts import Facts, load_of, load_state
from board.views.leftovers import Leftover, leftovers
from board.views.reference import parts
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp

_SERVED = Choice("served", "it was served", "nothing of it is left")
_READ = Choice("read", "read it first", "its temperature is asked")
_COOL = Choice("cool", "cool it", "its checkpoints are watched from now")
_AWAY = Choice("away", "throw it away", "its weight is asked")
_HOLD = Choice("hold", "keep holding it", "it stands in the hold, and its readings stay due")


class Closing:
    """The questions at the end of a service."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    def open(self) -> None:
        """List what is left."""
        left = leftovers(self._board.facts)
        if not left:
            cools = f"{self._board.keymap.key('cool')} cools what is left of a load"
            self._board.say(f"nothing is left of what is over; {cools}", Tone.CARE)
            return
        choices = [Choice(one.key, one.name, f"{one.about}, {one.read}") for one in left]
        known = {one.key: one for one in left}
        self._board.push_screen(Pick("What is left", choices), partial(self._what, known))

    def _what(self, known: dict[str, Leftover], key: str | None) -> None:
        if key:
            self._ask(known[key])

    def ask(self, key: str) -> None:
        """Ask what became of what is left of one load; of which, where none is named."""
        if not key:
            self.open()
        for one in leftovers(self._board.facts):
            if one.key == key:
                self._ask(one)

    def _ask(self, one: Leftover) -> None:
        ways = [_COOL, _AWAY, *(() if one.is_held else (_HOLD,)), _SERVED, _READ]
        self._board.push_screen(Pick(f"{one.name}, {one.read}; {one.todo}", ways), partial(self._do, one.key))

    def _do(self, key: str, what: str | None) -> None:
        board = self._board
        if what == "read":
            board.ask_temperature(f"load:{key}")
        elif what == "away":
            unit = board.session.house.display.mass
            ask = Ask("Throw away", f"How much does it weigh, in {unit}?", check=self._kg)
            board.push_screen(ask, partial(self._away, key))
        elif what == "cool":
            self._record_and_go_on(lambda: watch_acts.cool_leftovers(board.session, board.facts, key))
        elif what == "hold":
            self._record_and_go_on(lambda: mark(board.session, key, LoadStage.HOLDING))
        elif what == "served":
            self._record_and_go_on(lambda: mark(board.session, key, LoadStage.SERVED))

    def _kg(self, typed: str) -> float:
        """What was typed in kilograms: a bare number is in the house's unit."""
        return mass_kg(typed, self._board.session.house.display.mass)

    def _away(self, key: str, typed: str | None) -> None:
        board = self._board
        if typed:
            kg = self._kg(typed)
            self._record_and_go_on(lambda: throw_away(board.session, board.facts, key, kg))

    def _record_and_go_on(self, act: Callable[[], Told]) -> None:
        """Record it, and show what is left then."""
        self._board.record(act)
        if leftovers(self._board.facts):
            self.open()


def mark(session: Session, key: str, stage: LoadStage) -> Told:
    """Mark what is left of a load as held, or as served."""
    entry = write.mark_load(session.ledger, parts(key)[1], stage, **said(session))
    return tell(session, entry)


def throw_away(session: Session, facts: Facts, key: str, kg: float) -> Told:
    """Mark what is left of a load as thrown away, with its weight: served where some was sold, else lost."""
    found = load_of(facts, key)
    if found is None:
        raise LedgerError("this load is in no plan any more")
    plan, load = found
    state = load_state(facts, load, plan.day)
    stage = LoadStage.SERVED if state.portions_left < state.portions else LoadStage.LOST
    entry = write.mark_load(session.ledger, load.id, stage, thrown_kg=kg, **said(session))
    return tell(session, entry)
