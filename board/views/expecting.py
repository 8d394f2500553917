"""What is expected of cooks before any reading of their cores, remembered while they stay the same."""

from collections.abc import Sequence
from threading import Lock
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from board.cooking.cook import Cook, Estimate

MEMBERS = 128  # fewer say spans too narrow early in a cook
REMEMBERED = 64  # cooks: more than stand on the pits of any one night


class Expecting:
    """Estimates with their paths, by cook: the last few asked for, from any thread."""

    def __init__(self, most: int = REMEMBERED) -> None:
        self._most = most
        self._known: dict[Cook, Estimate] = {}
        self._lock = Lock()

    def of(self, cooks: Sequence["Cook"]) -> "dict[Cook, Estimate]":
        """Each cook's estimate; one that cannot be is left out."""
        from board.cooking.estimates import estimates  # noqa: PLC0415 - arrays load at the first reading

        with self._lock:
            known = {cook: self._known[cook] for cook in cooks if cook in self._known}
        known |= estimates([cook for cook in cooks if cook not in known], members=MEMBERS)
        with self._lock:
            self._keep(known)
        return known

    def _keep(self, found: "dict[Cook, Estimate]") -> None:
        """Remember these as the newest, and forget the oldest."""
        kept = {cook: one for cook, one in self._known.items() if cook not in found} | found
        self._known = dict(list(kept.items())[-self._most :])


_EXPECTING = Expecting()


def expected_of(cooks: Sequence["Cook"]) -> "dict[Cook, Estimate]":
    """Each cook's estimate with its paths, remembered between calls; one that cannot be is left out."""
    return _EXPECTING.of(cooks)
