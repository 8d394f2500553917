"""The papers that labels are printed on."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Paper:
    """A page cut into equal labels, in millimetres."""

    width_mm: float
    height_mm: float
    across: int
    down: int


PAPERS = {
    "a4": Paper(210.0, 297.0, 3, 8),
    "letter": Paper(215.9, 279.4, 3, 8),
    "single": Paper(100.0, 62.0, 1, 1),
}
