"""Drawing a lane of loads: heat rising along each cook, its finish fading, and a name that can be read."""

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from board.house.spans import minutes_between
from board.views.canvas import Canvas, Dot, DrawnLine, Shade
from board.views.progress import Risk
from board.views.text import width_of
from board.views.timeline import Bar
from board.views.timeline_window import SIDE, Window

_RESTS, _HELD = Dot("=", Shade.NONE, Shade.REST), Dot("-", Shade.NONE, Shade.HOLD)
_COOKING = "░▒▓"
_MARKED, _PULL, _WRAP, _PLANNED = "●", "│", "╱", "┆"
_FROM, _TO = "▶", "◀"
_BEHIND = 2  # columns from the end of a bar to a name behind it


def columns_of(window: Window, bar: Bar) -> range:
    """The columns a bar is seen in; at least one while any of it lies in the window."""
    first = window.column(bar.load_at)
    after = max(first + 1, window.column(bar.end))
    return range(max(0, first), min(window.columns, after))


def draw_lane(canvas: Canvas, window: Window, row: int, bars: Sequence[Bar]) -> None:
    """The bars that lie one after the other in a lane, each with a name where there is room for one."""
    in_order = sorted(bars, key=lambda bar: bar.load_at)
    for bar, following in zip_longest(in_order, in_order[1:]):
        if bar is not None:
            free = window.columns if following is None else window.column(following.load_at) - 1
            _draw_bar(canvas, window, row, bar, min(free, window.columns))


def _draw_bar(canvas: Canvas, window: Window, row: int, bar: Bar, free: int) -> None:
    """One bar; `free` is the column up to which its name may stand behind it."""
    seen = columns_of(window, bar)
    if not seen:
        return
    for column, dot in zip(seen, _dots(window, bar, seen), strict=True):
        canvas.put(row, SIDE + column, dot)
    for column, glyph, ink in _signs(window, bar):
        if column in seen:
            under = canvas.at(row, SIDE + column)
            canvas.put(row, SIDE + column, Dot(glyph, ink, under.ground, under.level))
    text, column = _named(window, bar, seen, free)
    canvas.write(row, SIDE + column, text, Shade.STRONG)
    if bar.risk is not Risk.IN_TIME:
        due = min(max(window.column(bar.needed_at), seen.start), seen.stop - 1)
        under = canvas.at(row, SIDE + due)
        sign = ("▲", Shade.LATE) if bar.risk is Risk.LATE else ("?", Shade.SERVICE)
        canvas.put(row, SIDE + due, Dot(*sign, under.ground, under.level))


def _dots(window: Window, bar: Bar, seen: range) -> Iterator[Dot]:
    """What a load is in each column: cooking, wrapped, finishing, resting or held."""
    on, early, middle, late, rested = (
        minutes_between(window.start, moment)
        for moment in (bar.load_at, bar.pull.p10, bar.pull.p50, bar.pull.p90, bar.rested_at)
    )
    wrap = late if bar.wrap_at is None else minutes_between(window.start, bar.wrap_at)
    for column in seen:
        moment = (column + 0.5) * window.minutes
        if moment < early:
            level = _fraction(on, middle, moment)
            glyph = "▒" if moment >= wrap else _COOKING[min(2, int(level * 3))]
            yield Dot(glyph, Shade.NONE, Shade.WRAPPED if moment >= wrap else Shade.HEAT, level)
        elif moment < late:
            level = 1 - _fraction(early, late, moment)
            yield Dot(":" if level > 0.5 else "·", Shade.QUIET, Shade.FINISH, level)
        else:
            yield _RESTS if moment < rested else _HELD


def _fraction(start: float, end: float, moment: float) -> float:
    return min(1.0, max(0.0, (moment - start) / (end - start))) if end > start else 1.0


