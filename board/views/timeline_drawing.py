"""Drawing a timeline on a canvas: heat rising along each cook, its finish fading over the likely span."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from board.house.spans import minutes_between
from board.views.canvas import BLANK, Canvas, Dot, DrawnLine, Shade
from board.views.progress import Risk
from board.views.text import block, width_of
from board.views.timeline import Bar, PitRow, Timeline, Use

ZOOMS = (2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 30, 45, 60)
SIDE = 16
_LABEL_ROOM = 5
_COOKING = "░▒▓"
_BARS_KEPT = 256  # more than a day's loads


@dataclass(frozen=True, slots=True)
class Window:
    """Which stretch of time is drawn: its start, minutes a column, and columns for the hours."""

    start: datetime
    minutes: int
    columns: int

    def column(self, moment: datetime) -> int:
        """The column a moment falls in; may lie outside the window."""
        return int((moment - self.start).total_seconds() // (60 * self.minutes))

    def moment(self, column: int) -> datetime:
        """The middle of a column."""
        return self.start + timedelta(minutes=(column + 0.5) * self.minutes)

    def columns_of(self, start: datetime, end: datetime) -> range:
        """The visible columns from one moment to another."""
        return range(max(0, self.column(start)), min(self.columns, max(self.column(end), 0)))


def whole(timeline: Timeline, width: int) -> Window:
    """The window that shows the whole timeline in so many terminal columns."""
    columns = max(10, width - SIDE)
    length = minutes_between(timeline.start, timeline.end)
    minutes = next((zoom for zoom in ZOOMS if zoom * columns >= length), ZOOMS[-1])
    return Window(timeline.start, minutes, columns)


def draw(
    timeline: Timeline,
    window: Window,
    zone: ZoneInfo,
    *,
    hours_12: bool = False,
    selected: str = "",
    gap: int = 0,
) -> list[DrawnLine]:
    """The timeline as finished lines, the services and hours on top."""
    tops = _tops(timeline, gap)
    height = tops[-1] + 1
    canvas = Canvas(SIDE + window.columns, height)
    keys: list[list[str]] = [[] for _ in range(height)]
    for top, pit in zip(tops, timeline.pits, strict=False):
        _draw_pit(canvas, window, top, pit, selected)
        for bar in pit.bars:
            keys[top + bar.lane].append(bar.key)
    _draw_hold(canvas, window, tops[-1], timeline.hold)
    _draw_services(canvas, window, timeline, height)
    _draw_now(canvas, window, timeline.now, height)
    _draw_crew(canvas, window, timeline)
    _draw_hours(canvas, window, zone, hours_12)
    return [DrawnLine(row, tuple(k)) for row, k in zip(canvas.lines(), keys, strict=True)]


def _tops(timeline: Timeline, gap: int) -> list[int]:
    """The first line of each pit, and last the line of the hold; `gap` lines part the pits."""
    tops, line = [], 2
    for pit in timeline.pits:
        tops.append(line)
        line += pit.lanes + 1 + gap
    return [*tops, line]


def _draw_pit(canvas: Canvas, window: Window, top: int, pit: PitRow, selected: str) -> None:
    below = top + pit.lanes
    canvas.write(top, 1, pit.name, Shade.STRONG, room=SIDE - 2)
    setpoints = {fire.setpoint for fire in pit.fires}
    alone = f" {setpoints.pop()}" if len(setpoints) == 1 else ""
    canvas.write(top + 1, 1, pit.kind + alone, Shade.QUIET, room=SIDE - 1)
    for fire in pit.fires:
        for column in window.columns_of(fire.lit_at, fire.loaded_at):
            canvas.put(
                below, SIDE + column, Dot("·", Shade.LATE if fire.lit_at > fire.loaded_at else Shade.HEAT)
            )
    _draw_use(canvas, window, below, pit.use, Shade.ROOM)
    for fire in pit.fires if not alone else ():
        column = max(0, window.column(fire.loaded_at))
        if window.column(fire.until) - column > width_of(fire.setpoint) + 1:
            canvas.write(below, SIDE + column + 1, fire.setpoint, Shade.PLAIN)
    for bar in pit.bars:
        _draw_bar(canvas, window, top + bar.lane, bar, chosen=bar.key == selected)


def _draw_bar(canvas: Canvas, window: Window, row: int, bar: Bar, *, chosen: bool) -> None:
    first, last = window.column(bar.load_at), window.column(bar.pull.p90)
    for column, dot in _bar_dots(window, bar):
        canvas.put(row, SIDE + column, dot)
    if bar.wrap_at is not None and first < window.column(bar.wrap_at) < last:
        _mark(canvas, window, row, window.column(bar.wrap_at), ("╱", Shade.STRONG))
    if first < window.column(bar.pull.p50):
        _mark(canvas, window, row, window.column(bar.pull.p50), ("│", Shade.STRONG))
    start = max(0, first)
    room = max(window.column(bar.pull.p10), last) - start - 1
    canvas.write(row, SIDE + start + 1, _label(bar, room), Shade.STRONG, room=room)
    if bar.risk is not Risk.IN_TIME:
        sign = ("▲", Shade.LATE) if bar.risk is Risk.LATE else ("?", Shade.SERVICE)
        _mark(canvas, window, row, window.column(bar.needed_at), sign)
    if chosen:
        canvas.put(row, SIDE + start - 1, Dot("▶", Shade.SERVICE))


def _label(bar: Bar, room: int) -> str:
    """What stands on a bar: the sign of its pin goes first, for a short bar has room for little else."""
    sign, _, word = bar.pinned.partition(" ")
    if room < _LABEL_ROOM:
        return sign
    whole = f"{sign} {bar.label}, {word}" if sign else bar.label
    return whole if width_of(whole) <= room else f"{sign} {bar.label}".lstrip()


@lru_cache(maxsize=_BARS_KEPT)
def _bar_dots(window: Window, bar: Bar) -> tuple[tuple[int, Dot], ...]:
    """What a bar is in each column; kept, for to choose another load draws all of them again."""
    columns = window.columns_of(bar.load_at, max(bar.rested_at, bar.needed_at))
    return tuple((column, _bar_dot(bar, window.moment(column))) for column in columns)


def _bar_dot(bar: Bar, moment: datetime) -> Dot:
    """What a load is at one moment: cooking, wrapped, finishing, resting or held."""
    if moment < bar.pull.p10:
        level = _fraction(bar.load_at, bar.pull.p50, moment)
        covered = bar.wrap_at is not None and moment >= bar.wrap_at
        glyph = "▒" if covered else _COOKING[min(2, int(level * 3))]
        return Dot(glyph, Shade.NONE, Shade.WRAPPED if covered else Shade.HEAT, level)
    if moment < bar.pull.p90:
        level = 1 - _fraction(bar.pull.p10, bar.pull.p90, moment)
        return Dot(":" if level > 0.5 else "·", Shade.QUIET, Shade.FINISH, level)
    if moment < bar.rested_at:
        return Dot("=", Shade.NONE, Shade.REST)
    return Dot("-", Shade.NONE, Shade.HOLD)


def _fraction(start: datetime, end: datetime, moment: datetime) -> float:
    length = (end - start).total_seconds()
    return min(1.0, max(0.0, (moment - start).total_seconds() / length)) if length > 0 else 1.0


def _mark(canvas: Canvas, window: Window, row: int, column: int, sign: tuple[str, Shade]) -> None:
    if 0 <= column < window.columns:
        under = canvas.at(row, SIDE + column)
        canvas.put(row, SIDE + column, Dot(*sign, under.ground, under.level))


def _draw_use(canvas: Canvas, window: Window, row: int, uses: Sequence[Use], ink: Shade) -> None:
    for part in uses:
        for column in window.columns_of(part.start, part.end):
            over = part.fraction > 1.0 + 1e-6
            canvas.put(row, SIDE + column, Dot(block(part.fraction), Shade.LATE if over else ink))


def _draw_hold(canvas: Canvas, window: Window, row: int, uses: Sequence[Use]) -> None:
    canvas.write(row, 1, "hold", Shade.QUIET)
    _draw_use(canvas, window, row, uses, Shade.HOLD)


def _draw_services(canvas: Canvas, window: Window, timeline: Timeline, height: int) -> None:
    for mark in timeline.services:
        column = window.column(mark.at)
        if not 0 <= column < window.columns:
            continue
        ink = Shade.QUIET if mark.is_order else Shade.SERVICE
        for row in range(2, height):
            if canvas.at(row, SIDE + column) == BLANK:
                canvas.put(row, SIDE + column, Dot("┊", ink))
        wide = width_of(mark.name)
        start = SIDE + min(max(0, column - wide // 2), window.columns - wide)
        if canvas.is_free(0, start - 1, min(wide + 2, canvas.width - start + 1)):
            canvas.write(0, start, mark.name, ink)


def _draw_now(canvas: Canvas, window: Window, now: datetime, height: int) -> None:
    column = window.column(now)
    if 0 <= column < window.columns:
        for row in range(1, height):
            if canvas.at(row, SIDE + column) == BLANK:
                canvas.put(row, SIDE + column, Dot("╎", Shade.NOW))


def _draw_crew(canvas: Canvas, window: Window, timeline: Timeline) -> None:
    canvas.write(1, 1, "crew", Shade.QUIET)
    until = -1
    for stretch in timeline.crew:
        start = max(window.column(stretch.start), until + 1, 0)
        room = min(window.column(stretch.end), window.columns) - start
        if room >= _LABEL_ROOM:
            canvas.write(1, SIDE + start, "├", Shade.QUIET)
            canvas.write(1, SIDE + start + 1, stretch.people, Shade.QUIET, room=room - 1)
            until = start + min(room, 1 + width_of(stretch.people))


def _draw_hours(canvas: Canvas, window: Window, zone: ZoneInfo, hours_12: bool) -> None:
    every = next((h for h in (1, 2, 3, 4, 6, 12) if h * 60 / window.minutes >= _LABEL_ROOM), 24)
    local = window.start.astimezone(zone)
    moment = window.start + timedelta(minutes=(60 - local.minute) % 60, seconds=-local.second)
    end = window.moment(window.columns)
    while moment < end:
        hour = moment.astimezone(zone).hour
        if hour % every == 0:
            label = f"{(hour - 1) % 12 + 1}{'a' if hour < 12 else 'p'}" if hours_12 else f"{hour:02d}"
            column = window.column(moment)
            if canvas.is_free(0, SIDE + column - 1, len(label) + 2):
                canvas.write(0, SIDE + column, label, Shade.QUIET)
        moment += timedelta(hours=1)
