"""The day's timeline as a widget: it keeps its hours, its cursor and its lines; views.timeline_* draw."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from textual.events import Click, MouseEvent, MouseScrollDown, MouseScrollUp
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from board.app.keys import TIMELINE, bindings
from board.app.widgets.strips import blank, dots_strip
from board.views.canvas import DrawnLine
from board.views.timeline import Bar, Timeline
from board.views.timeline_bars import columns_of
from board.views.timeline_drawing import HEADS, Drawing, drawing, lines_of
from board.views.timeline_sight import in_sight
from board.views.timeline_window import SIDE, Window, panned, resized, showing, whole, zoomed

_LEAST_HOURS = 10
_TIGHT = -1  # a gap that has pits without loads on one line
_STRIPS_KEPT = 400


class TimelineView(Widget, can_focus=True):
    """Pits down, hours across; arrows choose a load, pan and zoom the hours."""

    BINDINGS = bindings(TIMELINE)

    class Moved(Message):
        """Another load is chosen."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    class ReadOn(Message):
        """More of what is told of the chosen load is asked for."""

        def __init__(self, by: int) -> None:
            super().__init__()
            self.by = by

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._timeline: Timeline | None = None
        self._zone = ZoneInfo("UTC")
        self._hours_12 = False
        self._chosen = ""
        self._window: Window | None = None
        self._drawn: Drawing | None = None
        self._first = 0
        self._lines: tuple[DrawnLine, ...] = ()
        self._strips: dict[object, Strip] = {}

    def show(self, timeline: Timeline, zone: ZoneInfo, *, hours_12: bool, chosen: str) -> None:
        """Show a timeline with one load chosen; the hours stay while the day is the same."""
        known = self._timeline
        if known is None or known.start != timeline.start:
            self._window = None
        if timeline is not known and timeline != known:
            self._timeline, self._zone, self._hours_12 = timeline, zone, hours_12
            self._drawn = None
        if chosen != self._chosen:
            self._chosen = chosen
            self._bring_in()
        self._look()

    @property
    def wanted_height(self) -> int:
        """Lines the whole timeline takes."""
        if self._timeline is None:
            return 1
        return HEADS + sum(lines_of(pit) for pit in self._timeline.pits) + 1

    @property
    def roomy_height(self) -> int:
        """Lines it takes with a blank line under each pit, and what its signs mean."""
        return self.wanted_height + (len(self._timeline.pits) + 2 if self._timeline else 0)

    def keys(self) -> list[str]:
        """The loads in the order the arrows go: pit by pit, by time."""
        return [bar.key for bars in self._bars() for bar in bars]

    def _bars(self) -> list[list[Bar]]:
        """Each pit's bars by time."""
        pits = self._timeline.pits if self._timeline else ()
        return [sorted(pit.bars, key=lambda b: (b.load_at, b.key)) for pit in pits]

    def action_cursor(self, by: int) -> None:
        """Choose the load so many places on."""
        keys = self.keys()
        if keys:
            at = keys.index(self._chosen) if self._chosen in keys else 0
            self.post_message(self.Moved(keys[min(len(keys) - 1, max(0, at + by))]))

    def action_pit(self, by: int) -> None:
        """Choose the first load of the next pit that has any, or of the one before; round at the ends."""
        firsts = [[bar.key for bar in bars] for bars in self._bars() if bars]
        if firsts:
            here = next((i for i, keys in enumerate(firsts) if self._chosen in keys), 0)
            self.post_message(self.Moved(firsts[(here + by) % len(firsts)][0]))

    def action_fit(self) -> None:
        """Draw the whole day."""
        self._change(None)

    def action_read_on(self, by: int) -> None:
        """Read on in what is told of the chosen load."""
        self.post_message(self.ReadOn(by))

    def pan(self, by: int) -> None:
        """Move the hours by a sixth of the width."""
        if self._timeline is not None:
            self._change(panned(self._timeline, self._window_now(), by))

    def zoom(self, by: int, about: datetime | None = None) -> None:
        """Draw the hours wider or narrower about a moment, or about the chosen load."""
        if self._timeline is not None:
            bar = self._chosen_bar()
            about = about or (bar.load_at + (bar.pull.p50 - bar.load_at) / 2 if bar else None)
            self._change(zoomed(self._timeline, self._window_now(), by, about))

    def on_resize(self) -> None:
        """Keep the hours in the new width; the whole day stays whole."""
        if self._window is not None and self._timeline is not None:
            self._window = resized(self._timeline, self._window, self.size.width)
        self._drawn = None
        self._look()

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        """Closer, about the pointer; with shift, earlier."""
        self._wheel(event, -1)

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        """Wider, about the pointer; with shift, later."""
        self._wheel(event, 1)

    def on_mouse_scroll_left(self) -> None:
        """Earlier."""
        self.pan(-1)

    def on_mouse_scroll_right(self) -> None:
        """Later."""
        self.pan(1)

    def _wheel(self, event: MouseEvent, by: int) -> None:
        event.stop()
        if event.shift:
            self.pan(by)
        elif self._timeline is not None:
            self.zoom(by, self._window_now().moment(event.x - SIDE))

    def on_click(self, event: Click) -> None:
        """Choose the load under the pointer, or the one of its line that is nearest in time."""
        keys = self._lines[event.y].keys if event.y < len(self._lines) else ()
        window, column = self._window_now(), event.x - SIDE
        bars = [bar for bars in self._bars() for bar in bars if bar.key in keys]
        if bars:
            self.post_message(self.Moved(min(bars, key=lambda bar: _away(window, bar, column)).key))

    def _window_now(self) -> Window:
        assert self._timeline is not None
        return self._window or whole(self._timeline, self.size.width)

    def _chosen_bar(self) -> Bar | None:
        return next((bar for bars in self._bars() for bar in bars if bar.key == self._chosen), None)

    def _bring_in(self) -> None:
        """Move the hours to where the chosen load is, where it is not seen."""
        bar = self._chosen_bar()
        if self._window is not None and bar is not None and self._timeline is not None:
            window = showing(self._timeline, self._window, bar.load_at, bar.end)
            self._drawn = self._drawn if window == self._window else None
            self._window = window

    def _change(self, window: Window | None) -> None:
        if window != self._window:
            self._window, self._drawn = window, None
            self._look()

    def _look(self) -> None:
        """Work out what is seen, and paint the lines that are not as they were."""
        lines: tuple[DrawnLine, ...] = ()
        if self._timeline is not None and self.size.width >= SIDE + _LEAST_HOURS:
            sight = in_sight(self._drawing(self._timeline), self._chosen, self.size.height, self._first)
            self._first, lines = sight.first, sight.lines
        before, self._lines = self._lines, lines
        if len(before) != len(lines):
            self.refresh()
            return
        changed = [y for y, (old, new) in enumerate(zip(before, lines, strict=True)) if old.dots != new.dots]
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    def _drawing(self, timeline: Timeline) -> Drawing:
        height = self.size.height
        gap = 1 if height >= self.roomy_height else 0 if height >= self.wanted_height else _TIGHT
        if self._drawn is None or self._drawn.gap != gap:
            window = self._window_now()
            self._drawn = drawing(timeline, window, self._zone, hours_12=self._hours_12, gap=gap)
        return self._drawn

    def render_line(self, y: int) -> Strip:
        """One line, as it was painted before where it says the same."""
        theme, width = self.app.theme, self.size.width
        if y >= len(self._lines):
            return blank(theme, width)
        key = (theme, width, self._lines[y].dots)
        if key not in self._strips:
            if len(self._strips) >= _STRIPS_KEPT:
                self._strips.clear()
            self._strips[key] = dots_strip(theme, self._lines[y].dots, width)
        return self._strips[key]


def _away(window: Window, bar: Bar, column: int) -> int:
    """How many columns a bar is from one; none where it lies on it."""
    seen = columns_of(window, bar)
    if not seen:
        return window.columns
    return max(seen.start - column, column - seen.stop + 1, 0)
