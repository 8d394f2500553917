"""Which of a probe's readings are kept, when all of them are more than anybody looks at.

A reading is kept that comes long enough after the last one kept, or is far enough off it. Of those between
two that are kept, the highest, the lowest and the last one before a silence are kept too where they stick
out: so every left-out reading lies between two kept ones, in time and in degrees.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.probes import Keeping
from board.probes.reading import Sent


@dataclass(slots=True)
class _Between:
    """The last reading kept of a probe, and what has come since."""

    kept: Sent
    highest: Sent
    lowest: Sent
    latest: Sent


class Thinning:
    """What has to be remembered of each probe to thin out what it sends."""

    def __init__(self, keeping: Keeping) -> None:
        self._every = timedelta(minutes=keeping.every_minutes)
        self._change_k = keeping.change_k
        self._probes: dict[str, _Between] = {}

    def keep(self, one: Sent) -> list[Sent]:
        """The readings to be kept now that one more has come, by time; a late one is kept as it comes."""
        between = self._probes.get(one.probe)
        if between is None:
            self._begin(one)
            return [one]
        if one.at <= between.latest.at:
            return [one]
        if not self._is_kept(one, between):
            self._hold(one, between)
            return []
        found = [*self._sticking_out(between, one), one]
        self._begin(one)
        return found

    def overdue(self, now: datetime) -> list[Sent]:
        """What is to be kept of probes that have been silent for long enough."""
        silent = [one for one in self._probes.values() if now - one.kept.at > 2 * self._every]
        return [*self._ended(silent)]

    def end(self) -> list[Sent]:
        """What is still to be kept when no more will come."""
        return [*self._ended(list(self._probes.values()))]

    def _is_kept(self, one: Sent, between: _Between) -> bool:
        return (
            one.at - between.kept.at >= self._every
            or abs(one.temperature_c - between.kept.temperature_c) >= self._change_k
        )

    def _begin(self, one: Sent) -> None:
        self._probes[one.probe] = _Between(one, one, one, one)

    @staticmethod
    def _hold(one: Sent, between: _Between) -> None:
        between.latest = one
        if one.temperature_c > between.highest.temperature_c:
            between.highest = one
        if one.temperature_c < between.lowest.temperature_c:
            between.lowest = one

    def _sticking_out(self, between: _Between, after: Sent) -> list[Sent]:
        """Of what lies between two kept readings: the extremes, and the last one before a silence."""
        first, last = sorted((between.kept.temperature_c, after.temperature_c))
        found = [one for one in (between.lowest, between.highest) if not first <= one.temperature_c <= last]
        if after.at - between.latest.at > self._every:
            found.append(between.latest)
        return _by_time(found, between.kept)

    def _ended(self, silent: Iterable[_Between]) -> Iterator[Sent]:
        for between in silent:
            found = _by_time((between.lowest, between.highest, between.latest), between.kept)
            if found:
                self._begin(between.latest)
                yield from found


def _by_time(found: Iterable[Sent], kept: Sent) -> list[Sent]:
    """Readings, each once and by time, without the one that is kept already."""
    return sorted({one for one in found if one.at > kept.at}, key=lambda one: one.at)
