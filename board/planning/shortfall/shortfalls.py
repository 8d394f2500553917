"""Every shortage of a plan: the portions, which limit binds, and the cures that planning again has proved."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from itertools import islice

from board.house.model import House
from board.house.wording import clock_time, duration
from board.planning.demand import Need
from board.planning.plan import Occasion, Short
from board.planning.problem import Assignment, Part, Placed, Problem
from board.planning.shortfall.attempt import Attempt, Tried
from board.planning.shortfall.binding import Lifted, binding, why
from board.planning.shortfall.case import Case
from board.planning.shortfall.changes import changes
from board.planning.shortfall.cures import Cure, Proved, proved, told_for
from board.planning.shortfall.hands import one_more
from board.planning.shortfall.lacking import IN_TIME, given_by, lacking, late_minutes, wanted

# A cure is a plan made again: no more of them than this are tried.
_TRIED_MOST = 10


@dataclass(frozen=True)
class Outcome:
    """A settled plan to look for shortages in, what it lacks, and a way to plan the day again."""

    house: House
    problem: Problem
    plan: Assignment
    needs: tuple[Need, ...]
    occasions: tuple[Occasion, ...]
    tried: Tried
    attempt: Attempt


@dataclass(frozen=True)
class Lack:
    """One need that is short: the portions by service, and the limits that keep them out."""

    case: Case
    portions: tuple[tuple[str, int], ...]
    bound: tuple[Lifted, ...]

    @property
    def item(self) -> str:
        """The item that is short."""
        return self.case.need.item

    @property
    def why(self) -> str:
        """What binds, in a sentence."""
        hopeless = self._hopeless()
        return hopeless[0] if hopeless else why(self.case, list(self.bound))

    @property
    def said(self) -> tuple[str, ...]:
        """What the reason itself says would help."""
        return self._hopeless()[1:]

    def _hopeless(self) -> tuple[str, ...]:
        told = self.case.problem.hopeless
        first = next((told[part.id] for part in self.case.parts if part.id in told), None)
        return () if first is None else (first.why, *first.cures)


def shortfalls(outcome: Outcome) -> tuple[Short, ...]:
    """Every need that lacks portions or gets them late, with why and what would help."""
    lacks = [lack for need in outcome.needs if (lack := _lack(outcome, need))]
    late = [short for need in outcome.needs for short in _late(outcome, need)]
    cures = islice(_worth_trying(outcome, lacks), _TRIED_MOST) if lacks or late else ()
    helping = proved(cures, outcome.attempt, outcome.tried)
    return tuple(short for lack in lacks for short in _told(outcome, lack, helping)) + tuple(
        _with_cures(outcome, short, helping) for short in late
    )


def _lack(outcome: Outcome, need: Need) -> Lack | None:
    portions = tuple(lacking(need, given_by(outcome.problem, outcome.plan, need)))
    if not portions:
        return None
    parts = tuple(p for p in outcome.problem.parts if p.need is need and p.id not in outcome.plan.placed)
    case = Case(outcome.house, outcome.problem, outcome.plan, need, parts)
    return Lack(case, portions, tuple(binding(case)))


def _worth_trying(outcome: Outcome, lacks: list[Lack]) -> Iterator[Cure]:
    """One more person first, then each change that what binds suggests, each once."""
    grid = outcome.problem.frame.grid
    span = grid.moment(0), grid.moment(grid.slots)
    someone = one_more(outcome.house, outcome.attempt, span, outcome.tried)
    if someone:
        yield someone
    seen: set[str] = set()
    for lack in lacks:
        for cure in changes(lack.case, lack.bound, outcome.occasions):
            if cure.words not in seen:
                seen.add(cure.words)
                yield cure


def _told(outcome: Outcome, lack: Lack, helping: list[Proved]) -> Iterator[Short]:
    for service, n in lack.portions:
        cures = told_for(helping, outcome.tried, (service, lack.item))
        yield Short(service, lack.item, n, lack.why, (*cures, *lack.said))


def _with_cures(outcome: Outcome, short: Short, helping: list[Proved]) -> Short:
    cures = told_for(helping, outcome.tried, (short.service, short.item))
    return Short(short.service, short.item, short.portions, short.why, (*cures, *short.cure))


def _late(outcome: Outcome, need: Need) -> Iterator[Short]:
    """Portions that only late loads give, of those wanted that are cooked at all."""
    problem, plan = outcome.problem, outcome.plan
    here = [(p, plan.placed[p.id]) for p in problem.parts if p.need is need and p.id in plan.placed]
    left = sum(wanted(need).values()) - sum(n for _, n in lacking(need, given_by(problem, plan, need)))
    left -= sum(part.portions for part, at in here if late_minutes(problem, part, at) <= IN_TIME)
    for part, at in here:
        late = late_minutes(problem, part, at)
        if late > IN_TIME:
            portions = min(part.portions, left)
            if portions > 0:
                yield _late_short(outcome, part, at, late, portions)
            left -= part.portions


def _late_short(outcome: Outcome, part: Part, at: Placed, late: float, portions: int) -> Short:
    usual, minutes = part.share.first.at + timedelta(minutes=late), at.mode.cook.minutes
    surely = usual + timedelta(minutes=minutes.p90 - minutes.p50)
    told = f"ready about {clock_time(usual, outcome.house)}, {duration(late)} late"
    cure = f"promise it for {clock_time(surely, outcome.house)}"
    return Short(part.services[0], part.need.item, portions, told, (cure,))
