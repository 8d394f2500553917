"""What the day's plan is short of, and its cures tried by one key."""

from __future__ import annotations

from functools import partial

from board.app import acting
from board.app.acting import Told
from board.app.dialogs.cures import CuresDialog
from board.app.screens.day_promises import DayPromises
from board.planning.plan import Offer
from board.views.cures import Lacking, lackings, short_of
from board.views.text import Tone


class DayCures(DayPromises):
    """A view of one day's plan from whose shortages a cure can be tried."""

    def action_cures(self) -> None:
        """List what is short with its cures."""
        plan = self.draft or self.board.facts.plans.get(self.day)
        if plan is None:
            self.board.say(f"this day is not planned yet: {self.key('plan')} plans it", Tone.CARE)
            return
        found = lackings(self.board.facts, plan)
        if not found:
            says = short_of(self.board.facts, plan, self.key)
            self.board.say(says or "nothing is short in this plan", Tone.CARE if says else Tone.PLAIN)
            return
        self.board.push_screen(CuresDialog(found, self.key), partial(self._try_cure, found))

    def _try_cure(self, found: tuple[Lacking, ...], key: str | None) -> None:
        """Make the change that a cure asks for, and plan again with it."""
        if key is None:
            return
        at, n = (int(part) for part in key.split("/"))
        lacking, offer = found[at], found[at].offers[n]
        self.board.record(partial(self._change, lacking, offer))
        self.action_plan()

    def _change(self, lacking: Lacking, offer: Offer) -> Told:
        session, day = self.board.session, self.day
        if offer.due is not None and not offer.promises:
            told = [acting.put_due(session, day, lacking.service, offer.due)]
        else:
            told = [acting.promise(session, day, *promise) for promise in offer.promises]
        says = "; ".join(one.says for one in told)
        compares = f"{self.key('changes')} compares"
        return Told(f"{says}; planning again, {compares}", sum(one.entries for one in told))
