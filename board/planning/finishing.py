"""The work between the hold and the plate."""

from collections.abc import Sequence

from board.house.model import House, Item, StepRule
from board.planning.demand import Need


def finish_of(house: House, need: Need) -> tuple[StepRule, ...]:
    """The work between the hold and the plate for a need; none for a piece sold whole."""
    item: Item | None = house.items.get(need.item)
    return item.finish if item else ()


def finish_minutes(finish: Sequence[StepRule], pieces: int) -> float:
    """Hands-on minutes between the hold and the plate."""
    return sum(rule.work.minutes(pieces) for rule in finish)
