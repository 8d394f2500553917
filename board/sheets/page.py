"""A page of plain text: headings, and tables one under the other or side by side, no wider than asked."""

from collections.abc import Sequence

from board.views.table import Line, Table, body_lines, head_line
from board.views.text import padded, width_of, wrapped

WIDTH = 80
_BETWEEN = 3


def heading(left: str, right: str, width: int) -> list[str]:
    """One line with a text at each side, or two lines when they do not fit."""
    room = width - width_of(left) - width_of(right)
    if room >= 1:
        return [f"{left}{' ' * room}{right}".rstrip()]
    return [*wrapped(left, width), *wrapped(right, width)]


def block(table: Table, width: int) -> list[str]:
    """A table as lines, under its title where it has one."""
    head = [head_line(table, width)] if table.title else []
    return [_text(line) for line in (*head, *body_lines(table, width))]


def side_by_side(left: Table, right: Table, width: int, left_width: int) -> list[str]:
    """Two tables beside each other, or one under the other on a narrow page."""
    right_width = width - left_width - _BETWEEN
    if right_width < left_width // 2:
        return [*block(left, width), "", *block(right, width)]
    one, two = block(left, left_width), block(right, right_width)
    deep = max(len(one), len(two))
    one += [""] * (deep - len(one))
    two += [""] * (deep - len(two))
    return [f"{padded(a, left_width)}{' ' * _BETWEEN}{b}".rstrip() for a, b in zip(one, two, strict=True)]


def sentences(texts: Sequence[str], width: int) -> list[str]:
    """Sentences, each beginning on a line of its own."""
    return [line for text in texts for line in wrapped(text, width)]


def page(*parts: Sequence[str]) -> str:
    """The parts with a blank line between them, those without lines left out."""
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def _text(line: Line) -> str:
    return line.text.rstrip()
