"""Drawing a timeline: hours and crew on top, each pit's loads in lanes, its fires and room, the hold."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import zip_longest
from zoneinfo import ZoneInfo

from board.views.canvas import BLANK, Canvas, Dot, DrawnLine, Shade
from board.views.text import block, width_of
from board.views.timeline import Bar, Crew, Fire, PitRow, Timeline, Use
from board.views.timeline_bars import draw_lane, with_chosen
from board.views.timeline_window import SIDE, Window

HEADS = 2
_LABEL_ROOM = 5


@dataclass(frozen=True, slots=True)
class Drawing:
    """A timeline drawn with no load chosen: the two heads, and the pits' lines without their names."""

    timeline: Timeline
    window: Window
    heads: tuple[DrawnLine, ...]
    lines: tuple[DrawnLine, ...]
    gap: int = 0

    def find(self, key: str) -> tuple[int, Bar] | None:
        """The line of a load and its bar."""
        bars = (bar for pit in self.timeline.pits for bar in pit.bars)
        bar = next((bar for bar in bars if bar.key == key), None)
        row = next((i for i, line in enumerate(self.lines) if key in line.keys), None)
        return None if bar is None or row is None else (row, bar)

    def chosen(self, key: str) -> tuple[DrawnLine, ...]:
        """The pits' lines with one load chosen."""
        found = self.find(key)
        if found is None:
            return self.lines
        row, bar = found
        return (*self.lines[:row], with_chosen(self.lines[row], self.window, bar), *self.lines[row + 1 :])


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
    drawn = drawing(timeline, window, zone, hours_12=hours_12, gap=gap)
    return [*drawn.heads, *with_names(timeline, drawn.chosen(selected))]


def drawing(
    timeline: Timeline, window: Window, zone: ZoneInfo, *, hours_12: bool = False, gap: int = 0
) -> Drawing:
    """The timeline drawn with no load chosen, `gap` lines between the pits.

    Less than none has a pit without loads on one line.
    """
    tops = _tops(timeline, gap)
    height = tops[-1] + 1
    canvas = Canvas(SIDE + window.columns, height)
    keys: list[tuple[str, ...]] = [()] * height
    pits: list[int | None] = [None] * height
    for place, (top, pit) in enumerate(zip(tops, timeline.pits, strict=False)):
        for lane in range(pit.lanes):
            bars = [bar for bar in pit.bars if bar.lane == lane]
            draw_lane(canvas, window, HEADS + top + lane, bars)
            keys[HEADS + top + lane] = tuple(bar.key for bar in bars)
        tall = lines_of(pit, gap)
        _draw_fires(canvas, window, HEADS + top + tall - 1, pit)
        pits[HEADS + top : HEADS + top + tall] = [place] * tall
    canvas.write(height - 1, 1, "hold", Shade.QUIET)
    _draw_use(canvas, window, height - 1, timeline.hold, Shade.HOLD)
    _draw_services(canvas, window, timeline, height)
    _draw_now(canvas, window, timeline, height)
    _draw_crew(canvas, window, timeline.crew)
    _draw_hours(canvas, window, zone, hours_12)
    lines = [DrawnLine(*line) for line in zip(canvas.lines(), keys, pits, strict=True)]
    return Drawing(timeline, window, tuple(lines[:HEADS]), tuple(lines[HEADS:]), gap)


def _tops(timeline: Timeline, gap: int) -> list[int]:
    """The first line of each pit below the heads, and last the number of lines with the heads, less one."""
    tops, line = [], 0
    for pit in timeline.pits:
        tops.append(line)
        line += lines_of(pit, gap) + max(0, gap)
    return [*tops, HEADS + line]


def lines_of(pit: PitRow, gap: int = 0) -> int:
    """The lines a pit takes: its lanes and the strip under them."""
    return 1 if gap < 0 and not pit.bars else pit.lanes + 1


def with_names(timeline: Timeline, lines: Iterable[DrawnLine]) -> list[DrawnLine]:
    """Lines with their pit's name and kind before the first two of each pit, whichever these are."""
    named: list[DrawnLine] = []
    told = [0] * len(timeline.pits)
    for line in lines:
        if line.pit is None or told[line.pit] == len(_NAMES):
            named.append(line)
        else:
            named.append(_named(line, timeline.pits[line.pit], told[line.pit]))
            told[line.pit] += 1
    return named


def _named(line: DrawnLine, pit: PitRow, which: int) -> DrawnLine:
    canvas = Canvas.of(line.dots)
    tell, ink = _NAMES[which]
    canvas.write(0, 1, tell(pit), ink, room=SIDE - 1)
    return DrawnLine(canvas.lines()[0], line.keys, line.pit)


