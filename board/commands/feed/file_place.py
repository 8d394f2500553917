"""How far a growing file was read, in such a way that another file of its name is told from it."""

import json
from dataclasses import asdict, dataclass
from hashlib import sha256

HEAD = 1024  # the beginning by which a file is known


@dataclass(frozen=True, slots=True)
class FilePlace:
    """A place between two lines of a file: its bytes so far, its heading, and what its beginning was.

    `head` is the SHA-256 of its first `head_bytes` bytes.
    """

    path: str
    offset: int = 0
    heading: str = ""
    mark: str = ""
    head_bytes: int = 0
    head: str = ""

    def text(self) -> str:
        """The place as the ledger keeps it."""
        return json.dumps(asdict(self), sort_keys=True)


def place_of(text: str, path: str) -> FilePlace:
    """The place that the ledger keeps; the beginning where it keeps none, or one of another file."""
    try:
        found = FilePlace(**json.loads(text))
    except (ValueError, TypeError):
        return FilePlace(path)
    return found if found.path == path else FilePlace(path)


def hash_of(beginning: bytes) -> str:
    """What a file is known by, from its beginning; empty of an empty one."""
    return sha256(beginning).hexdigest() if beginning else ""
