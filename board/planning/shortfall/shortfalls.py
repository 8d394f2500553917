"""Every shortage of a plan: the portions, which limit binds, and the cures that planning again has proved."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from board.house.model import House
from board.house.wording import clock_time, duration
from board.planning.demand import Need
from board.planning.plan import Occasion, Offer, Short
from board.planning.problem import Assignment, Problem
from board.planning.shortfall.attempt import Attempt, Tried
from board.planning.shortfall.binding import Lifted, binding, why
from board.planning.shortfall.case import Case
from board.planning.shortfall.changes import PEOPLE, changes, may_bind
from board.planning.shortfall.cures import Cure, Proved, offers_for, proved
from board.planning.shortfall.hands import one_more, with_fires
from board.planning.shortfall.lacking import given_by, lacking, wanted
from board.planning.shortfall.lateness import Late, in_time, late_portions

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


@dataclass(frozen=True)
class Tardy:
    """What comes late, and the limits that keep it from being in time."""

    late: Late
    case: Case
    bound: tuple[Lifted, ...]

    def told(self, outcome: Outcome, helping: list[Proved]) -> Short:
        """The lateness as a shortage, with why and what would help."""
        late, house = self.late, outcome.house
        last = "" if len(late.parts) == 1 else "the last of it "
        usual = f"{last}ready about {clock_time(late.usual, house)}, {duration(late.minutes)} late"
        because = f"{usual}: {why(self.case, list(self.bound))}" if self.bound else usual
        proved = offers_for(helping, outcome.tried, (late.service, late.need.item))
        says = f"promise it for {clock_time(late.surely, house)}"
        later = Offer(says, late.portions, due=late.surely)
        return _short(late.service, late.need.item, late.portions, because, (*proved, later))


def shortfalls(outcome: Outcome) -> tuple[Short, ...]:
    """Every need that lacks portions or gets them late, with why and what would help."""
    lacks = [lack for need in outcome.needs if (lack := _lack(outcome, need))]
    late = [_late(outcome, late) for late in late_portions(outcome.problem, outcome.plan, outcome.needs)]
    if not lacks and not late:
        return ()
    cases = [(one.case, one.bound) for one in lacks] + [(one.case, one.bound) for one in late]
    worth = islice(_worth_trying(outcome, cases), _TRIED_MOST)
    helping = [with_fires(outcome.house, one) for one in proved(worth, outcome.attempt, outcome.tried)]
    return tuple(short for lack in lacks for short in _told(outcome, lack, helping)) + tuple(
        one.told(outcome, helping) for one in late
    )


def _lack(outcome: Outcome, need: Need) -> Lack | None:
    portions = tuple(lacking(need, given_by(outcome.problem, outcome.plan, need)))
    if not portions:
        return None
    parts = tuple(p for p in outcome.problem.parts if p.need is need and p.id not in outcome.plan.placed)
    case = Case(outcome.house, outcome.problem, outcome.plan, need, parts)
    return Lack(case, portions, tuple(binding(case)))


def _worth_trying(outcome: Outcome, cases: list[tuple[Case, tuple[Lifted, ...]]]) -> Iterator[Cure]:
    """Each change that what binds suggests, each once; one more person first where people may bind."""
    grid = outcome.problem.frame.grid
    span = grid.moment(0), grid.moment(grid.slots)
    if any(may_bind(case, bound, PEOPLE) for case, bound in cases):
        someone = one_more(outcome.house, outcome.attempt, span, outcome.tried)
        if someone:
            yield someone
    seen: set[str] = set()
    for case, bound in cases:
        for cure in changes(case, bound, outcome.occasions):
            if cure.words not in seen:
                seen.add(cure.words)
                yield cure


def _told(outcome: Outcome, lack: Lack, helping: list[Proved]) -> Iterator[Short]:
    asked = wanted(lack.case.need)
    for service, n in lack.portions:
        proved = offers_for(helping, outcome.tried, (service, lack.item))
        served = asked[service] - n
        said = tuple(Offer(says, n) for says in lack.said)
        less = Offer(f"promise {served} portions", n, promises=((service, lack.item, served),))
        yield _short(service, lack.item, n, lack.why, proved or said or ((less,) if served > 0 else ()))


def _short(service: str, item: str, portions: int, why: str, offers: tuple[Offer, ...]) -> Short:
    return Short(service, item, portions, why, tuple(_words(offer, portions) for offer in offers), offers)


def _words(offer: Offer, missing: int) -> str:
    """A cure in words, with how much of the shortage it covers where that is not all of it."""
    return offer.says + ("" if offer.portions >= missing else f", for {offer.portions} of the {missing}")


def _late(outcome: Outcome, late: Late) -> Tardy:
    """What is late, and the limits that keep it from being in time."""
    ids = {part.id for part in late.parts}
    others = {part_id: at for part_id, at in outcome.plan.placed.items() if part_id not in ids}
    parts = tuple(in_time(outcome.problem, part) for part in late.parts)
    case = Case(outcome.house, outcome.problem, Assignment(others, outcome.plan.runs), late.need, parts)
    return Tardy(late, case, tuple(binding(case)))
