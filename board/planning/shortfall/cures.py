"""What would cure a shortage: each cure is tried by planning the day again with it, and told if it helps."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from board.house.model import House
from board.planning.dues import Promises
from board.planning.plan import Offer
from board.planning.shortfall.attempt import Attempt, Tried
from board.planning.shortfall.lacking import Portions

# Nobody reads more cures than this for one shortage.
_TOLD_MOST = 4
# A cure of less than this much of a shortage is none.
_WORTH_TELLING = 0.1


@dataclass(frozen=True)
class Cure:
    """A change of the house or its promises that may help; `money` is what it costs beside the plan.

    Of several cures of one `subject` only the best is told.
    """

    subject: str
    words: str
    house: House
    promises: Promises = field(default_factory=dict)
    money: float = 0.0


@dataclass(frozen=True)
class Proved:
    """A cure that planning with it has shown to help."""

    cure: Cure
    tried: Tried

    def cured(self, before: Portions, key: tuple[str, str]) -> int:
        """Portions of one service and item it brings in time."""
        return before[key] - self.tried.missing.get(key, 0)

    def offer(self, before: Tried, key: tuple[str, str]) -> Offer:
        """The cure of one shortage as it can be tried."""
        promises = tuple((service, item, n) for (service, item), n in self.cure.promises.items())
        return Offer(self.cure.words, self.cured(before.missing, key), _price(self, before), promises)


def proved(cures: Iterable[Cure], attempt: Attempt, before: Tried) -> list[Proved]:
    """The cures that help somebody and harm nobody, the cheapest for what it brings first.

    No more are tried once as many as are told help and one of them leaves nothing short.
    """
    helping: list[Proved] = []
    for cure in cures:
        one = Proved(cure, attempt(cure.house, cure.promises))
        if _helps(one.tried, before):
            helping.append(one)
        subjects = {found.cure.subject for found in helping}
        if len(subjects) >= _TOLD_MOST and any(found.tried.lacks == 0 for found in helping):
            break
    return sorted(helping, key=lambda one: (one.tried.lacks, _price(one, before), one.cure.words))


def _helps(after: Tried, before: Tried) -> bool:
    harmed = any(n > before.missing.get(key, 0) for key, n in after.missing.items())
    return not harmed and after.lacks < before.lacks and after.undone <= before.undone


def _price(one: Proved, before: Tried) -> float:
    """What the plan costs more with it, in points, its own price included."""
    return one.tried.points - before.points + 100 * one.cure.money


def offers_for(found: Sequence[Proved], before: Tried, key: tuple[str, str]) -> tuple[Offer, ...]:
    """The cures of one shortage, the best first."""
    told: dict[str, Offer] = {}
    for one in found:
        if one.cured(before.missing, key) >= max(1.0, _WORTH_TELLING * before.missing[key]):
            told.setdefault(one.cure.subject, one.offer(before, key))
    return tuple(told.values())[:_TOLD_MOST]
