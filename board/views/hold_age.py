"""How old held food is beside how old it may get: the house's longest hold, or a rule that ends first."""

from dataclasses import dataclass
from datetime import datetime
from enum import IntEnum

from board.house.spans import minutes_between
from board.house.wording import duration
from board.planning.plan import Plan, PlannedLoad
from board.planning.selling import near_share
from board.safety.holding import out_of_heat_minutes
from board.views import names
from board.views.facts import Facts
from board.views.progress import Progress
from board.views.watching import holding_since, kept_hot


class Old(IntEnum):
    """How an age stands against its limit."""

    FINE = 0
    NEAR = 1
    OVER = 2


@dataclass(frozen=True, slots=True)
class Age:
    """How long a load has been held of how long it may be; `by_rule` where a rule ends it, not the house.

    `why` says whose limit that is.
    """

    minutes: float
    limit_minutes: float | None
    by_rule: bool
    why: str

    @property
    def old(self) -> Old:
        """Whether it is near its limit or over it."""
        if self.limit_minutes is None:
            return Old.FINE
        if self.minutes > self.limit_minutes:
            return Old.OVER
        return Old.NEAR if self.minutes >= near_share() * self.limit_minutes else Old.FINE

    @property
    def says(self) -> str:
        """The age of its limit: `2 h 14 of 4 h`, or beyond it: `4 h 10, past 4 h`."""
        word = ", past" if self.old is Old.OVER else " of"
        of = f"{word} {duration(self.limit_minutes)}" if self.limit_minutes is not None else ""
        return f"{duration(self.minutes)}{of}"


def age_of(facts: Facts, plan: Plan, load: PlannedLoad, likely: Progress) -> Age:
    """The age of a load that is held, beside the limit that ends first."""
    since = likely.ready.p50
    minutes = max(0.0, minutes_between(since, facts.now))
    cut = facts.house.cuts.get(load.cut)
    own = cut.hold_longest_minutes if cut is not None else None
    out = _out_at(facts, plan, load)
    if out is not None:
        good_at, word = out
        by_rule = max(0.0, minutes_between(since, good_at)) + out_of_heat_minutes(facts.house.jurisdiction)
        if own is None or by_rule < own:
            return Age(minutes, by_rule, by_rule=True, why=word)
    name = names.cut_name(facts.house, load.cut)
    why = f"the house holds {name} {duration(own)} at most" if own is not None else "no longest hold is known"
    return Age(minutes, own, by_rule=False, why=why)


def _out_at(facts: Facts, plan: Plan, load: PlannedLoad) -> tuple[datetime, str] | None:
    """When a load that was last read too cool was last read hot, and what its rule says of that."""
    since = holding_since(facts, plan, load)
    if since is None:
        return None
    own = [one for one in facts.readings.get((plan.day, load.id), ()) if one.at >= since]
    standing = kept_hot(facts, since, own)
    if not standing.is_out or standing.last is None:
        return None
    read, limit = (names.degrees(facts.house, c) for c in (standing.last.temperature_c, standing.limit_c))
    most = duration(out_of_heat_minutes(facts.house.jurisdiction))
    says = f"read {read}, below {limit}: the rule gives it {most} from its last hot reading"
    return standing.good_at, says
