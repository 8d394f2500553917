"""One making of a batch as it is placed: when, the pots it fills, and the steps of making and chilling it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cached_property
from math import isfinite

import numpy as np

from board.batches.chill import Check, Chilled, checks, chilled, pots_for
from board.batches.merge import Making, ready_and_use_by
from board.house import chilling
from board.house.model import Recipe
from board.planning.batches.pots import Pots
from board.planning.crew import Flags
from board.planning.grid import Grid, slots_down, slots_up, step_slots
from board.planning.plan import PlannedBatch, PlannedStep
from board.planning.problem import Problem
from board.planning.roster import Roster
from board.safety.limits import Cooling, cooling

# A step nobody has been named for yet, and the roster's job for it.
Given = tuple[PlannedStep, int]

# The ice or the bath waits so many slots at most for somebody, a reading once it is due too: half an hour.
_WAITS = 6


@dataclass(frozen=True)
class _Hands:
    """Work of chilling: what, so many slots after the making has begun, at the latest after so many."""

    what: str
    first: int
    last: int
    minutes: float
    most_c: float | None = None


@dataclass(frozen=True)
class Made:
    """One making as it is placed: the pots it fills until its last use, the steps it takes."""

    problem: Problem
    roster: Roster
    pots: Pots
    recipe: Recipe
    making: Making
    last_use: datetime

    @property
    def _grid(self) -> Grid:
        return self.problem.frame.grid

    @property
    def _minutes(self) -> float:
        return self.recipe.make_work.minutes(1)

    @property
    def _slots(self) -> int:
        return step_slots(self._minutes)

    @property
    def _rule(self) -> Cooling:
        return cooling(self.problem.frame.house.jurisdiction)

    @cached_property
    def _cooled(self) -> Chilled | None:
        pot = self.problem.frame.house.pot_of(self.recipe)
        return chilled(self.recipe, self.making.kg, pot, self._rule)

    def begin(self) -> int | None:
        """The latest slot at which somebody makes it, with its pots empty and hands to chill it if it can be.

        None where nobody does at any time that serves its loads.
        """
        first, last = self._span
        allowed = _between(self._grid, first, last)
        roomy, handy = self._roomy(), self._handy()
        choices = [allowed & roomy & handy, allowed & roomy, allowed & handy, allowed]
        for n, choice in enumerate(choices):
            if choice.any() and not any((choice == earlier).all() for earlier in choices[:n]):
                found = self.roster.latest("make", self._slots, choice, max(0, last))
                if found is not None:
                    return found
        return None

    @property
    def _span(self) -> tuple[int, int]:
        earliest = self.problem.frame.outset.earliest
        first = self._grid.ceil(self.making.make_from) - self._slots
        last = self._grid.floor(self.making.make_by) - self._slots
        return max(first, earliest), max(last, earliest)

    def _roomy(self) -> Flags:
        """Slots from which what it is made in stands empty until it is ready, what it is kept in after."""
        found = np.ones(self._grid.slots, dtype=np.bool_)
        for id, later, end in self._fills(0):
            pot = self.problem.frame.house.containers[id]
            number = min(pot.count, pots_for(self.making.kg, pot))
            if end is None:
                found &= self.pots.free(id, number, self._filled_slots)
            else:
                free, some = self.pots.free_until(id, number, end), np.zeros_like(found)
                some[: len(free) - later] = free[later:]
                found &= some
        return found

    def _fills(self, begin: int) -> Iterator[tuple[str, int, int | None]]:
        """Each container a making fills, from which slot and until which, or (None) until it is ready."""
        made_in, kept_in = self.recipe.cools_in, self.recipe.container
        used = self._grid.floor(self.last_use)
        if made_in is not None and made_in != kept_in:
            yield made_in, begin, None
        if kept_in is not None:
            yield kept_in, begin if made_in == kept_in else begin + self._filled_slots, used

    @property
    def _filled_slots(self) -> int:
        return slots_up(self._minutes + self.recipe.ready_after_minutes)

    def _handy(self) -> Flags:
        """Slots from which every step of chilling would find somebody who is free."""
        found = np.ones(self._grid.slots, dtype=np.bool_)
        for work in self._chilling:
            free, some = self.roster.free(work.what, step_slots(work.minutes)), np.zeros_like(found)
            for later in range(work.first, work.last + 1):
                some[: max(0, len(free) - later)] |= free[later:]
            found &= some
        return found

    @cached_property
    def _chilling(self) -> tuple[_Hands, ...]:
        """Setting it to cool once it has boiled, and each reading until it is cold."""
        cooled = self._cooled
        if cooled is None:
            return ()
        off = self._minutes + self.recipe.boil_minutes
        starts = slots_up(off)
        begins = _Hands("chill", starts, starts + _WAITS, chilling.start_minutes())
        read = (self._reading(off, check) for check in checks(cooled, self.recipe.chilled_to_c, self._rule))
        return begins, *read

    @staticmethod
    def _reading(off: float, check: Check) -> _Hands:
        latest = slots_down(off + check.latest_minutes) if isfinite(check.latest_minutes) else None
        due = slots_up(off + check.after_minutes)
        due = due if latest is None else min(due, latest)
        last = due + _WAITS if latest is None else min(due + _WAITS, latest)
        return _Hands("check", due, last, chilling.check_minutes(), check.most_c)

    def steps(self, batch_id: str, begin: int | None) -> Iterator[Given]:
        """The making and the chilling; each given to somebody, or to nobody where none is free in time."""
        at = begin if begin is not None else self._span[1]
        job = self.roster.leave if begin is None else self.roster.give
        yield self._step(batch_id, "make", 0, at, self._minutes), job("make", at, self._slots)
        for id, since, until in self._fills(at):
            number = pots_for(self.making.kg, self.problem.frame.house.containers[id])
            self.pots.take(id, number, since, at + self._filled_slots if until is None else until)
        for n, work in enumerate(self._chilling, start=1):
            slots, due = step_slots(work.minutes), at + work.first
            found = self.roster.soonest(work.what, slots, due)
            kept = found if found is not None and found <= at + work.last else due
            step = self._step(batch_id, work.what, n, kept, work.minutes)
            yield replace(step, most_c=work.most_c), self.roster.give(work.what, kept, slots)

    def _step(self, batch_id: str, what: str, n: int, slot: int, minutes: float) -> PlannedStep:
        at = self._grid.moment(slot)
        name = f"{batch_id}.{what}" if n < 3 else f"{batch_id}.{what}-{n - 1}"
        return PlannedStep(name, at, at + timedelta(minutes=minutes), what, None, None, batch_id, minutes)

    def batch(self, batch_id: str, make: PlannedStep) -> PlannedBatch:
        """The making as it is planned: ready and use-by follow from when it is really made."""
        recipe, making, cooled = self.recipe, self.making, self._cooled
        ready_from, use_by = ready_and_use_by(recipe, make.ends_at)
        pot = self.problem.frame.house.pot_of(recipe)
        return PlannedBatch(
            id=batch_id,
            recipe=recipe.id,
            kind=recipe.kind.value,
            amount_kg=making.kg,
            make_by=making.make_by,
            ready_from=ready_from,
            use_by=use_by,
            loads=making.loads,
            each_kg=making.each_kg,
            vessel=recipe.cools_in,
            vessels=pots_for(making.kg, pot) if pot else 0,
            container=recipe.container,
            ice_kg=cooled.ice_kg if cooled else 0.0,
        )


def _between(grid: Grid, first: int, last: int) -> Flags:
    allowed = np.zeros(grid.slots, dtype=np.bool_)
    allowed[max(0, first) : max(0, last + 1)] = True
    return allowed
