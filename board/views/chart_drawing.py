"""Drawing a load's chart on a canvas: lines in braille dots, the span ahead as a ground that fades."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from board.house.spans import TimeSpan, minutes_between
from board.views.canvas import Canvas, Dot, DrawnLine, Shade
from board.views.chart import Ahead, Air, Chart, Moment, Point, Read, is_in, value_at
from board.views.chart_words import Words
from board.views.fed import Gap
from board.views.progress import Risk
from board.views.text import block, width_of

GUTTER = 5
LABELS = 2  # rows over the plot: now and when it is needed, then the load's own moments
LEAST_ROWS = 4
_DOT = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))  # braille: row by column within a cell
_BRAILLE = 0x2800
_AIR_BELOW_K, _AIR_ABOVE_K = 30.0, 15.0


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the plot lies and what a place in it means."""

    chart: Chart
    columns: int
    top: int
    rows: int

    def place(self, moment: datetime) -> float:
        """Columns from the plot's left edge, a fraction."""
        return (moment - self.chart.start) / (self.chart.end - self.chart.start) * self.columns

    def column(self, moment: datetime) -> int:
        """The canvas column a moment falls in."""
        return GUTTER + int(self.place(moment) // 1)

    def moment(self, place: float) -> datetime:
        """The moment at so many columns from the left edge."""
        return self.chart.start + (self.chart.end - self.chart.start) * (place / self.columns)

    def height(self, celsius: float) -> float:
        """Rows from the plot's top, a fraction; what is off the axis lies at its edge."""
        span = self.chart.high_c - self.chart.low_c
        share = (self.chart.high_c - celsius) / span
        return min(max(share, 0.0), 0.9999) * self.rows

    def row(self, celsius: float) -> int:
        """The canvas row a core falls in."""
        return self.top + int(self.height(celsius))

    def celsius(self, row: int) -> float:
        """The core at the middle of a canvas row."""
        span = self.chart.high_c - self.chart.low_c
        return self.chart.high_c - (row - self.top + 0.5) / self.rows * span

    def inside(self, column: int) -> bool:
        """Whether a canvas column is in the plot."""
        return GUTTER <= column < GUTTER + self.columns


def draw(chart: Chart, width: int, height: int, words: Words) -> list[DrawnLine]:
    """The chart in exactly so many columns and rows."""
    air_rows = 1 if chart.air and chart.air.read and height >= LABELS + LEAST_ROWS + 2 else 0
    labels = LABELS if chart.now or chart.needed_at else 1
    rows = max(1, height - labels - 1 - air_rows)
    frame = Frame(chart, max(1, width - GUTTER), labels, rows)
    canvas = Canvas(width, height)
    _degrees(canvas, frame, words)
    _pull_line(canvas, frame)
    _line(canvas, frame, chart.course, Shade.QUIET, dotted=True)
    if chart.ahead:
        _band(canvas, frame, chart.ahead)
        _line(canvas, frame, chart.ahead.middle, Shade.STRONG)
    _line(canvas, frame, chart.so_far, Shade.HEAT, gaps=chart.gaps)
    _stall(canvas, frame)
    _uprights(canvas, frame)
    _moments(canvas, frame, words)
    _reads(canvas, frame, chart.reads)
    if air_rows and chart.air:
        _air(canvas, frame, chart.air, words)
    _hours(canvas, frame, height - 1, words)
    return [DrawnLine(row) for row in canvas.lines()]


def _degrees(canvas: Canvas, frame: Frame, words: Words) -> None:
    """Temperatures down the side, the pull's among them in strong ink."""
    chart = frame.chart
    wanted = (chart.high_c - chart.low_c) * 3 / frame.rows
    pull = frame.row(chart.pull_c)
    for celsius in words.ticks(chart.low_c, chart.high_c, wanted):
        if abs(frame.row(celsius) - pull) > 1:
            canvas.write(frame.row(celsius), 0, words.degrees(celsius).rjust(GUTTER - 1), Shade.QUIET)
    canvas.write(pull, 0, words.degrees(chart.pull_c).rjust(GUTTER - 1), Shade.STRONG)


def _pull_line(canvas: Canvas, frame: Frame) -> None:
    row = frame.row(frame.chart.pull_c)
    for column in range(GUTTER, GUTTER + frame.columns):
        canvas.put(row, column, Dot("─", Shade.PLAIN))
    canvas.write(row, GUTTER, " pull ", Shade.STRONG)


def _line(
    canvas: Canvas,
    frame: Frame,
    line: Sequence[Point],
    ink: Shade,
    *,
    dotted: bool = False,
    gaps: Sequence[Gap] = (),
) -> None:
    """A line in braille dots, joined up from one column of dots to the next, but for gaps."""
    cells: dict[tuple[int, int], int] = {}
    before: int | None = None
    for fine in range(2 * frame.columns):
        moment = frame.moment((fine + 0.5) / 2)
        value = value_at(line, moment)
        if value is None or is_in(gaps, moment):
            before = None
            continue
        at = int(frame.height(value) * 4)
        steps = range(
            min(at, at if before is None else before), max(at, at if before is None else before) + 1
        )
        before = at
        if dotted and fine % 4 >= 2:
            continue
        for dot in steps:
            place = (frame.top + dot // 4, GUTTER + fine // 2)
            cells[place] = cells.get(place, 0) | _DOT[dot % 4][fine % 2]
    for (row, column), dots in cells.items():
        under = canvas.at(row, column)
        canvas.put(row, column, Dot(chr(_BRAILLE + dots), ink, under.ground, under.level))


def _band(canvas: Canvas, frame: Frame, ahead: Ahead) -> None:
    """Where the core likely is: strongest where the middle course runs, fading to the soonest and latest."""
    top_c = ahead.middle[-1][1]
    for row in range(frame.row(top_c), frame.top + frame.rows):
        core_c = min(frame.celsius(row), top_c)
        times = [_when(line, core_c) for line in (ahead.soonest, ahead.middle, ahead.latest)]
        ends = [time for time in times if time is not None]
        if len(ends) == 3:
            _band_row(canvas, frame, row, TimeSpan(*ends))


def _band_row(canvas: Canvas, frame: Frame, row: int, there: TimeSpan) -> None:
    """One row of the band: when the core likely comes to this height."""
    for column in range(max(GUTTER, frame.column(there.p10)), frame.column(there.p90) + 1):
        if not frame.inside(column):
            continue
        moment = frame.moment(column - GUTTER + 0.5)
        side = there.p50 - there.p10 if moment < there.p50 else there.p90 - there.p50
        off = abs(moment - there.p50)
        level = max(0.08, 1.0 - off / side) if side > timedelta(0) else 1.0
        canvas.put(row, column, Dot(":" if level > 0.5 else "·", Shade.QUIET, Shade.FINISH, level))


def _when(line: Sequence[Point], core_c: float) -> datetime | None:
    """When a line comes to a core; its end for a core it just misses."""
    found = next((i for i, point in enumerate(line) if point[1] >= core_c), None)
    if found is None:
        return line[-1][0] if line and core_c - line[-1][1] < 1.0 else None
    if found == 0:
        return line[0][0] if core_c >= line[0][1] - 1.0 else None
    (t0, c0), (t1, c1) = line[found - 1], line[found]
    return t0 + (t1 - t0) * ((core_c - c0) / (c1 - c0))


def _stall(canvas: Canvas, frame: Frame) -> None:
    """The stall's stretch along the foot of the plot."""
    stall = frame.chart.stall
    if stall is None:
        return
    row = frame.top + frame.rows - 1
    first, last = max(GUTTER, frame.column(stall.start)), frame.column(stall.end)
    last = min(last, GUTTER + frame.columns - 1)
    if last - first < width_of(stall.name) + 3:
        return
    for column in range(first, last + 1):
        canvas.put(row, column, Dot("─", Shade.QUIET))
    canvas.put(row, first, Dot("├", Shade.QUIET))
    canvas.put(row, last, Dot("┤", Shade.QUIET))
    middle = first + (last - first + 1 - width_of(stall.name)) // 2
    canvas.write(row, middle - 1, f" {stall.name} ", Shade.QUIET)


def _uprights(canvas: Canvas, frame: Frame) -> None:
    """Now and the time it is needed, from top to foot, behind what is drawn already."""
    chart = frame.chart
    late = chart.risk is Risk.LATE
    for moment, glyph, ink in (
        (chart.needed_at, "┊", Shade.LATE if late else Shade.SERVICE),
        (chart.now, "╎", Shade.NOW),
    ):
        column = frame.column(moment) if moment else -1
        if not frame.inside(column):
            continue
        for row in range(frame.top, frame.top + frame.rows):
            under = canvas.at(row, column)
            if under.glyph in " ─:·":
                canvas.put(row, column, Dot(glyph, ink, under.ground, under.level))


def _moments(canvas: Canvas, frame: Frame, words: Words) -> None:
    """Moments by name over the plot: now and needed above, the load's own below them."""
    chart = frame.chart
    late = chart.risk is Risk.LATE
    if chart.now:
        _label(canvas, frame, words, Moment(chart.now, "now"), row=0, ink=Shade.NOW)
    if chart.needed_at:
        needed = Moment(chart.needed_at, "needed" + (" ▲" if late else ""))
        _label(canvas, frame, words, needed, row=0, ink=Shade.LATE if late else Shade.SERVICE)
    for moment in chart.moments:
        _label(
            canvas, frame, words, moment, row=frame.top - 1, ink=Shade.QUIET if moment.faint else Shade.STRONG
        )
        column, row = frame.column(moment.at), _row_of(frame, moment.at)
        if row is not None and frame.inside(column):
            under = canvas.at(row, column)
            sign = "╱" if moment.name.startswith("wrap") else "│"
            canvas.put(row, column, Dot(sign, Shade.STRONG, under.ground, under.level))


def _row_of(frame: Frame, moment: datetime) -> int | None:
    """The row in which the load's own line stands at a moment."""
    chart = frame.chart
    lines = (chart.so_far, chart.ahead.middle if chart.ahead else chart.course)
    values = [value for line in lines if (value := value_at(line, moment)) is not None]
    return frame.row(values[0]) if values else None


def _label(canvas: Canvas, frame: Frame, words: Words, moment: Moment, *, row: int, ink: Shade) -> None:
    """A moment's name and clock over its column, where there is room."""
    column = frame.column(moment.at)
    beyond = column >= GUTTER + frame.columns
    if column < GUTTER:
        return
    text = f"{moment.name} {words.clock(moment.at)}"
    said = f"{text} →" if beyond else text
    wide = width_of(said)
    start = min(max(GUTTER, column - wide // 2), canvas.width - wide)
    if start >= GUTTER and canvas.is_free(row, start - 1, wide + 1):
        canvas.write(row, start, said, ink)


def _reads(canvas: Canvas, frame: Frame, reads: Iterable[Read]) -> None:
    """Readings as marks: full ones count, hollow ones were left out; what a probe fed is in the line."""
    for read in reads:
        column = frame.column(read.at)
        if frame.inside(column) and not (read.fed and read.counts):
            row = frame.row(read.core_c)
            under = canvas.at(row, column)
            dot = Dot("●", Shade.STRONG) if read.counts else Dot("○", Shade.QUIET)
            canvas.put(row, column, Dot(dot.glyph, dot.ink, under.ground, under.level))


def _air(canvas: Canvas, frame: Frame, air: Air, words: Words) -> None:
    """The pit's air in a row under the plot, as blocks about what was asked, a sign where it fell too low."""
    row = frame.top + frame.rows
    canvas.write(row, 0, "air".rjust(GUTTER - 1), Shade.QUIET)
    low, span = air.asked_c - _AIR_BELOW_K, _AIR_BELOW_K + _AIR_ABOVE_K
    last = GUTTER
    for column in range(frame.columns):
        moment = frame.moment(column + 0.5)
        value = value_at(air.read, moment)
        if value is not None and not is_in(air.gaps, moment):
            fell = value < air.asked_c - air.band_c
            level = max(0.125, (value - low) / span)
            canvas.put(row, GUTTER + column, Dot("▼", Shade.LATE) if fell else Dot(block(level), Shade.ROOM))
            last = GUTTER + column + 1
    said = f" {words.degrees(air.read[-1][1])} at {words.clock(air.read[-1][0])}"
    asked = f"{said}, {words.degrees(air.asked_c)} asked"
    text = asked if width_of(asked) <= canvas.width - last else said
    canvas.write(row, last, text, Shade.PLAIN)


def _hours(canvas: Canvas, frame: Frame, row: int, words: Words) -> None:
    """The hours along the foot."""
    chart = frame.chart
    minutes = minutes_between(chart.start, chart.end) / frame.columns
    every = next((h for h in (1, 2, 3, 4, 6, 12) if h * 60 / minutes >= 5), 24)
    for moment, label in words.hours(chart.start, chart.end, every):
        start = frame.column(moment)
        if start + width_of(label) <= canvas.width:
            canvas.write(row, start, label, Shade.QUIET)
