"""A placed load to give account of, taken out of a plan for the moment, with all else around it."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime

from board.house.calendar import local
from board.house.model import House
from board.house.wording import clock_time, short_day
from board.planning.assemble import Laid
from board.planning.plan import PlannedLoad
from board.planning.problem import Part, Placed, Problem, cooking, part_points, run_points
from board.planning.run import Run
from board.planning.search.occupancy import Fit, Occupancy
from board.planning.weights import in_money


@dataclass(frozen=True)
class Told:
    """One load, its part and place; `others` is the plan without it, its fires cut to the meat that is left.

    `saved` is what the plan costs less without it, in points, what it leaves unserved not counted.
    """

    house: House
    problem: Problem
    part: Part
    at: Placed
    load: PlannedLoad
    others: Occupancy
    laid: Laid
    saved: float

    def dearer(self, fit: Fit) -> float:
        """What the whole plan costs more with the load there instead, everything else staying; in points."""
        return fit.added - self.saved

    def slot(self, slot: int) -> str:
        """A slot as the house says it."""
        return self.when(self.problem.frame.grid.moment(slot))

    def when(self, moment: datetime) -> str:
        """A moment as the house says it, with its day where that is not the day it is needed on."""
        clock, day = clock_time(moment, self.house), local(moment, self.house).date()
        same = day == local(self.load.needed_at, self.house).date()
        return clock if same else f"{clock} on {short_day(day)}"

    def worth(self, points: float) -> str:
        """A difference in cost: in money where the house weighs in money, else in points."""
        if abs(points) < 0.5:
            return "no dearer"
        word = "dearer" if points > 0 else "cheaper"
        amount = abs(points)
        return f"{in_money(amount)} {word}" if self.house.weighing else f"{amount:,.0f} points {word}"


@contextmanager
def taken_out(house: House, whole: Occupancy, part: Part, load: PlannedLoad, laid: Laid) -> Iterator[Told]:
    """The load with the plan around it; afterwards the plan is as it was."""
    problem = whole.problem
    at = whole.take_off(part)
    pit, before = at.mode.pit, whole.runs[at.mode.pit]
    after = _cut_to_meat(whole, pit)
    whole.burn(pit, after)
    if any((room < 0).any() for room in (whole.attention_left, *whole.work.values())):
        after = tuple(replace(run, begin=_lit(before, run)) for run in after)
        whole.burn(pit, after)
    fires = sum(run_points(problem, pit, run) for run in before)
    fires -= sum(run_points(problem, pit, run) for run in after)
    try:
        yield Told(house, problem, part, at, load, whole, laid, part_points(problem, part, at) + fires)
    finally:
        whole.burn(pit, before)
        whole.place(part, Fit(at, before, 0.0))


def _cut_to_meat(whole: Occupancy, pit: str) -> tuple[Run, ...]:
    """The runs of a pit no longer than the meat on it asks; those tied to others by heat stay as they are."""
    frame, kept = whole.problem.frame, []
    runs = whole.runs[pit]
    for run in runs:
        if run.chained or any(other.chained and other.begin == run.end for other in runs):
            kept.append(run)
            continue
        inside = [cooking(p, at) for p, at in whole.meat[pit].values() if run.begin <= at.start < run.end]
        known = [other.end for other in frame.taken.runs[pit] if other.begin == run.begin]
        ends = [end for _, end in inside] + known
        if ends:
            first = min((begin for begin, _ in inside), default=run.begin) - frame.pits[pit].warm
            begin = run.begin if run.known else max(run.begin, first)
            kept.append(replace(run, begin=begin, end=min(run.end, max(ends))))
    return tuple(kept)


def _lit(before: tuple[Run, ...], run: Run) -> int:
    return next((old.begin for old in before if old.begin <= run.begin < old.end), run.begin)
