"""Splitting a load or joining two: what it would do shows along the foot, Enter has the next plan do it."""

from abc import abstractmethod
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.events import Key

from board.app.dialogs.docked import Docked
from board.planning.plan import Plan, PlannedLoad
from board.planning.replan.regroup import Join, Wish, regrouped
from board.planning.replan.regroupable import split_of
from board.views.facts import Facts
from board.views.regrouping import regroup_effect

if TYPE_CHECKING:
    from board.planning.replan.desk import Desk

Told = Callable[[Plan], None]


class RegroupDialog(Docked["Wish"]):
    """A wish to regroup loads; the plan as it is and as it would be are laid open to tell them apart."""

    BINDINGS: ClassVar[list[BindingType]] = [("enter", "take", "take it")]

    def __init__(self, facts: Facts, plan: Plan, load: PlannedLoad, *, lay: Told, tell: Told) -> None:
        """`lay` has a plan laid open, `tell` is told of the plan as it would be."""
        super().__init__(plan)
        self.facts, self.plan, self.load_now = facts, plan, load
        self._lay, self._tell = lay, tell
        self._before: Desk | None = None
        self._then = plan
        self._after: tuple[Plan, Desk] | None = None

    @abstractmethod
    def wish(self) -> Wish:
        """What is wished as it stands."""

    def on_mount(self) -> None:
        """Lay the plan open as it is, and as it would be."""
        super().on_mount()
        self._lay(self.plan)
        self.try_it()

    def lay_open(self, plan: Plan, desk: "Desk") -> None:
        """Tell what the wish does once both plans are laid open."""
        if plan is self.plan:
            self._before = desk
        elif plan is self._then:
            self._after = (plan, desk)
        self._show()

    def try_it(self) -> None:
        """Draw the wish at once; its figures follow."""
        self._then = regrouped(self.plan, [self.wish()])
        self._tell(self._then)
        self._lay(self._then)
        self._show()

    def _show(self) -> None:
        if self._before is None or self._after is None or self._after[0] is not self._then:
            return
        view = regroup_effect(self.facts, self.plan, self.wish(), self._before, self._after[1])
        self.say(view.heading)
        self.fill(view)

    def action_take(self) -> None:
        """Have the next plan do it."""
        self.dismiss(self.wish())


class SplitDialog(RegroupDialog):
    """How many pieces of a load go in a load of their own."""

    HINT = "← → or digits: how many go   Enter splits it so   Esc leaves"
    BINDINGS: ClassVar[list[BindingType]] = [
        ("left,minus", "more(-1)", "one fewer"),
        ("right,plus,equals_sign", "more(1)", "one more"),
    ]

    def __init__(self, facts: Facts, plan: Plan, load: PlannedLoad, *, lay: Told, tell: Told) -> None:
        super().__init__(facts, plan, load, lay=lay, tell=tell)
        self._pieces, self._typed = load.pieces // 2, ""

    def wish(self) -> Wish:
        """So many pieces go."""
        return split_of(self.facts.house, self.plan, self.load_now.id, self._pieces)

    def on_key(self, event: Key) -> None:
        """Digits say how many go."""
        if event.character is not None and event.character in "0123456789":
            event.stop()
            self._typed += event.character
            if not 1 <= int(self._typed) < self.load_now.pieces:
                self._typed = event.character
            self._go(int(self._typed))

    def action_more(self, by: int) -> None:
        """One more goes, or one fewer."""
        self._typed = ""
        self._go(self._pieces + by)

    def _go(self, pieces: int) -> None:
        if 1 <= pieces < self.load_now.pieces:
            self._pieces = pieces
            self.try_it()


class JoinDialog(RegroupDialog):
    """Which other load is cooked with a load."""

    HINT = "↑ ↓ which other load   Enter joins them   Esc leaves"
    BINDINGS: ClassVar[list[BindingType]] = [
        ("up,left", "other(-1)", "the one before"),
        ("down,right", "other(1)", "the next one"),
    ]

    def __init__(
        self,
        facts: Facts,
        plan: Plan,
        load: PlannedLoad,
        *,
        others: Sequence[str],
        lay: Told,
        tell: Told,
    ) -> None:
        super().__init__(facts, plan, load, lay=lay, tell=tell)
        self._others, self._at = others, 0

    def wish(self) -> Wish:
        """The one that is chosen is cooked with it."""
        return Join(self.load_now.id, self._others[self._at])

    def action_other(self, by: int) -> None:
        """Choose another load."""
        if len(self._others) > 1:
            self._at = (self._at + by) % len(self._others)
            self.try_it()
