"""Who was let in, until when: a visit's token is with the browser alone, and nothing of it outlives us."""

import hmac
import secrets
from dataclasses import dataclass, field
from hashlib import sha256

from board.ledger.scrypt import Kept

HOURS = 14  # a long shift; then the passphrase is asked again
_DEVICE_BYTES = 16


@dataclass(frozen=True, slots=True)
class Visit:
    """One browser that was let in: by which passphrase, and when that ends."""

    id: str
    salt: bytes
    until: float


@dataclass(slots=True)
class Visits:
    """The visits that hold; moments are seconds of one clock that is never set."""

    _visits: dict[str, Visit] = field(default_factory=dict)

    def begin(self, kept: Kept, now: float) -> str:
        """Let somebody in; the token that says so from then on."""
        for id in [one.id for one in self._visits.values() if one.until <= now]:
            del self._visits[id]
        token = secrets.token_urlsafe(32)
        self._visits[_id(token)] = Visit(_id(token), kept.salt, now + HOURS * 3600)
        return token

    def of(self, token: str, kept: Kept | None, now: float) -> Visit | None:
        """The visit of a token, where it holds."""
        visit = self._visits.get(_id(token))
        return visit if visit is not None and self.holds(visit, kept, now) else None

    def holds(self, visit: Visit, kept: Kept | None, now: float) -> bool:
        """Whether a visit goes on: not left, not too long ago, and let in by the passphrase of today."""
        return visit.id in self._visits and now < visit.until and kept is not None and kept.salt == visit.salt

    def end(self, visit: Visit) -> None:
        """Let nobody in by this token any more."""
        self._visits.pop(visit.id, None)


def device_token(kept: Kept) -> str:
    """What a device shows from now on to be told from strangers; it lets nobody in."""
    name = secrets.token_hex(_DEVICE_BYTES)
    return f"{name}.{_mark(name, kept)}"


def device_of(token: str, kept: Kept) -> str:
    """The device that a token was given to under the passphrase of today; empty for any other."""
    name, _, mark = token.partition(".")
    is_ours = hmac.compare_digest(mark.encode(errors="replace"), _mark(name, kept).encode())
    return name if name and is_ours else ""


def _mark(name: str, kept: Kept) -> str:
    return hmac.new(kept.hash, name.encode(errors="replace"), sha256).hexdigest()


def _id(token: str) -> str:
    """What is kept of a token, so that what is kept lets nobody in."""
    return sha256(token.encode(errors="replace")).hexdigest()
