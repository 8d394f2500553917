"""How one board looks on this terminal: its theme, no colour or no glyph where that is asked, no motion."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.constants import TEXTUAL_ANIMATIONS as _MOVING
from textual.filter import LineFilter, Monochrome, NoColor

from board.app.glyphs import AsciiOnly
from board.app.harmless import Harmless
from board.app.settings import theme_word
from board.app.theme import DARK, PLAIN, THEMES, themes
from board.house.degrees import is_fahrenheit
from board.house.model import Display
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp


class Looks:
    """The looks of one board, from its settings and from NO_COLOR."""

    def __init__(self, board: "BoardApp", display: Display) -> None:
        self._board = board
        self._ascii = AsciiOnly("F" if is_fahrenheit(display) else "C")
        self._uncoloured = Uncoloured()
        self._harmless = Harmless()
        for ours in themes():
            board.register_theme(ours)
        self._take_on()

    def filters(self, usual: Sequence[LineFilter]) -> Sequence[LineFilter]:
        """What every line goes through before it is written; no colour means none, not shades of grey."""
        kept = [self._harmless, *(one for one in usual if not isinstance(one, Monochrome | NoColor))]
        kept += [self._ascii] if self._board.settings.ascii else []
        return [*kept, self._uncoloured] if self._board.no_color else kept

    def follow(self) -> None:
        """Draw everything anew as the settings say now."""
        self._take_on()
        for screen in self._board.screen_stack:
            screen.refresh(layout=True)
            for widget in screen.walk_children():
                widget.refresh()

    def _take_on(self) -> None:
        board, settings = self._board, self._board.settings
        ours = settings.theme if settings.theme in THEMES else DARK
        board.theme = PLAIN if board.no_color else ours
        board.animation_level = _MOVING if settings.motion else "none"

    def next_theme(self) -> None:
        """Go round the themes; without colour there is but one."""
        board = self._board
        if board.no_color:
            board.say("NO_COLOR is set: the board is drawn without colour", Tone.CARE)
            return
        theme = THEMES[(THEMES.index(board.theme) + 1) % len(THEMES)]
        board.settings = replace(board.settings, theme=theme)
        self.follow()
        board.say(f"theme: {theme_word(theme)}")


class Uncoloured(LineFilter):
    """Leaves of each style what is not colour: bold, dim, reversed."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments without colour."""
        return [Segment(text, style and _bare(style), control) for text, style, control in segments]


@lru_cache(maxsize=1024)
def _bare(style: Style) -> Style:
    kept = Style(bold=style.bold, dim=style.dim, reverse=style.reverse, underline=style.underline)
    return kept + Style.from_meta(style.meta) if style.meta else kept
