"""The passphrase that lets in: only its salted scrypt hash is kept, in a private file beside the ledger."""

import json
import sys
from dataclasses import asdict, dataclass
from pathlib import Path

from board.commands.secret import asked_secretly
from board.errors import BoardError
from board.house.put_file import put_file
from board.ledger.scrypt import Cost, Kept, kept

# Common practice, no source: three words that do not belong together. Tries are few (tries.py).
SHORTEST, LONGEST = 12, 200
_FEW_SIGNS = 5  # different ones; fewer are a pattern
_LARGEST_BYTES = 4096
_SET = "set it with: board serve --passphrase"


@dataclass(frozen=True, slots=True)
class Passphrase:
    """Where the hash is kept; read anew each time, so that a new passphrase holds at once."""

    path: Path

    @classmethod
    def beside(cls, ledger: Path) -> "Passphrase":
        """That of a ledger."""
        return cls(ledger.with_name(f"{ledger.name}.passphrase"))

    def set(self, passphrase: str) -> None:
        """Keep what lets in from now on; only the file's owner may read it."""
        new = kept(passphrase)
        told = {"salt": new.salt.hex(), "hash": new.hash.hex(), **asdict(new.cost)}
        put_file(self.path, (json.dumps(told) + "\n").encode())

    def check(self) -> None:
        """Say before anybody comes that nobody could be let in.

        Raises:
            BoardError: none is set, or the file says something else.
        """
        if self.kept() is not None:
            return
        if not self.path.exists():
            raise BoardError(f"no passphrase is set, and without one nobody is let in; {_SET}")
        raise BoardError(f"{self.path}: found something that board serve did not write; {_SET}")

    def kept(self) -> Kept | None:
        """What is kept of it; None where there is none, or nothing that could be made of one."""
        try:
            with self.path.open("rb") as file:
                told = json.loads(file.read(_LARGEST_BYTES))
            cost = Cost(*(int(told[key]) for key in ("cost", "block", "lanes")))
            return Kept(bytes.fromhex(told["salt"]), bytes.fromhex(told["hash"]), cost)
        except (OSError, ValueError, TypeError, KeyError, RecursionError):
            return None


def ask_new(house: str) -> str:
    """The new passphrase; in a terminal typed twice, since nobody sees a slip.

    Raises:
        BoardError: one that somebody would try first, or two that differ.
    """
    new = asked_secretly("new passphrase")
    check_new(new, house)
    if sys.stdin.isatty() and asked_secretly("the same again") != new:
        raise BoardError("the two are not the same; nothing was set, try again")
    return new


def check_new(passphrase: str, house: str) -> None:
    """Refuse one that is soon guessed; the line never repeats what was typed.

    Raises:
        BoardError: too short, too long, not typed in letters, a pattern, or the house's name.
    """
    if not SHORTEST <= len(passphrase) <= LONGEST or not passphrase.isprintable():
        raise BoardError(
            f"a passphrase has {SHORTEST} to {LONGEST} letters, figures and blanks; three words that do not"
            " belong together are good"
        )
    plain = passphrase.casefold()
    if len(set(plain)) < _FEW_SIGNS or plain.strip() == house.casefold().strip():
        raise BoardError("that passphrase is soon guessed; choose another")
