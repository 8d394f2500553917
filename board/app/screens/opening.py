"""The Opening view on the screen."""

from collections.abc import Iterable, Sequence
from functools import partial

from textual.containers import Horizontal
from textual.events import Click
from textual.widget import Widget

from board.app.keys import OPENING, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.ledger.signers import Vouched
from board.views import names
from board.views.alarm_tables import warnings_table
from board.views.checks import PREFIX, READ, load_of_check
from board.views.empty_day import nothing_yet
from board.views.facts import Facts
from board.views.handover import AS_IT_STANDS, draft
from board.views.opening import Opening, opening
from board.views.opening_tables import (
    batches_table,
    cover_table,
    next_table,
    pits_table,
    since_table,
)
from board.views.opening_words import whose
from board.views.progress import Risk
from board.views.reference import parts
from board.views.subjects import load_told
from board.views.table import share
from board.views.text import width_of

_LOW_BELOW = (110, 30)  # columns and lines; with fewer, a list has the whole width and single lines
_GAP = 3
_LEAST = {"next": 8, "pits": 5, "cover": 5}
# lines of each list where the screen is low, the first that fit
_LEAST_LOW = (
    {"since": 5, "next": 7, "pits": 5, "cover": 4},
    {"since": 4, "next": 7, "pits": 5, "cover": 3},
    {"since": 4, "next": 6, "pits": 4, "cover": 3},
    {"since": 3, "next": 5, "pits": 4, "cover": 3},
    {"since": 2, "next": 4, "pits": 4, "cover": 3},
)
_ROOM_FOR_LONG = 30
_BATCHES_WIDE = 64
_WARNING_LINES, _WARNING_LINES_LOW = 4, 2


