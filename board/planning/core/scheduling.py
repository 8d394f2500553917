"""A scheduling model in the making: activities, the resources they share, and the lags between them."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from board.planning.core.activity import Activity, Literal, Mode, Whole, starts_of
from board.planning.core.resources import Demand, Interval, never_more_than


@dataclass(frozen=True)
class _Span:
    name: str
    start: Whole
    length: Whole
    end: Whole | None


class Scheduling:
    """Writes a scheduling problem as a constraint model.

    Times run from 0 to `horizon`. Whatever is particular to a problem is said on `model` itself.
    """

    def __init__(self, horizon: int) -> None:
        self.model = cp_model.CpModel()
        self.horizon = horizon
        self._demands: dict[Hashable, list[Demand]] = {}

    def activity(
        self,
        name: str,
        modes: Sequence[Mode],
        *,
        start: Whole | None = None,
        length: Whole | None = None,
        end: Whole | None = None,
        done: Literal = True,
    ) -> Activity:
        """Add an activity that takes one of its modes where it is done.

        Args:
            start: when it starts, where something else tells; otherwise any start its modes allow.
            length: its length, where something else tells and it is free.
            end: when it ends, where something else tells and its length is free.
            done: whether it is done; always unless said.
        """
        bare = start is None and len(modes) == 1
        if start is None:
            start = self.model.new_int_var_from_domain(starts_of(modes, self.horizon), f"start {name}")
        here = self._choice(name, modes, done)
        if length is None:
            length = self._length(name, modes, here)
        span = _Span(name, start, length, end)
        stays = tuple(
            self._post_mode(span, literal, mode, bare=bare) for literal, mode in zip(here, modes, strict=True)
        )
        return Activity(start, length, done, here, stays)

    def lag(
        self, earlier: Whole, later: Whole, least: int, most: int | None = None, when: Sequence[Literal] = ()
    ) -> None:
        """Keep at least, and where said at most, so long between two moments, when all of these hold."""
        self.model.add(later - earlier >= least).only_enforce_if(*when)
        if most is not None:
            self.model.add(later - earlier <= most).only_enforce_if(*when)

    def resource(self, name: Hashable, capacity: int | NDArray[np.int64]) -> None:
        """Limit what all activities added so far take of a resource."""
        never_more_than(self.model, capacity, self._demands.pop(name, []))

    def hint(self, activity: Activity, start: int, mode: int) -> None:
        """Tell the search where an activity is in a good schedule, and in which mode."""
        if isinstance(activity.start, cp_model.IntVar):
            self.model.add_hint(activity.start, start)
        for i, literal in enumerate(activity.here):
            if not isinstance(literal, bool):
                self.model.add_hint(literal, i == mode)

    def _choice(self, name: str, modes: Sequence[Mode], done: Literal) -> tuple[Literal, ...]:
        if len(modes) == 1:
            return (done,)
        here = [self.model.new_bool_var(f"{name} in {i}") for i in range(len(modes))]
        self.model.add_exactly_one(*here, *(() if isinstance(done, bool) else (done.negated(),)))
        return tuple(here)

    def _length(self, name: str, modes: Sequence[Mode], here: Sequence[Literal]) -> Whole:
        if len(modes) == 1 and modes[0].fixed:
            return modes[0].length
        if all(mode.fixed for mode in modes):
            return cp_model.LinearExpr.weighted_sum(list(here), [mode.length for mode in modes])
        least, most = min(mode.length for mode in modes), max(mode.most or mode.length for mode in modes)
        return self.model.new_int_var(least, most, f"length {name}")

    def _post_mode(self, span: _Span, here: Literal, mode: Mode, *, bare: bool) -> Interval | None:
        """A mode's calendar and length where it is chosen, and its stay if it takes anything then."""
        if mode.starts is not None and not mode.starts:
            self.model.add_bool_and(False).only_enforce_if(here)
            return None
        if mode.starts is not None and not bare:
            allowed = cp_model.Domain.from_values(list(mode.starts))
            self.model.add_linear_expression_in_domain(span.start, allowed).only_enforce_if(here)
        if not (mode.fixed or bare):
            self.model.add(span.length >= mode.length).only_enforce_if(here)
            self.model.add(span.length <= (mode.most or mode.length)).only_enforce_if(here)
        if mode.fixed and mode.length == 0:
            return None
        uses = {resource: amount for resource, amount in mode.uses.items() if amount}
        if not uses:
            return None
        stay = self._stay(span, here, mode)
        for resource, amount in uses.items():
            self._demands.setdefault(resource, []).append((stay, amount))
        return stay

    def _stay(self, span: _Span, here: Literal, mode: Mode) -> Interval:
        if mode.fixed and span.end is None:
            return self.model.new_optional_fixed_size_interval_var(span.start, mode.length, here, span.name)
        end = (
            self.model.new_int_var(0, 3 * self.horizon, f"end {span.name}") if span.end is None else span.end
        )
        return self.model.new_optional_interval_var(span.start, span.length, end, here, span.name)
