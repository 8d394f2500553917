"""What of a drawn timeline is seen in a few lines: the chosen load always, the rest counted in words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from board.house.wording import count
from board.views.canvas import BLANK, Canvas, Dot, DrawnLine, Shade
from board.views.text import width_of
from board.views.timeline_bars import columns_of
from board.views.timeline_drawing import HEADS, Drawing, with_names
from board.views.timeline_window import SIDE

_GAP = 3
# each sign as it is drawn, and what it says
_LEGEND: tuple[tuple[tuple[Dot, ...], str], ...] = (
    (
        (
            Dot("░", Shade.NONE, Shade.HEAT, 0.2),
            Dot("▒", Shade.NONE, Shade.HEAT, 0.6),
            Dot("▓", Shade.NONE, Shade.HEAT, 1.0),
        ),
        "cooks",
    ),
    ((Dot("╱", Shade.STRONG, Shade.WRAPPED, 0.7),), "wrapped"),
    (
        (
            Dot(":", Shade.QUIET, Shade.FINISH, 0.8),
            Dot("│", Shade.STRONG, Shade.FINISH, 0.5),
            Dot("·", Shade.QUIET, Shade.FINISH, 0.2),
        ),
        "likely done",
    ),
    ((Dot("=", Shade.NONE, Shade.REST),), "rests"),
    ((Dot("-", Shade.NONE, Shade.HOLD),), "held"),
    ((Dot("▃", Shade.ROOM),), "room taken"),
    ((Dot("?", Shade.SERVICE),), "may be late"),
    ((Dot("▲", Shade.LATE),), "late"),
    ((Dot("●", Shade.STRONG),), "marked"),
    ((Dot("┆", Shade.QUIET),), "as planned"),
)


@dataclass(frozen=True, slots=True)
class Sight:
    """The lines that are seen, the heads and the last word included, and the first of the pits' lines."""

    first: int
    lines: tuple[DrawnLine, ...]


def in_sight(drawn: Drawing, chosen: str, height: int, first: int = 0) -> Sight:
    """So many lines of a timeline, the pits' lines moved only as far as the chosen load asks."""
    lines, width = drawn.chosen(chosen), SIDE + drawn.window.columns
    room = max(1, height - HEADS)
    first, end = _seen(drawn, chosen, first, min(room, len(lines)))
    words = [*_out_of_sight(drawn, first, end), *_beside(drawn)]
    if words and 1 < room <= len(lines):  # the words take the last line
        first, end = _seen(drawn, chosen, first, room - 1)
        words = [*_out_of_sight(drawn, first, end), *_beside(drawn)]
    shown = [*drawn.heads, *with_names(drawn.timeline, lines[first:end])]
    blanks = height - len(shown)
    if blanks > 0:
        last = _told(width, words) if words else legend(width)
        shown += [*[DrawnLine((BLANK,) * width)] * (0 if words else blanks - 1), last]
    return Sight(first, tuple(shown[:height]))


def _seen(drawn: Drawing, chosen: str, first: int, room: int) -> tuple[int, int]:
    """The first line and the end of so many, the chosen load among them, and its strip where that fits."""
    found = drawn.find(chosen)
    if found is not None:
        row, pit = found[0], drawn.lines[found[0]].pit
        last = max(i for i, line in enumerate(drawn.lines) if line.pit == pit)
        first = min(max(first, min(last, row + room - 1) - room + 1), row)
    first = max(0, min(first, len(drawn.lines) - room))
    return first, first + room


def _out_of_sight(drawn: Drawing, first: int, end: int) -> Iterator[tuple[str, str]]:
    """What is above and below, pit by pit, and the same in short."""
    for word, hidden in (("above", drawn.lines[:first]), ("below", drawn.lines[end:])):
        loads: dict[int, int] = {}
        for line in hidden:
            if line.pit is not None:
                loads[line.pit] = loads.get(line.pit, 0) + len(line.keys)
        pits = drawn.timeline.pits
        told = [f"{pits[place].name} {count(n, 'load')}" for place, n in loads.items() if n]
        if told:
            number = count(sum(1 for n in loads.values() if n), "pit")
            yield f"{word}: {', '.join(told)}", f"{word}: {count(sum(loads.values()), 'load')}, {number}"


def _beside(drawn: Drawing) -> Iterator[tuple[str, str]]:
    """How many loads are earlier or later than what is drawn."""
    bars = [bar for pit in drawn.timeline.pits for bar in pit.bars if not columns_of(drawn.window, bar)]
    early = sum(1 for bar in bars if bar.load_at < drawn.window.start)
    for arrow, word, number in (("←", "earlier", early), ("→", "later", len(bars) - early)):
        if number:
            yield f"{arrow} {count(number, 'load')} {word}", f"{arrow} {number} {word}"


def _told(width: int, words: Sequence[tuple[str, str]]) -> DrawnLine:
    """What is not seen, in full where there is room, else in short."""
    whole, short = (f"{' ' * _GAP}".join(word[form] for word in words) for form in (0, 1))
    canvas = Canvas(width, 1)
    canvas.write(0, 1, whole if width_of(whole) < width else short, Shade.QUIET)
    return DrawnLine(canvas.lines()[0])


def legend(width: int) -> DrawnLine:
    """What the signs mean, as many as there is room for."""
    canvas, column = Canvas(width, 1), 1
    for dots, says in _LEGEND:
        if column + len(dots) + 1 + width_of(says) > width:
            break
        for offset, dot in enumerate(dots):
            canvas.put(0, column + offset, dot)
        canvas.write(0, column + len(dots) + 1, says, Shade.QUIET)
        column += len(dots) + 1 + width_of(says) + _GAP
    return DrawnLine(canvas.lines()[0])