class OpeningScreen(ViewScreen):
    """Who just walked in reads what happened, what to do next, and how each load stands."""

    NAME = "opening"
    TELLS_ALARMS = False
    ACTS = OPENING
    FOOT_FIRST = ("opening-likely", "temperature", "handover", "remedies")
    BINDINGS = bindings(OPENING)
    AUTO_FOCUS = "#next"

    _view: Opening | None = None
    _mine = False  # whether only the work of whoever is at the keys is shown

    def body(self) -> Iterable[Widget]:
        """What to reckon with, two lists, the pits, and two lists again."""
        yield Panel(id="warnings")
        yield Horizontal(
            Panel(id="since", choose=True, from_top=True),
            Panel(id="next", choose=True, from_top=True),
            id="top",
        )
        yield Panel(id="pits", choose=True, from_top=True)
        yield Horizontal(
            Panel(id="batches", choose=True, from_top=True),
            Panel(id="cover", choose=True, from_top=True),
            id="bottom",
        )

    @property
    def low(self) -> bool:
        """Whether the screen has room for single lines only."""
        return self.size.width < _LOW_BELOW[0] or self.size.height < _LOW_BELOW[1]

    def refill(self, facts: Facts) -> None:
        """Fill the lists."""
        who, found = self.board.session.who, self.board.alarming.found
        self._view = opening(facts, self.board.revised, self.board.advising.worked_out, who, found)
        self._fill()

    def _fill(self) -> None:
        """Put the view into its lists, in as many words as the screen has room for."""
        view, low = self._view, self.low
        if view is None:
            return
        who = names.person_name(self.board.session.house, self.board.session.who)
        aside = whose(view, who, self.key, mine=self._mine)
        short = self.size.height < _ROOM_FOR_LONG
        most = _WARNING_LINES_LOW if short else _WARNING_LINES
        tables = {
            "warnings": warnings_table(view.alarms, view.warnings, self.key, most, whole=not short),
            "since": since_table(view, low=low),
            "next": next_table(view, aside, mine=self._mine, low=low, key=self.key),
            "pits": pits_table(view, low=low),
            "batches": batches_table(view, low=low),
            "cover": cover_table(view, low=low),
        }
        for id, table in tables.items():
            self.panel(id).tight = low and id != "warnings"
            self.panel(id).show(table)

    def quiet_word(self) -> str:
        """What to mind at the step under the cursor, or else soon; in one line on a low screen."""
        view = self._view
        if view is None:
            return ""
        chosen = self.panel("next").chosen
        mind = next((one.mind for one in view.next if chosen and one.key == chosen.key), None)
        if mind is None:
            return nothing_yet(self.board.facts, self.key) or next(iter(view.cautions), "")
        is_low = self.size.height < _ROOM_FOR_LONG and width_of(mind.text) > self.size.width - 2
        return mind.short if is_low and mind.short else mind.text

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another step, other things to mind."""
        if message.panel.id == "next":
            self.tell()

    def on_resize(self) -> None:
        """Say it in as many words as the new size has room for."""
        self._fill()
        super().on_resize()

    def fit_body(self) -> None:
        """Two lists beside each other, or each over the whole width when low; the longest gives way first."""
        width, low = self.size.width - 2, self.low
        self.set_class(low, "low")
        airy = not low or self.size.height >= _ROOM_FOR_LONG
        self.set_class(airy, "airy")
        room = self.room - self._fit_warnings(width) - (3 if airy else 0)
        lists = ("since", "next", "pits", "cover") if low else ("next", "pits", "cover")
        wide = self._widths(width)
        wants = [max(self.panel(each).wanted_height(wide[each]) for each in self._beside(id)) for id in lists]
        fits = [least for least in _LEAST_LOW if sum(least.values()) <= room]
        least = next(iter(fits), _LEAST_LOW[-1]) if low else _LEAST
        given = share(room, wants, [least[id] for id in lists])
        for id, height in zip(lists, given, strict=True):
            for each in self._beside(id):
                self.panel(each).styles.height = height
                self.panel(each).styles.width = wide[each]

    def _beside(self, id: str) -> tuple[str, ...]:
        """A list and the one that stands beside it."""
        if id == "cover":
            return ("batches", "cover")
        return ("since", "next") if id == "next" and not self.low else (id,)

    def _widths(self, width: int) -> dict[str, int]:
        """The columns of each list."""
        if self.low:
            left = max(width * 4 // 9, width - 48)
            whole = dict.fromkeys(("since", "next", "pits"), width)
            return {**whole, "batches": left, "cover": width - left - _GAP}
        left = max(30, width * 3 // 8)
        batches = min(_BATCHES_WIDE, width - 39)
        return {
            "since": left,
            "next": width - left - _GAP,
            "pits": width,
            "batches": batches,
            "cover": width - batches - _GAP,
        }

    def _fit_warnings(self, width: int) -> int:
        """Give the warnings their lines; how many they take."""
        panel = self.panel("warnings")
        panel.display = bool(panel.table.rows)
        low = self.size.height < _ROOM_FOR_LONG
        most = _WARNING_LINES_LOW if low else 2 * _WARNING_LINES
        lines = min(panel.wanted_height(width), most) if panel.display else 0
        panel.styles.height = lines
        return lines

    async def on_click(self, event: Click) -> None:
        """A press on the warnings lists them."""
        if event.widget is self.panel("warnings"):
            event.stop()
            await self.app.run_action("alarms")

    def action_remedies(self) -> None:
        """See what would help the chosen load, or the first in trouble where none that cooks is chosen."""
        key = self.chosen_load()
        if not self.board.cooks(key) and self._view:
            troubled = (row.key for row in self._view.standing if row.risk is not Risk.IN_TIME)
            key = next(filter(self.board.cooks, troubled), key)
        self.board.open_remedies(key)

    def chosen_load(self) -> str:
        """The load under the cursor, or the load of the step under it."""
        row = self._focused().chosen
        if row is None:
            return ""
        if self._focused().id == "pits":
            return row.key
        if self._focused().id == "since":
            return self._load_told(row.key)
        if self._focused().id == "cover":
            cover = self._view.cover if self._view else ()
            return next((one.load for one in cover if one.item == row.key), "")
        if row.key.startswith(PREFIX):
            return load_of_check(row.key)
        day, id = parts(row.key)
        plan = self.board.facts.plans.get(day)
        load = next((step.load for step in plan.steps if step.id == id), None) if plan else None
        return f"{day.isoformat()}/{load}" if load else ""

    def _load_told(self, key: str) -> str:
        """The load that a line of what happened is about."""
        entry = next((one for one in self.board.facts.since if str(one.seq) == key), None)
        return load_told(entry) if entry is not None else ""

    def chosen_step(self) -> str:
        """The step under the cursor."""
        row = self.panel("next").chosen
        return row.key if row and self.panel("next").has_focus else ""

    def chosen_place(self) -> str:
        """The place of the reading under the cursor, or its load."""
        row = self._focused().chosen
        if row is not None and row.key.startswith(f"{PREFIX}{READ}"):
            return row.key.removeprefix(f"{PREFIX}{READ}")
        return super().chosen_place()

    def _focused(self) -> Panel:
        return self.focused if isinstance(self.focused, Panel) else self.panel("next")

    def action_likely(self) -> None:
        """Mark the chosen step done, the chosen batch made or used; see a load or an entry by itself."""
        from board.app import acting, batch_acts

        panel = self._focused()
        row = panel.chosen
        if row is None:
            return
        board = self.board
        if panel.id == "since":
            self._look(row.key)
            return
        if panel.id in ("pits", "cover"):
            self._open_load()
            return
        if row.key.startswith(PREFIX):
            board.keeping.do(row.key)
            return
        acts = {
            "next": lambda: acting.mark_step(board.session, row.key),
            "batches": lambda: batch_acts.mark_batch(board.session, board.facts, row.key),
        }
        board.record(acts[panel.id or "next"])

    def _open_load(self) -> None:
        """See the chosen load, or the first of the chosen item's; without one, all of the service."""
        load = self.chosen_load()
        if load:
            self.board.open_load(load)
        else:
            self.call_later(self.board.run_action, "view('service')")

    def _look(self, key: str) -> None:
        """See an entry by itself; a line that sums up several is looked up in Record."""
        if key.isdigit():
            self.board.keeping.look(key, f"entry:{key}", None)
        else:
            self.call_later(self.board.run_action, "view('record')")

    def action_mine(self) -> None:
        """Show only the work of whoever is at the keys, or everyone's."""
        self._mine = not self._mine
        self._fill()
        self.tell()

    def action_handover(self) -> None:
        """Show what the next shift will read, ask what to add, and sign it."""
        from board.app import signing
        from board.app.dialogs.handover import HandoverDialog

        if self._view is not None:
            told = draft(self.board.facts, self._view, self.board.session.who)
            vouch = partial(signing.vouch, self.board, "signs the handover")
            self.app.push_screen(HandoverDialog(told, vouch, partial(self._sign, told)))

    def _sign(self, told: Sequence[str], text: str, vouched: Vouched | None) -> None:
        from board.app import acting

        words = text.strip() or AS_IT_STANDS
        self.board.write(lambda: acting.handover(self.board.session, words, told, vouched))