def _signs(window: Window, bar: Bar) -> Iterator[tuple[int, str, Shade]]:
    """Moments told on a bar by a sign: as planned, the wrap, the pull, what was marked."""
    first, pull = window.column(bar.load_at), window.column(bar.pull.p50)
    for moment in bar.planned:
        yield window.column(moment), _PLANNED, Shade.QUIET
    if bar.wrap_at is not None and first < window.column(bar.wrap_at) < window.column(bar.pull.p90):
        yield window.column(bar.wrap_at), _WRAP, Shade.STRONG
    if first < pull:
        yield pull, _MARKED if bar.off else _PULL, Shade.STRONG
    if bar.on:
        yield first, _MARKED, Shade.STRONG


def _named(window: Window, bar: Bar, seen: range, free: int) -> tuple[str, int]:
    """What a bar is called and in which column: on its cook, else behind it, else on all of it in short.

    The sign of its pin goes first, for a short bar has room for little else.
    """
    sign, _, word = bar.pinned.partition(" ")
    whole = [f"{sign} {name}" if sign else name for name in (bar.label, *bar.shorter[:1])]
    whole = [f"{whole[0]}, {word}", *whole] if sign else whole
    inside, behind = seen.start + 1, seen.stop + _BEHIND
    cook = min(seen.stop, max(window.column(bar.pull.p90), window.column(bar.pull.p10))) - inside
    for text in whole:
        if width_of(text) <= cook:
            return text, inside
    for text in whole:
        if width_of(text) <= free - behind:
            return text, behind
    short = [f"{sign} {name}".strip() for name in bar.shorter[1:]] + ([sign] if sign else [])
    return next((text for text in short if width_of(text) <= seen.stop - inside), ""), inside


def with_chosen(line: DrawnLine, window: Window, bar: Bar) -> DrawnLine:
    """A bar's line with the bar between two arrows and named in full, over its neighbours where it must be.

    A bar outside the window is named at the edge it lies beyond.
    """
    canvas = Canvas.of(line.dots)
    seen = columns_of(window, bar)
    name = " ".join(filter(None, (bar.pinned.partition(" ")[0], bar.label)))
    wide = width_of(name)
    if not seen:
        if bar.load_at < window.start:
            _tell(canvas, 0, f"{_TO} {name} ")
        else:
            _tell(canvas, window.columns - wide - 3, f" {name} {_FROM}")
        return DrawnLine(canvas.lines()[0], line.keys, line.pit)
    canvas.put(0, SIDE + seen.start - 1, Dot(_FROM, Shade.SERVICE))
    if seen.stop < window.columns:
        canvas.put(0, SIDE + seen.stop, Dot(_TO, Shade.SERVICE))
    if name not in line.text[SIDE + seen.start : SIDE + seen.stop]:
        _name_beside(canvas, window.columns, seen, name)
    return DrawnLine(canvas.lines()[0], line.keys, line.pit)


def _name_beside(canvas: Canvas, columns: int, seen: range, name: str) -> None:
    """The chosen load's name behind its bar, before it, or over it where neither has room."""
    wide = width_of(name)
    if seen.stop + _BEHIND + wide <= columns:
        _tell(canvas, seen.stop + 1, f" {name} "[: columns - seen.stop - 1])
    elif seen.start - wide - 2 >= 0:
        _tell(canvas, seen.start - wide - 2, f"{name} ")
    elif seen.start + 1 + wide <= columns:
        canvas.write(0, SIDE + seen.start + 1, f"{name} "[: columns - seen.start - 1], Shade.STRONG)
    else:
        column = max(0, columns - wide - 1)
        _tell(canvas, column, f" {name}")
        if column <= seen.start:
            canvas.put(0, SIDE + column - 1, Dot(_FROM, Shade.SERVICE))


def _tell(canvas: Canvas, column: int, text: str) -> None:
    """Words on the view's own ground, over whatever was there."""
    canvas.write(0, SIDE + max(0, column), text, Shade.STRONG, over=True)