def _kind(pit: PitRow) -> str:
    """What kind of pit it is, and its setpoint where it has but one."""
    setpoints = {fire.setpoint for fire in pit.fires}
    return f"{pit.kind} {setpoints.pop()}" if len(setpoints) == 1 else pit.kind


_NAMES: tuple[tuple[Callable[[PitRow], str], Shade], ...] = (
    (lambda pit: pit.name, Shade.STRONG),
    (_kind, Shade.QUIET),
)


def _draw_fires(canvas: Canvas, window: Window, row: int, pit: PitRow) -> None:
    """How full a pit is, and each change of its fire where it is made: lit, then at which setpoint."""
    for fire in pit.fires:
        for column in window.columns_of(fire.lit_at, fire.loaded_at):
            canvas.put(row, SIDE + column, Dot("·", Shade.HEAT))
    _draw_use(canvas, window, row, pit.use, Shade.ROOM)
    fires = sorted(pit.fires, key=lambda fire: fire.lit_at)
    for fire, after in zip_longest(fires, fires[1:]):
        until = window.columns if after is None else min(window.columns, window.column(after.lit_at))
        _draw_step(canvas, window, row, fire, until)


def _draw_step(canvas: Canvas, window: Window, row: int, fire: Fire, until: int) -> None:
    """The word for a change of the fire: while it warms up, or over the first of what it cooks."""
    column = window.column(fire.lit_at)
    room = window.column(fire.loaded_at) - column
    word = f"lit {fire.setpoint}"
    if column < 0 < window.column(fire.until):
        column = room = 0
    elif fire.is_change:
        room, word = until - column, f"→{fire.setpoint}"
    text = word if width_of(word) <= room else fire.setpoint
    if column >= 0 and column + width_of(text) <= until:
        canvas.write(row, SIDE + column, text, Shade.HEAT, over=True)


def _draw_use(canvas: Canvas, window: Window, row: int, uses: Sequence[Use], ink: Shade) -> None:
    for part in uses:
        for column in window.columns_of(part.start, part.end):
            over = part.fraction > 1.0 + 1e-6
            dot = Dot("▲", Shade.LATE) if over else Dot(block(part.fraction), ink)
            canvas.put(row, SIDE + column, dot)


def _draw_services(canvas: Canvas, window: Window, timeline: Timeline, height: int) -> None:
    """A line down for each service and order, and its name, or a mark, among the hours."""
    for mark in timeline.services:
        ink = Shade.QUIET if mark.is_order else Shade.SERVICE
        _draw_moment(canvas, window.column(mark.at), range(HEADS, height), Dot("┊", ink))
        _head(canvas, window, window.column(mark.at), (mark.name, *mark.shorter), ink)


def _draw_now(canvas: Canvas, window: Window, timeline: Timeline, height: int) -> None:
    column = window.column(timeline.now)
    _draw_moment(canvas, column, range(1, height), Dot("╎", Shade.NOW))
    _head(canvas, window, column, ("now",), Shade.NOW)


def _draw_moment(canvas: Canvas, column: int, rows: range, dot: Dot) -> None:
    """A line down through what is blank."""
    if 0 <= column < canvas.width - SIDE:
        for row in rows:
            if canvas.at(row, SIDE + column) == BLANK:
                canvas.put(row, SIDE + column, dot)


def _head(canvas: Canvas, window: Window, column: int, texts: Sequence[str], ink: Shade) -> None:
    """The first of some texts that has room over a column among the hours."""
    if not 0 <= column < window.columns:
        return
    for text in texts:
        wide = width_of(text)
        before = 0 if text == texts[-1] else wide // 2
        start = SIDE + min(max(0, column - before), window.columns - wide)
        if canvas.is_free(0, start - 1, min(wide + 2, canvas.width - start + 1)):
            canvas.write(0, start, text, ink)
            return


def _draw_crew(canvas: Canvas, window: Window, crew: Sequence[Crew]) -> None:
    canvas.write(1, 1, "crew", Shade.QUIET)
    until = -1
    for stretch in crew:
        start = max(window.column(stretch.start), until + 1, 0)
        room = min(window.column(stretch.end), window.columns) - start
        if room >= _LABEL_ROOM:
            people = stretch.people if width_of(stretch.people) < room else _fewer(stretch.people)
            canvas.write(1, SIDE + start, "├", Shade.QUIET)
            canvas.write(1, SIDE + start + 1, people, Shade.QUIET, room=room - 1)
            until = start + min(room, 1 + width_of(people))


def _fewer(people: str) -> str:
    """The first by name and how many more there are: `Hanno +1`."""
    first, *others = people.split(", ")
    return f"{first} +{len(others)}" if others else first


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
