"""sqlite-utils, loaded without the array packages it would look for.

It imports pandas and numpy, where they are installed, to know their column types. The ledger stores neither,
and finding them costs a quarter of a second before the first screen.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager

UNUSED = ("pandas", "numpy")


@contextmanager
def _hidden(names: tuple[str, ...]) -> Iterator[None]:
    """Modules not loaded yet cannot be imported meanwhile."""
    hidden = [name for name in names if name not in sys.modules]
    sys.modules.update(dict.fromkeys(hidden))  # type: ignore[arg-type]  # None stops an import
    try:
        yield
    finally:
        for name in hidden:
            del sys.modules[name]


with _hidden(UNUSED):
    from sqlite_utils import Database, Migrations

__all__ = ["Database", "Migrations"]
