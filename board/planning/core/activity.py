"""Activities: what takes time and room, in one of several ways, or not at all."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

Whole = cp_model.LinearExpr | int
Literal = cp_model.BoolVarT | bool


@dataclass(frozen=True)
class Mode:
    """One way to do an activity: its length, what it takes of each resource, and when it may start.

    `most` is the greatest length where the length is free; `starts` is the calendar, ascending, and none
    where any start is allowed.
    """

    length: int
    uses: Mapping[Hashable, int] = field(default_factory=dict)
    starts: Sequence[int] | None = None
    most: int | None = None

    @property
    def fixed(self) -> bool:
        """Its length is given."""
        return self.most is None or self.most == self.length


@dataclass(frozen=True)
class Activity:
    """An activity in a model: when it starts and how long it takes if it is done, and in which mode.

    `stays` is its span on whatever each mode takes, none where a mode takes nothing.
    """

    start: Whole
    length: Whole
    done: Literal
    here: tuple[Literal, ...]
    stays: tuple[cp_model.IntervalVar | None, ...]

    @property
    def end(self) -> Whole:
        """When it ends."""
        return self.start + self.length


def starts_of(modes: Sequence[Mode], horizon: int) -> cp_model.Domain:
    """All starts that any mode allows within a horizon."""
    calendars = [mode.starts for mode in modes]
    if not calendars or any(starts is None for starts in calendars):
        return cp_model.Domain(0, horizon)
    allowed = {start for starts in calendars for start in starts or ()}
    return cp_model.Domain.from_values(sorted(allowed) or [0])
