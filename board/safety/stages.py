"""What a record shows of each demand of cooling: when food was down to its temperature, and stayed so."""

from collections.abc import Sequence
from dataclasses import dataclass

from board.safety.falling import Window, came_down_to, down_for_good
from board.safety.log import Stretch, TemperatureLog, slack_s
from board.safety.tables import Limit
from board.safety.verdict import Answer

Demands = list[tuple[Limit, float]]  # down to what, within how many minutes


@dataclass(frozen=True, slots=True)
class Stage:
    """One demand of the rule, when the record shows it met, and how long that took at least and at most.

    `warmed` where it was warmer again in between.
    """

    to: Limit
    most_c: float
    within: float
    least: float
    most: float | None
    still_above: bool = False
    warmed: bool = False

    @property
    def answer(self) -> Answer:
        """Failed where even the least is too long, passed where the most is not, else not shown."""
        slack = slack_s() / 60.0
        missed = self.least >= self.within - slack if self.still_above else self.least > self.within + slack
        if missed:
            return Answer.FAIL
        return Answer.PASS if self.most is not None and self.most <= self.within + slack else Answer.NOT_SHOWN


def stages_of(
    log: TemperatureLog, stretches: Sequence[Stretch], began: Window | None, demands: Demands
) -> list[Stage]:
    """What the record shows of each demand, in order; after the last the cooling is over."""
    last_c = demands[-1][0].most_c(in_fahrenheit=log.in_fahrenheit)
    cold = came_down_to(stretches, last_c, began) if began else None
    over = cold.latest if cold else float("inf")
    return [_stage(log, stretches, began, demand, over) for demand in demands]


def _stage(
    log: TemperatureLog,
    stretches: Sequence[Stretch],
    began: Window | None,
    demand: tuple[Limit, float],
    over: float,
) -> Stage:
    to, within = demand
    most_c = to.most_c(in_fahrenheit=log.in_fahrenheit)
    if began is None:
        return Stage(to, most_c, within, 0.0, None)
    first = came_down_to(stretches, most_c, began)
    there = down_for_good(stretches, most_c, first, over) if first else None
    if there is None:
        last = log.readings[-1][0] - began.latest
        return Stage(to, most_c, within, last, None, still_above=True, warmed=first is not None)
    least, most = max(0.0, there.earliest - began.latest), there.latest - began.earliest
    warmed = first is not None and there.earliest > first.latest
    return Stage(to, most_c, within, least, most if most < float("inf") else None, warmed=warmed)
