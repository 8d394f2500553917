"""What the doctor looked at, what was wrong there, and what is only worth knowing."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from board.ledger.typed import inert

RECORD = "the record"
PRINTED = "the printed page"
MOST = 8  # faults of one kind that are told one by one


@dataclass(frozen=True, slots=True)
class Look:
    """One thing looked at: in plain words what, the faults found there, and notes that are no faults."""

    what: str
    seen: str
    faults: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Findings:
    """All that was looked at in one ledger."""

    path: Path
    looks: tuple[Look, ...]

    @property
    def faults(self) -> tuple[str, ...]:
        """All faults, in the order they were looked for."""
        return tuple(fault for look in self.looks for fault in look.faults)

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong; what is told to be missing is no fault any more."""
        return not self.faults

    @property
    def only_pages(self) -> bool:
        """Whether nothing is wrong but that printed pages are of another record."""
        return not self.sound and not any(look.faults for look in self.looks if look.what != PRINTED)

    @property
    def gaps(self) -> tuple[str, ...]:
        """What earlier mendings told to be lost or unproved in the record."""
        return tuple(note for look in self.looks if look.what == RECORD for note in look.notes)


def some(faults: Iterable[str]) -> tuple[str, ...]:
    """The first faults, without what no terminal should show, and how many there are besides."""
    found = [inert(fault) for fault in faults]
    more = len(found) - MOST
    return tuple(found) if more <= 0 else (*found[:MOST], f"and {more} more like these")


def numbers(seqs: Iterable[int]) -> str:
    """Entry numbers in few words: `3`, `3 to 5`, `3 to 5 and 9`."""
    told = [str(first) if first == last else f"{first} to {last}" for first, last in runs(seqs)]
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}" if told else "none"


def runs(seqs: Iterable[int]) -> list[tuple[int, int]]:
    """Numbers as stretches of consecutive ones, each by its first and last."""
    found: list[tuple[int, int]] = []
    for seq in sorted(seqs):
        if found and seq == found[-1][1] + 1:
            found[-1] = (found[-1][0], seq)
        else:
            found.append((seq, seq))
    return found
