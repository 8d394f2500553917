"""The line of a dialog that names its keys; a word pressed by mouse or touch is its key pressed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from textual.events import Click, Key
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from board.app.keys import CALLED, named
from board.app.theme import palette_of, tone_style
from board.app.widgets.strips import blank, cells_strip
from board.views.text import Cell, Tone, width_of

_GAP = "   "  # between one key's words and the next
_KEYS: Mapping[str, str] = {shown: key for key, shown in CALLED.items()}
DIGITS = "1234567890."


@dataclass(frozen=True, slots=True)
class _Piece:
    """A stretch of a line, and the key it stands for; none where it is only said."""

    text: str
    key: str


class Hint(Widget):
    """Told as `Enter records   Esc leaves`: what begins with a key can be pressed."""

    DEFAULT_CSS = "Hint { height: auto; width: 1fr; }"

    def __init__(
        self, text: str = "", *, id: str | None = None, does: Mapping[str, str] | None = None
    ) -> None:
        """`does` names the dialog's action for a key that would be typed where a line has the focus."""
        super().__init__(id=id, classes="hint")
        self._text = text
        self._does = does or {}

    def update(self, text: str) -> None:
        """Say something else."""
        if text != self._text:
            self._text = text
            self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the words take."""
        return len(lines_of(self._text, width))

    def render_line(self, y: int) -> Strip:
        """One line of words."""
        lines = lines_of(self._text, self.size.width)
        if y >= len(lines):
            return blank(self.app.theme, self.size.width)
        cells = [Cell(piece.text, Tone.QUIET) for piece in lines[y]]
        return cells_strip(self.app.theme, cells, self.size.width)

    async def on_click(self, event: Click) -> None:
        """Press the key under the pointer."""
        event.stop()
        lines, at = lines_of(self._text, self.size.width), 0
        for piece in lines[event.y] if event.y < len(lines) else ():
            if at <= event.x < at + width_of(piece.text) and piece.key:
                await self._press(piece.key)
            at += width_of(piece.text)

    async def _press(self, key: str) -> None:
        if key in self._does:
            await self.screen.run_action(self._does[key])
        else:
            self.app.post_message(Key(key, key if len(key) == 1 else None))


class Keypad(Widget):
    """Digits for a finger: each goes into the line that is typed on, as its key would."""

    DEFAULT_CSS = "Keypad { height: 1; width: 1fr; margin-top: 1; } Keypad.tall { height: 3; }"

    def __init__(self) -> None:
        super().__init__()
        self._keys = {**{digit: named(digit) for digit in DIGITS}, "← del": "backspace"}

    def on_mount(self) -> None:
        """Three lines high where there is room for a finger."""
        self.set_class(self.screen.size.height >= 32, "tall")

    def _at(self) -> Iterator[tuple[int, int, str]]:
        """Where each key begins, how wide it is, and what it says."""
        wide = max(3, min(7, (self.size.width - 8) // len(DIGITS) - 1))
        at = 0
        for says in self._keys:
            width = max(wide, width_of(says) + 2)
            yield at, width, says
            at += width + 1

    def render_line(self, y: int) -> Strip:
        """One line of the keys, their names in the middle one."""
        theme = self.app.theme
        strips = [
            cells_strip(theme, (Cell(says.center(width) if y == self.size.height // 2 else ""),), width, bar)
            for bar in (palette_of(theme).bar,)
            for _, width, says in self._at()
        ]
        gap = blank(theme, 1)
        parts = [part for strip in strips for part in (strip, gap)]
        return Strip.join(parts).adjust_cell_length(self.size.width, tone_style(theme, Tone.PLAIN))

    def on_click(self, event: Click) -> None:
        """Press the key under the finger."""
        event.stop()
        for at, width, says in self._at():
            if at <= event.x < at + width:
                self.app.post_message(Key(self._keys[says], says if len(says) == 1 else None))


def lines_of(text: str, width: int) -> list[list[_Piece]]:
    """The words in as many lines as they need, each key with what it does kept together."""
    lines: list[list[_Piece]] = [[]]
    used = 0
    for line, part in ((n, part) for n, told in enumerate(text.split("\n")) for part in told.split(_GAP)):
        gap = len(_GAP) if lines[-1] else 0
        if lines[-1] and (used + gap + width_of(part) > width or line >= len(lines)):
            lines.append([])
            used = gap = 0
        lines[-1] += [_Piece(" " * gap, "")] if gap else []
        lines[-1] += _pieces(part)
        used += gap + width_of(part)
    return lines


def _pieces(part: str) -> list[_Piece]:
    """`↑ ↓ another place` as the key ↑ and the key ↓ with its words."""
    words = part.split(" ")
    keys: list[str] = []
    for word in words:
        key = _KEYS.get(word) or (word.lower() if len(word) == 1 or _is_f(word) else "")
        if not key:
            break
        keys.append(key)
    if not keys:
        return [_Piece(part, "")]
    last = len(keys) - 1
    first = [_Piece(f"{word} ", key) for word, key in zip(words[:last], keys[:last], strict=True)]
    return [*first, _Piece(" ".join(words[last:]), keys[last])]


def _is_f(word: str) -> bool:
    return word[:1] == "F" and word[1:].isdigit()
