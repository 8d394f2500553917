"""How large a drawn house is: from one pit to a commissary that cooks for many outlets."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Size:
    """Pits, about so many loads a day, the services they are for and the items on the menu."""

    pits: int
    loads: int
    services: int
    items: int


SIZES = {
    "tiny": Size(1, 3, 1, 3),
    "small": Size(3, 12, 3, 4),
    "day": Size(6, 20, 4, 5),
    "medium": Size(6, 40, 6, 7),
    "large": Size(40, 400, 40, 8),
    "commissary": Size(500, 5000, 250, 9),
}
