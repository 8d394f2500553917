"""What differs from one machine to the next: theme, glyphs, motion, bell, who, keys, and where copies go."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from board.app.theme import DARK, LIGHT, PLAIN

THEME_WORDS: Mapping[str, str] = {"dark": DARK, "light": LIGHT, "terminal": PLAIN}  # as people call them


@dataclass(frozen=True, slots=True)
class Settings:
    """What may differ from one screen to the next without touching the house."""

    theme: str = DARK
    ascii: bool = False  # no glyph outside ASCII
    motion: bool = True  # nothing moves by itself where this is off
    bell: bool = True  # a new alarm rings once
    keys: Mapping[str, str] = field(default_factory=dict)  # an act's id: its keys, in place of ours
    who: str = ""  # who is usually at this machine; guessed from the shifts where it is empty
    backup_to: str = ""  # a folder off this machine that backups are copied into; none where it is empty


def theme_word(theme: str) -> str:
    """What people call a theme."""
    return next((word for word, name in THEME_WORDS.items() if name == theme), theme)
