"""What guests have ordered ahead."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class OrderLine:
    """Part of an order: portions of an item, or whole pieces of a cut."""

    portions: int = 0
    item: str | None = None
    pieces: int = 0
    cut: str | None = None


@dataclass(frozen=True, slots=True)
class Order:
    """Something ordered ahead under a name, to be collected at a moment."""

    id: str
    name: str
    collect_at: datetime
    lines: tuple[OrderLine, ...]
    note: str = ""
