"""One need that a plan does not meet, and the words for when."""

from dataclasses import dataclass

from board.house.calendar import local
from board.house.model import House
from board.house.wording import clock_time, short_day
from board.planning.demand import Need
from board.planning.problem import Assignment, Part, Problem


@dataclass(frozen=True)
class Case:
    """The parts of one need left out of a plan, and the plan around them."""

    house: House
    problem: Problem
    plan: Assignment
    need: Need
    parts: tuple[Part, ...]

    def when(self, slot: int) -> str:
        """A slot in the house's words, with its day where it is not the day of the need."""
        moment = self.problem.frame.grid.moment(slot)
        clock, day = clock_time(moment, self.house), local(moment, self.house).date()
        same = day == local(self.need.occasion.at, self.house).date()
        return clock if same else f"{clock} on {short_day(day)}"
