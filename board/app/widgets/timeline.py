"""The timeline on the screen: drawn once for each window of time, then given out line by line."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from textual.events import Click
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from board.app.keys import LIST, bindings
from board.app.widgets.strips import blank, dots_strip
from board.views.canvas import DrawnLine
from board.views.timeline import Timeline
from board.views.timeline_drawing import SIDE, ZOOMS, Window, draw, whole


class TimelineView(Widget, can_focus=True):
    """Pits down, hours across; arrows choose a load, pan and zoom the hours."""

    BINDINGS = bindings(LIST)

    class Moved(Message):
        """Another load is chosen."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._timeline: Timeline | None = None
        self._zone = ZoneInfo("UTC")
        self._hours_12 = False
        self._chosen = ""
        self._window: Window | None = None
        self._first = 0
        self._lines: list[DrawnLine] = []
        self._strips: dict[tuple[str, int], Strip] = {}

    def show(self, timeline: Timeline, zone: ZoneInfo, *, hours_12: bool, chosen: str) -> None:
        """Show a timeline with one load chosen; the window stays while the day is the same."""
        same_day = self._timeline is not None and self._timeline.start == timeline.start
        changed = timeline != self._timeline or chosen != self._chosen
        self._timeline, self._zone, self._hours_12, self._chosen = timeline, zone, hours_12, chosen
        if not same_day:
            self._window = None
        if changed:
            self._draw()

    @property
    def wanted_height(self) -> int:
        """Lines the whole timeline takes."""
        if self._timeline is None:
            return 1
        return 3 + sum(pit.lanes + 1 for pit in self._timeline.pits)

    @property
    def roomy_height(self) -> int:
        """Lines it takes with a blank line under each pit."""
        return self.wanted_height + (len(self._timeline.pits) if self._timeline else 0)

    def keys(self) -> list[str]:
        """The loads in the order the arrows go: pit by pit, by time."""
        pits = self._timeline.pits if self._timeline else ()
        return [bar.key for pit in pits for bar in sorted(pit.bars, key=lambda b: (b.load_at, b.key))]

    def action_cursor(self, by: int) -> None:
        """Choose the load so many places on."""
        keys = self.keys()
        if keys:
            at = keys.index(self._chosen) if self._chosen in keys else 0
            self.post_message(self.Moved(keys[min(len(keys) - 1, max(0, at + by))]))

    def pan(self, by: int) -> None:
        """Move the hours by a sixth of the width."""
        window = self._window_now()
        step = timedelta(minutes=by * window.minutes * max(1, window.columns // 6))
        self._window = Window(window.start + step, window.minutes, window.columns)
        self._draw()

    def zoom(self, by: int) -> None:
        """Draw the hours wider or narrower, the middle staying where it is."""
        window = self._window_now()
        at = min(len(ZOOMS) - 1, max(0, ZOOMS.index(window.minutes) + by))
        middle = window.moment(window.columns // 2)
        start = middle - timedelta(minutes=ZOOMS[at] * window.columns / 2)
        self._window = Window(start, ZOOMS[at], window.columns)
        self._draw()

    def on_resize(self) -> None:
        """Fit the whole day in the new width."""
        self._window = None
        self._draw()

    def on_click(self, event: Click) -> None:
        """Choose the load whose line was clicked, the one nearest in time."""
        line = event.y if event.y < 2 else event.y + self._first
        if not 0 <= line < len(self._lines) or self._timeline is None:
            return
        moment = self._window_now().moment(event.x - SIDE)
        bars = [b for p in self._timeline.pits for b in p.bars if b.key in self._lines[line].keys]
        if bars:
            nearest = min(bars, key=lambda b: abs((b.load_at + (b.needed_at - b.load_at) / 2) - moment))
            self.post_message(self.Moved(nearest.key))

    def _window_now(self) -> Window:
        assert self._timeline is not None
        return self._window or whole(self._timeline, self.size.width)

    def _draw(self) -> None:
        before = self._lines
        if self._timeline is None or self.size.width < SIDE + 10:
            self._lines = []
        else:
            self._lines = draw(
                self._timeline,
                self._window_now(),
                self._zone,
                hours_12=self._hours_12,
                selected=self._chosen,
                gap=1 if self.size.height >= self.roomy_height else 0,
            )
        self._keep_in_sight()
        both = enumerate(zip(before, self._lines, strict=False))
        same = {line for line, (old, new) in both if old.dots == new.dots}
        self._strips = {of: strip for of, strip in self._strips.items() if of[1] in same}
        self.refresh()

    def _keep_in_sight(self) -> None:
        """The chosen load's line stays in sight; hours and crew stay on top."""
        room = self.size.height - 2
        at = next((i for i, line in enumerate(self._lines) if self._chosen in line.keys), 2)
        self._first = max(0, min(self._first, at - 2, len(self._lines) - self.size.height))
        self._first = max(self._first, at + 2 - room - 1 if at + 2 > room else 0)
        self._first = max(0, min(self._first, max(0, len(self._lines) - self.size.height)))

    def render_line(self, y: int) -> Strip:
        """One line: the two heads stay, the pits scroll under them."""
        line = y if y < 2 else y + self._first
        theme = self.app.theme
        if line >= len(self._lines):
            return blank(theme, self.size.width)
        if (theme, line) not in self._strips:
            self._strips[theme, line] = dots_strip(theme, self._lines[line].dots, self.size.width)
        return self._strips[theme, line]
