"""What people type to find something, and whether a text has it: words by their beginnings."""

import re
import unicodedata
from collections.abc import Sequence
from functools import lru_cache

_WORD = re.compile(r"[^\W_]+")


@lru_cache(maxsize=8192)
def words_of(text: str) -> tuple[str, ...]:
    """The words of a text as they are looked for: without case, marks and signs; `Spätzle` has `spatzle`."""
    bare = text
    if not text.isascii():
        bare = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    return tuple(_WORD.findall(bare.casefold()))


def has_all(wanted: Sequence[str], words: Sequence[str]) -> bool:
    """Whether each wanted word begins one of the words."""
    return all(any(word.startswith(one) for word in words) for one in wanted)
