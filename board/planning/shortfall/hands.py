"""One more person as a cure: for which hours, found by planning with someone who is always there."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from board.house.calendar import local, on_shift
from board.house.model import House, Person, Recurrence, Shift
from board.house.spans import minutes_between
from board.house.wording import clock_time, in_list, short_day
from board.planning.plan import PlannedLoad
from board.planning.shortfall.attempt import Attempt, Tried
from board.planning.shortfall.cures import Cure, Proved

# The one more person's id: no house file can name it.
EXTRA = "one more person"
# Nobody comes in twice for work so little apart.
_TOGETHER = timedelta(minutes=90)
_QUARTER = timedelta(minutes=15)
# Work begun as the next shift comes in is finished by who began it.
_HANDING_OVER = timedelta(minutes=10)
# More comings and goings than this are not one person's help.
_STRETCHES_MOST = 3

Span = tuple[datetime, datetime]


def one_more(house: House, attempt: Attempt, grid: Span, before: Tried) -> Cure | None:
    """Someone more for just the hours they would be used in; None where it would not help or be too much.

    Args:
        grid: the first and last moment of the planning problem.
    """
    tried = attempt(with_person(house, [grid]), {})
    if tried.lacks >= before.lacks:
        return None
    spans = _together([*_work(tried), *_alone(house, tried.loads)])
    if not spans or len(spans) > _STRETCHES_MOST:
        return None
    hours = sum(minutes_between(*span) for span in spans) / 60
    return Cure(EXTRA, _words(house, spans), with_person(house, spans), money=hours * house.wage_per_hour)


def with_person(house: House, spans: Sequence[Span]) -> House:
    """The house with one more person, who does everything, on shift in these spans."""
    shifts = tuple(_shift(house, number, span) for number, span in enumerate(spans))
    return replace(
        house, people={**house.people, EXTRA: Person(EXTRA, EXTRA)}, shifts=(*house.shifts, *shifts)
    )


def _shift(house: House, number: int, span: Span) -> Shift:
    begins = local(span[0], house)
    when = Recurrence(begins.date(), begins.time().replace(tzinfo=None), minutes_between(*span))
    return Shift(f"{EXTRA} {number}", EXTRA, (EXTRA,), when)


def _work(tried: Tried) -> list[Span]:
    return [(s.at, max(s.ends_at, s.at + timedelta(minutes=5))) for s in tried.steps if s.who == EXTRA]


def _alone(house: House, loads: Sequence[PlannedLoad]) -> list[Span]:
    """Hours of these loads in which somebody must be there and nobody of the house is."""
    wanted = []
    for load in loads:
        if house.pits[load.pit].tend_fraction > 0:
            wanted.append((load.light_at, load.pull_at.p90))
        pulled = load.pull_at.p90 + timedelta(minutes=house.cuts[load.cut].pull_work.minutes(load.pieces))
        wanted.append((load.pull_at.p10, pulled))
    return [bare for span in wanted for bare in _unmanned(house, span)]


def _unmanned(house: House, span: Span) -> list[Span]:
    there = sorted((max(a, span[0]), min(b, span[1])) for _, a, b, _ in on_shift(house, *span))
    edges = [(span[0], span[0]), *there, (span[1], span[1])]
    found, reached = [], span[0]
    for _, (begin, end) in pairwise(edges):
        if begin > reached:
            found.append((reached, begin))
        reached = max(reached, end)
    return found


def _together(spans: Sequence[Span]) -> list[Span]:
    """Spans in whole quarters of an hour, those close together as one."""
    joined: list[Span] = []
    for begin, end in sorted((_down(a), _up(b + _HANDING_OVER)) for a, b in spans):
        if joined and begin <= joined[-1][1] + _TOGETHER:
            joined[-1] = joined[-1][0], max(end, joined[-1][1])
        else:
            joined.append((begin, end))
    return joined


def _down(moment: datetime) -> datetime:
    over = timedelta(minutes=moment.minute % 15, seconds=moment.second, microseconds=moment.microsecond)
    return moment - over


def _up(moment: datetime) -> datetime:
    down = _down(moment)
    return down if down == moment else down + _QUARTER


def with_fires(house: House, one: Proved) -> Proved:
    """One more person with the fires they are to light named: the first thing to do with the help."""
    if one.cure.subject != EXTRA:
        return one
    lit = [step for step in one.tried.steps if step.who == EXTRA and step.what == "light" and step.pit]
    fires = [f"light {house.pits[step.pit].name} at {clock_time(step.at, house)}" for step in lit if step.pit]
    words = f"{in_list(fires)}, with {one.cure.words}" if fires else one.cure.words
    return replace(one, cure=replace(one.cure, words=words))


def _words(house: House, spans: Sequence[Span]) -> str:
    return f"one more person {in_list([_said(house, span) for span in spans])}"


def _said(house: House, span: Span) -> str:
    begin, end = (local(moment, house) for moment in span)
    day = "" if begin.date() == end.date() else f" on {short_day(begin.date())}"
    return (
        f"from {clock_time(span[0], house)}{day} to {clock_time(span[1], house)} on {short_day(end.date())}"
    )
