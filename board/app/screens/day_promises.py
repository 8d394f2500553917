"""What a day promises, changed in the list itself: numbers, times, orders taken and struck."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial

from board.app import acting
from board.app.acting import Told
from board.app.dialogs.ask import Ask
from board.app.dialogs.pick import Choice, Pick
from board.app.screens.day_trying import DayTrying
from board.app.selling import portions
from board.app.widgets.promises import TIME, PromisesPanel
from board.errors import BoardError
from board.views import names
from board.views.empty_day import nothing_planned
from board.views.promises import Typing, clock_typed, orderable, said_of
from board.views.text import Tone


class DayPromises(DayTrying):
    """A view of one day's plan whose promises are changed in place."""

    def fill_promises(self) -> None:
        """Show what is promised."""
        panel = self.query_one("#promises", PromisesPanel)
        panel.take = self._take_typed
        panel.fill(self._view.promises if self._view else ())

    def change_promise(self) -> None:
        """Open the number of the chosen promise."""
        self.query_one("#promises", PromisesPanel).edit()

    def _take_typed(self, typing: Typing) -> bool:
        """Record what was typed in a line; whether it can be, else why not is said."""
        service, item = typing.key.split("/", 1)
        session, day = self.board.session, self.day
        try:
            if typing.field == TIME:
                due = clock_typed(session.house, day, typing.text)
                self._changed(lambda: acting.put_due(session, day, service, due))
            else:
                number = portions(typing.text)
                self._changed(lambda: acting.promise(session, day, service, item, number), item)
        except BoardError as error:
            self.board.say(str(error), Tone.LATE)
            return False
        return True

    def _changed(self, act: Callable[[], Told], item: str = "") -> None:
        """Record a change of the promises, and tell at once what it does to the meat."""

        def told() -> Told:
            what = act()
            facts = self.board.session.facts()
            plan = self.draft or facts.plans.get(self.day) or nothing_planned(facts, self.day)
            meat = said_of(facts, plan, item) if item else ""
            then = f"{self.key('plan')} plans again with it"
            return Told("; ".join(filter(None, (what.says, meat, then))), what.entries)

        self.board.record(told)

    def on_promises_panel_strike(self, message: PromisesPanel.Strike) -> None:
        """Strike an order; a service is not struck."""
        message.stop()
        line, session, day = message.line, self.board.session, self.day
        if not line.is_order:
            self.board.say("a service is not struck: Enter and 0 takes an item off it", Tone.CARE)
            return
        self._changed(lambda: acting.strike(session, day, line.service))

    def on_promises_panel_add(self, message: PromisesPanel.Add) -> None:
        """Ask for an order: who, what, how many, when."""
        message.stop()
        self.app.push_screen(Ask("New order", "Who is it for?"), self._ask_item)

    def _ask_item(self, name: str | None) -> None:
        if name:
            choices = [Choice(*each) for each in orderable(self.board.facts.house)]
            self.app.push_screen(Pick(f"What for {name}?", choices), partial(self._ask_number, name))

    def _ask_number(self, name: str, item: str | None) -> None:
        if item:
            what = names.item_name(self.board.facts.house, item)
            ask = Ask("New order", f"How many {what} for {name}?", check=_some)
            self.app.push_screen(ask, partial(self._ask_time, name, item))

    def _ask_time(self, name: str, item: str, typed: str | None) -> None:
        if typed:
            check = partial(clock_typed, self.board.session.house, self.day)
            ask = Ask("New order", f"When does {name} collect it?", check=check)
            self.app.push_screen(ask, partial(self._ordered, name, item, portions(typed)))

    def _ordered(self, name: str, item: str, number: int, typed: str | None) -> None:
        if typed:
            session, day = self.board.session, self.day
            due: datetime = clock_typed(session.house, day, typed)
            self._changed(lambda: acting.take_order(session, day, name, due, (item, number)), item)


def _some(typed: str) -> int:
    number = portions(typed)
    if number < 1:
        raise BoardError("an order is for one at least: type a number such as 12")
    return number
