"""What may lie above what on one pit: raw birds drip on nothing that is not cooked as far as they are.

FDA Food Code 2022, 3-302.11(A): raw animal foods are kept from ready food, and by kind from each other.
Poultry is cooked hottest, so it lies lowest. The local code decides.
"""

from board.house.model import Cut, Handling
from board.planning.problem import Part, Spot

_BIRDS = frozenset({"chicken", "turkey", "duck", "goose"})


def is_bird(cut: Cut) -> bool:
    """Whether a cut is poultry, whole, cut or stuffed."""
    return cut.handling is Handling.POULTRY or cut.animal in _BIRDS


def drips(a: Part, spot_a: Spot, b: Part, spot_b: Spot) -> bool:
    """Whether one of two parts is a bird above other meat on the same pit."""
    if spot_a.pit != spot_b.pit or spot_a.level == spot_b.level:
        return False
    upper, lower = (a, b) if spot_a.level > spot_b.level else (b, a)
    return is_bird(upper.need.cut) and not is_bird(lower.need.cut)
