"""One load's page on the screen."""

from collections.abc import Iterable
from dataclasses import replace

from textual.containers import Horizontal
from textual.widget import Widget

from board.app import acting
from board.app.keys import LOAD, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.chart import ChartView
from board.app.widgets.panel import Panel
from board.house.calendar import zone
from board.views.chart_words import Words
from board.views.facts import Facts, all_loads, find_load
from board.views.load_page import load_page
from board.views.load_page_tables import known_table, verdict_table, why_table
from board.views.reference import parts, ref
from board.views.table import Table
from board.views.text import Tone

_LEAST_BELOW, _LEAST_CHART, _ROOMY = 6, 8, 28
_GONE = Table("", (), (), "", "This load is in no plan any more: Esc goes back.")


class LoadScreen(ViewScreen):
    """Whoever doubts a time sees one load's core over the hours, what is ahead of it, and why."""

    NAME = "load"
    ACTS = LOAD
    BINDINGS = bindings(LOAD)
    AUTO_FOCUS = "#why"

    def __init__(self, load: str) -> None:
        super().__init__()
        self._load = load

    def body(self) -> Iterable[Widget]:
        """The answer, the chart, and below it what is known and why."""
        yield Panel(id="verdict")
        yield ChartView(id="chart")
        yield Horizontal(Panel(id="known", choose=True), Panel(id="why", choose=True), id="below")

    def _known(self, facts: Facts) -> Facts:
        """What is known, with the draft of this load's day where only that names it."""
        day, id = parts(self._load)
        draft = self.board.session.drafts.get(day)
        if draft is None or find_load(facts.plans.get(day), id) is not None:
            return facts
        return replace(facts, plans={**facts.plans, day: draft})

    def refill(self, facts: Facts) -> None:
        """Show what is known now; what the sums expect comes when it is there."""
        facts = self._known(facts)
        course = self.board.looking.course(facts, self._load)
        busy = "working it out…" if self.board.looking.busy else ""
        page = load_page(facts, self._load, self.board.revised, course, busy=busy)
        words = Words(zone(facts.house), facts.house.display)
        self.query_one(ChartView).show(page.chart if page else None, words)
        self.panel("verdict").show(verdict_table(page) if page else _GONE)
        self.panel("known").show(known_table(page) if page else _GONE)
        self.panel("why").show(why_table(page) if page else _GONE)

    def fit_body(self) -> None:
        """The answer first, then the chart, and two fifths of the room for the lists."""
        width, room = self.size.width - 2, self.room
        top = self.panel("verdict").wanted_height(width)
        gap = 1 if room >= _ROOMY else 0
        below = max(_LEAST_BELOW, min(room * 2 // 5, room - top - gap - _LEAST_CHART))
        left = max(26, width * 2 // 5)
        self.panel("verdict").styles.height = top
        self.query_one(ChartView).styles.height = max(1, room - top - gap - below)
        self.query_one("#below").styles.margin = (gap, 0, 0, 0)
        for id, columns in (("known", left), ("why", width - left - 3)):
            self.panel(id).styles.height = below
            self.panel(id).styles.width = columns

    def quiet_word(self) -> str:
        """What the signs of the chart mean."""
        return "● read, ○ left out, dotted: as expected, shaded: likely; ← → other loads"

    def look_at(self, load: str) -> None:
        """See another load in place of this one."""
        self._load = load
        self.show(self.board.facts)

    def chosen_load(self) -> str:
        """This load."""
        return self._load

    def note_about(self) -> str:
        """This load."""
        return self._load

    def action_back(self) -> None:
        """Back to the view one came from."""
        self.app.pop_screen()

    def action_likely(self) -> None:
        """Mark this load's next step."""
        board, load = self.board, self._load
        board.record(lambda: acting.mark_load(board.session, board.facts, load))

    def action_other(self, by: int) -> None:
        """See the load before or after, by loading time."""
        keys = [ref(plan.day, load.id) for plan, load in all_loads(self._known(self.board.facts))]
        at = keys.index(self._load) + by if self._load in keys else -1
        if 0 <= at < len(keys):
            self._load = keys[at]
            self.show(self.board.facts)
        else:
            self.board.say("there is no other load that way", Tone.CARE)
