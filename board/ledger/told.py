"""What earlier mendings told of this ledger: entries lost for good, and those that stand as found."""

import json
import sqlite3
from dataclasses import dataclass, field

from board.ledger.pieces import Piece

KIND = "mended"


@dataclass(slots=True)
class Told:
    """What is known to be missing or unproved, by entry number.

    `taken` holds for each entry that stands as found the link of its line after its own stored link, so that
    it cannot be changed again unseen; `plans` are the entries whose plan's document is lost, `signatures`
    those that no longer cover what they were given for.
    """

    lost: set[int] = field(default_factory=set)
    taken: dict[int, str] = field(default_factory=dict)
    plans: set[int] = field(default_factory=set)
    signatures: set[int] = field(default_factory=set)

    def stands(self, piece: Piece) -> bool:
        """Whether a mending told of this entry, just as it is, that nothing proves it."""
        return self.taken.get(piece.entry.seq) == piece.seal


def told_of(connection: sqlite3.Connection) -> Told:
    """What all `mended` entries tell; one that cannot be read tells nothing."""
    told = Told()
    for (text,) in connection.execute("SELECT data FROM entries WHERE kind = ? ORDER BY seq", (KIND,)):
        try:
            data = json.loads(text)
            for first, last in data.get("lost", ()):
                told.lost.update(range(int(first), int(last) + 1))
            told.taken.update({int(seq): str(sha) for seq, sha in data.get("taken", {}).items()})
            told.plans.update(int(seq) for seq in data.get("plans", ()))
            told.signatures.update(int(seq) for seq in data.get("signatures", ()))
        except (ValueError, TypeError, AttributeError):
            continue
    return told
