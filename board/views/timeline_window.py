"""Which hours of a timeline are drawn: the whole day, or fewer drawn wider, moved to and fro within it."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

from board.house.spans import minutes_between
from board.views.timeline import Timeline

ZOOMS = (2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 30, 45, 60)
SIDE = 16


@dataclass(frozen=True, slots=True)
class Window:
    """Which stretch of time is drawn: its start, minutes a column, and columns for the hours."""

    start: datetime
    minutes: int
    columns: int

    @property
    def end(self) -> datetime:
        """The first moment right of it."""
        return self.start + timedelta(minutes=self.minutes * self.columns)

    def column(self, moment: datetime) -> int:
        """The column a moment falls in; may lie outside the window."""
        return int((moment - self.start).total_seconds() // (60 * self.minutes))

    def moment(self, column: int) -> datetime:
        """The middle of a column."""
        return self.start + timedelta(minutes=(column + 0.5) * self.minutes)

    def columns_of(self, start: datetime, end: datetime) -> range:
        """The visible columns from one moment to another."""
        return range(max(0, self.column(start)), min(self.columns, max(self.column(end), 0)))

    def holds(self, moment: datetime) -> bool:
        """Whether a moment falls in it."""
        return self.start <= moment < self.end


def whole(timeline: Timeline, width: int) -> Window:
    """The window that shows the whole timeline in so many terminal columns, as wide as they allow."""
    columns = max(10, width - SIDE)
    minutes = ceil(minutes_between(timeline.start, timeline.end) / columns)
    return Window(timeline.start, min(ZOOMS[-1], max(ZOOMS[0], minutes)), columns)


def resized(timeline: Timeline, window: Window, width: int) -> Window:
    """The same hours at the same scale in another width; the whole day stays the whole day."""
    if window == whole(timeline, SIDE + window.columns):
        return whole(timeline, width)
    return within(timeline, Window(window.start, window.minutes, max(10, width - SIDE)))


def within(timeline: Timeline, window: Window) -> Window:
    """The window moved no further than the ends of the day."""
    last = timeline.end - timedelta(minutes=window.minutes * window.columns)
    start = max(timeline.start, min(window.start, last))
    return Window(start, window.minutes, window.columns)


def panned(timeline: Timeline, window: Window, by: int) -> Window:
    """The hours moved by so many sixths of the width."""
    step = timedelta(minutes=by * window.minutes * max(1, window.columns // 6))
    return within(timeline, Window(window.start + step, window.minutes, window.columns))


def zoomed(timeline: Timeline, window: Window, by: int, about: datetime | None = None) -> Window:
    """The hours drawn wider (-1) or narrower (1), a moment or else the middle staying where it is.

    No narrower than the whole day.
    """
    fit = whole(timeline, SIDE + window.columns)
    if by < 0:
        minutes = max((zoom for zoom in ZOOMS if zoom < window.minutes), default=window.minutes)
    else:
        minutes = min((zoom for zoom in ZOOMS if zoom > window.minutes), default=window.minutes)
    if minutes >= fit.minutes:
        return fit
    column = window.column(about) if about is not None and window.holds(about) else window.columns // 2
    start = window.moment(column) - timedelta(minutes=(column + 0.5) * minutes)
    return within(timeline, Window(start, minutes, window.columns))


def showing(timeline: Timeline, window: Window, start: datetime, end: datetime) -> Window:
    """The window moved only as far as it takes to hold a stretch, or its beginning where it is too long."""
    if window.holds(start) and (window.holds(end) or end - start > window.end - window.start):
        return window
    length, margin = window.end - window.start, timedelta(minutes=2 * window.minutes)
    if start < window.start or end - start + 2 * margin > length:
        return within(timeline, Window(start - margin, window.minutes, window.columns))
    return within(timeline, Window(end + margin - length, window.minutes, window.columns))
