"""How many of each container stand empty, slot by slot, while a plan is laid out."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from board.house.model import House
from board.planning.crew import Flags, throughout
from board.planning.grid import Grid


class Pots:
    """How many of each container are taken in each slot, as a plan is laid out."""

    def __init__(self, house: House, grid: Grid) -> None:
        self._house, self._grid = house, grid
        self._taken: dict[str, NDArray[np.int64]] = {
            container: np.zeros(grid.slots, dtype=np.int64) for container in house.containers
        }

    def copy(self) -> "Pots":
        """As they are now, to try what may be dropped."""
        twin = Pots(self._house, self._grid)
        twin._taken = {container: taken.copy() for container, taken in self._taken.items()}
        return twin

    def take(self, container: str, number: int, begin: int, end: int) -> None:
        """Fill so many of a container in these slots."""
        self._taken[container][max(0, begin) : max(0, end)] += number

    def free(self, container: str, number: int, slots: int) -> Flags:
        """The slots from which so many of a container stand empty for so long."""
        return throughout(self._taken[container] + number <= self._house.containers[container].count, slots)

    def free_until(self, container: str, number: int, end: int) -> Flags:
        """The slots from which so many of a container stand empty until a slot."""
        room = self._taken[container] + number <= self._house.containers[container].count
        full = np.flatnonzero(~room[: max(0, end)])
        found = np.zeros_like(room)
        found[int(full[-1]) + 1 if len(full) else 0 : max(0, end)] = True
        return found


def most_kg(house: House) -> Mapping[str, float]:
    """What one making of each recipe may be at most: all the pots it is made in, and all it is kept in."""
    found: dict[str, float] = {}
    for recipe in house.recipes.values():
        named = [house.containers[id] for id in (recipe.cools_in, recipe.container) if id is not None]
        if named:
            found[recipe.id] = min(one.count * one.takes_kg for one in named)
    return found
