"""How this machine shows the board: theme, glyphs, motion, bell; and the keys that were changed."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from board.app.theme import DARK


@dataclass(frozen=True, slots=True)
class Settings:
    """What may differ from one screen to the next without touching the house."""

    theme: str = DARK
    ascii: bool = False  # no glyph outside ASCII
    motion: bool = True  # nothing moves by itself where this is off
    bell: bool = True  # a new alarm rings once
    keys: Mapping[str, str] = field(default_factory=dict)  # an act's id: its keys, in place of ours
