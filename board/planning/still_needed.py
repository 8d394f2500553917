"""What a day's services and orders still ask for, when some of it is cooking already."""

from collections.abc import Sequence
from dataclasses import replace

from board.planning.plan import Occasion, PlannedLoad


def still_needed(occasions: tuple[Occasion, ...], begun: Sequence[PlannedLoad]) -> tuple[Occasion, ...]:
    """The occasions less what loads that have begun give them, each load to its first service first."""
    left = {o.id: dict(o.promises) for o in occasions}
    for load in begun:
        portions = load.portions
        for service in load.services:
            given = min(portions, left.get(service, {}).get(load.item, 0))
            if given:
                left[service][load.item] -= given
                portions -= given
    return tuple(replace(o, promises={k: n for k, n in left[o.id].items() if n > 0}) for o in occasions)
