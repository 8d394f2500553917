"""A PIN kept so that it cannot be read back: the salted scrypt hash of it (RFC 7914)."""

import hashlib
import secrets
import unicodedata
from dataclasses import dataclass
from hmac import compare_digest
from itertools import pairwise

from board.errors import LedgerError

SHORTEST, LONGEST = 6, 64  # NIST SP 800-63B, 5.1.1: at least 6 where it is digits alone, at least 64 taken
_SALT_BYTES, _HASH_BYTES = 16, 32


@dataclass(frozen=True, slots=True)
class Cost:
    """What one try costs: scrypt's N, r and p."""

    cost: int
    block: int
    lanes: int

    @property
    def memory_bytes(self) -> int:
        """What OpenSSL has to be allowed: 128·r bytes for each of N, p and a little besides."""
        return 128 * self.block * (self.cost + self.lanes + 2)


# OWASP Password Storage Cheat Sheet, scrypt: N=2^15 (32 MiB), r=8, p=3 is one of the settings it holds equal.
# From memory; the one of 128 MiB is left to machines larger than a kitchen's.
COST = Cost(2**15, 8, 3)


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of a PIN."""

    salt: bytes
    hash: bytes
    cost: Cost

    def is_of(self, pin: str) -> bool:
        """Whether it was made from this PIN; takes as long for a wrong one as for the right one."""
        return compare_digest(hashed(pin, self.salt, self.cost), self.hash)


def kept(pin: str) -> Kept:
    """What to keep of a new PIN, salted by chance."""
    salt = secrets.token_bytes(_SALT_BYTES)
    return Kept(salt, hashed(pin, salt, COST), COST)


def hashed(pin: str, salt: bytes, cost: Cost) -> bytes:
    """The hash of a PIN, as typed on any keyboard: letters that look alike count alike (NFKC)."""
    return hashlib.scrypt(
        unicodedata.normalize("NFKC", pin).encode("utf-8", "surrogatepass"),
        salt=salt,
        n=cost.cost,
        r=cost.block,
        p=cost.lanes,
        maxmem=cost.memory_bytes,
        dklen=_HASH_BYTES,
    )


def check_new(pin: str, who: str) -> None:
    """Refuse a PIN that somebody would try first.

    Raises:
        LedgerError: too short, too long, not typed in letters and figures, one figure over and over, a run
            such as 123456, or the person's own name. The line never repeats what was typed.
    """
    if not SHORTEST <= len(pin) <= LONGEST or not pin.isprintable():
        raise LedgerError(f"a PIN has {SHORTEST} to {LONGEST} figures or letters; choose another")
    steps = {ord(after) - ord(before) for before, after in pairwise(pin)}
    if steps in ({0}, {1}, {-1}) or pin.casefold().strip() == who.casefold():
        raise LedgerError("that PIN is the first that somebody would try; choose another")
