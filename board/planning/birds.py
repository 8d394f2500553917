"""Which cuts are birds: raw, they are kept below all other meat."""

from board.house.model import Cut, Handling

_BIRDS = frozenset({"chicken", "turkey", "duck", "goose"})


def is_bird(cut: Cut) -> bool:
    """Whether a cut is poultry, whole, cut or stuffed."""
    return cut.handling is Handling.POULTRY or cut.animal in _BIRDS
