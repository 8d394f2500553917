"""Names for loads, batches and steps: a stem and a number that nothing standing bears."""

from collections import defaultdict
from collections.abc import Container, Iterator
from itertools import count


class Names:
    """Gives out `stem-1`, `stem-2`, … for each stem, leaving out names already used."""

    def __init__(self, used: Container[str]) -> None:
        self._used = used
        self._next: defaultdict[str, Iterator[int]] = defaultdict(lambda: count(1))

    def new(self, stem: str) -> str:
        """The next free name of a stem."""
        return next(name for n in self._next[stem] if (name := f"{stem}-{n}") not in self._used)
