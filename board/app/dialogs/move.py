"""Trying a load elsewhere: keys move it, its chances and costs show at once, Enter pins it there."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from board.app.dialogs.docked import Docked
from board.errors import BoardError
from board.planning.plan import Plan, PlannedLoad
from board.views import names
from board.views.facts import Facts
from board.views.guidance import Key
from board.views.pinning import move, tried_plan

if TYPE_CHECKING:
    from board.planning.replan.desk import Desk
    from board.planning.replan.pin import Pin
    from board.planning.replan.what_if import WhatIf


class MoveDialog(Docked["Pin"]):
    """A load of a plan and where it would go; the plan stays as it is until it is planned again."""

    HINT = "← → 5 min   , . 1 h   ↑ ↓ pit   + - pieces   Enter pins it there   Esc leaves"
    BINDINGS: ClassVar[list[BindingType]] = [
        ("enter", "pin", "pin it there"),
        ("left", "shift(-5)", "5 min earlier"),
        ("right", "shift(5)", "5 min later"),
        ("less_than_sign,comma", "shift(-60)", "1 h earlier"),
        ("greater_than_sign,full_stop", "shift(60)", "1 h later"),
        ("up", "pit(-1)", "pit before"),
        ("down", "pit(1)", "next pit"),
        ("plus,equals_sign", "pieces(1)", "a piece more"),
        ("minus", "pieces(-1)", "a piece fewer"),
    ]

    def __init__(
        self, facts: Facts, plan: Plan, load: PlannedLoad, tell: Callable[[Plan], None], key: Key
    ) -> None:
        """`tell` is told of the plan as it would be, each time something is tried."""
        super().__init__(plan)
        self._facts, self._plan, self._load_now, self._tell = facts, plan, load, tell
        self._key = key
        self._desk: Desk | None = None
        self._pin: Pin | None = None
        self._pieces = 0
        self._tried: WhatIf | None = None
        self._pressed: list[Callable[[], None]] | None = []  # before there is a desk; None once they are done

    def lay_open(self, plan: Plan, desk: "Desk") -> None:
        """Begin with the load where it is."""
        from board.planning.replan.pin import pin_of

        if self._load_now.id not in desk.parts:
            self._pressed = None
            self.say("Its preparation has begun, or it has no place: it stays as it is.")
            return
        self._desk, self._pin, self._pieces = desk, pin_of(self._load_now), self._load_now.pieces
        pressed, self._pressed = self._pressed or (), None
        self._try()
        for act in pressed:
            act()

    def _waits(self, act: Callable[[], None]) -> bool:
        """Keep what was pressed before the plan is laid open, to be done then; whether it was kept."""
        if self._pressed is None:
            return False
        self._pressed.append(act)
        return True

    def _try(self) -> None:
        from board.planning.replan.what_if import what_if

        if self._desk is None or self._pin is None:
            return
        try:
            self._tried = what_if(self._desk, self._pin, pieces=self._pieces)
        except BoardError as error:
            self._tried = None
            self.say(str(error))
            self.fill(None)
            return
        view = move(self._facts, self._plan, self._tried)
        self.say(view.heading + self._rest())
        self.fill(view)
        self._tell(tried_plan(self._plan, self._tried))

    def _rest(self) -> str:
        """What becomes of the pieces that are not moved with it."""
        rest = self._load_now.pieces - self._pieces
        if rest <= 0:
            return ""
        left = names.of_cut(self._facts.house, self._load_now.cut, rest)
        return f"; the other {left} find a place when it is planned again"

    def action_shift(self, minutes: int) -> None:
        """Load it earlier or later."""
        if not self._waits(partial(self.action_shift, minutes)) and self._pin is not None:
            self._pin = replace(self._pin, at=self._pin.at + timedelta(minutes=minutes))
            self._try()

    def action_pit(self, by: int) -> None:
        """Try the next pit or zone that takes its cut, at a setpoint it is offered there."""
        if self._waits(partial(self.action_pit, by)) or self._desk is None or self._pin is None:
            return
        spots = self._spots()
        here = (self._pin.pit, self._pin.zone)
        at = spots.index(here) if here in spots else 0
        pit, zone = spots[(at + by) % len(spots)]
        self._pin = replace(self._pin, pit=pit, zone=zone, setpoint_c=None)
        self._try()

    def _spots(self) -> list[tuple[str, str | None]]:
        """The pits and zones the load could be on, as the house lists them."""
        assert self._desk is not None
        frame, part = self._desk.problem.frame, self._desk.part(self._load_now.id)
        spots = {mode.spot: frame.spots[mode.spot] for mode in part.modes}
        return [(spot.pit, id.partition("/")[2] or None) for id, spot in spots.items()]

    def action_pieces(self, by: int) -> None:
        """Try it with more or fewer pieces."""
        if not self._waits(partial(self.action_pieces, by)) and self._pieces + by >= 1:
            self._pieces += by
            self._try()

    def action_pin(self) -> None:
        """Pin it there, unless that breaks a rule."""
        if self._waits(self.action_pin) or self._tried is None:
            return
        if self._tried.broken:
            self.say(f"It cannot be pinned there: {self._tried.broken[0].says}")
            return
        if self._tried.pieces > self._load_now.pieces:
            changes = f"Esc, then {self._key('promises')} changes that"
            self.say(f"More pieces are cooked when more is promised: {changes}.")
            return
        some = self._tried.pieces if self._tried.pieces < self._load_now.pieces else None
        self.dismiss(replace(self._tried.pin, pieces=some))
