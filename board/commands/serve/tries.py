"""Tries of the passphrase, counted so that they cannot be hurried and nobody is locked out for good.

A try is counted before it is looked at. Wrong ones make the next from the same place wait, and no place waits
for another's: a place is a device that was let in before, else an address.
"""

from dataclasses import dataclass, field
from ipaddress import IPv6Address, ip_address
from math import ceil

# Common practice, no source: a slip costs nothing, a thousand guesses take days.
FREE_TRIES = 5  # of one place before it waits
MANY_WRONG = 30  # of all unknown places in an hour: from then on each of these has one free try
RECENTLY_SECONDS = 3600.0
FIRST_WAIT_SECONDS, LONGEST_WAIT_SECONDS = 15.0, 600.0
_MOST_PLACES = 10_000
_NETWORK_BITS = 64  # of an IPv6 address; one machine has all the others at its will (RFC 4291, 2.5.1)


@dataclass(slots=True)
class _Wrong:
    count: int
    at: float


@dataclass(slots=True)
class Tries:
    """The wrong tries of the last hour; moments are seconds of one clock that is never set."""

    _wrong: dict[str, _Wrong] = field(default_factory=dict)

    def wait_seconds(self, place: str, now: float) -> int:
        """How long the next try from a place has to wait; 0 where it may be made."""
        wrong = self._wrong.get(place)
        if wrong is None or now - wrong.at > RECENTLY_SECONDS:
            return 0
        free = 1 if _is_unknown(place) and self._many(now) else FREE_TRIES
        if wrong.count < free:
            return 0
        wait = min(FIRST_WAIT_SECONDS * 2.0 ** min(wrong.count - free, 10), LONGEST_WAIT_SECONDS)
        return max(0, ceil(wrong.at + wait - now))

    def begin(self, place: str, now: float) -> None:
        """Count a try as wrong until it is known."""
        before = self._wrong.pop(place, None)
        recent = before.count if before and now - before.at <= RECENTLY_SECONDS else 0
        self._wrong[place] = _Wrong(recent + 1, now)
        while len(self._wrong) > _MOST_PLACES:
            del self._wrong[next(iter(self._wrong))]

    def was_right(self, place: str) -> None:
        """The count of a place begins anew."""
        self._wrong.pop(place, None)

    def _many(self, now: float) -> bool:
        recent = (
            wrong.count
            for place, wrong in self._wrong.items()
            if _is_unknown(place) and now - wrong.at <= RECENTLY_SECONDS
        )
        return sum(recent) >= MANY_WRONG


def place_of(address: str, device: str) -> str:
    """Whose tries are counted together: a device that was let in before, else its address."""
    if device:
        return f"device {device}"
    try:
        found = ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if isinstance(found, IPv6Address) and found.ipv4_mapped is None:
        return f"{IPv6Address(int(found) >> _NETWORK_BITS << _NETWORK_BITS)}/{_NETWORK_BITS}"
    return str(found)


def _is_unknown(place: str) -> bool:
    return not place.startswith("device ")
