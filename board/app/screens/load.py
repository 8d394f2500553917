"""One load's page on the screen."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from textual.containers import Horizontal
from textual.widget import Widget

from board.app import acting
from board.app.keys import LOAD, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.chart import ChartView
from board.app.widgets.edges import Edge
from board.app.widgets.panel import Panel
from board.house.calendar import zone
from board.views.chart_words import Words
from board.views.facts import Facts, all_loads, find_load
from board.views.gather_load import LoadKnown, gather_load
from board.views.load_page import LoadPage, load_page
from board.views.load_page_tables import known_table, record_table, steps_table, verdict_table, why_table
from board.views.load_steps import Stands
from board.views.reference import parts, ref
from board.views.table import Table
from board.views.text import Cell, Tone

_PARTS = {"known": "This load", "steps": "Steps", "record": "Record", "why": "Why it takes so long"}
_TABLES: Mapping[str, Callable[[LoadPage], Table]] = {
    "known": known_table,
    "steps": steps_table,
    "record": record_table,
    "why": why_table,
}
_DRAFT = "this load is only in a draft: commit the plan before its steps are marked"
_LEAST_CHART, _MOST_CHART = 7, 20
_WIDE, _ROOMY = 100, 22
_SIGNS = "● read  ○ left out  dotted: as expected  shaded: likely"
_GONE = Table("", (), (), "", "This load is in no plan any more: Esc goes back.")


class LoadScreen(ViewScreen):
    """Whoever doubts a time sees one load's core over the hours, what is ahead of it, and why."""

    NAME = "load"
    ACTS = LOAD
    FOOT_FIRST = ("load-likely", "temperature", "back", "remedies")
    BINDINGS = bindings(LOAD)
    AUTO_FOCUS = "#known"

    def __init__(self, load: str) -> None:
        super().__init__()
        self._load = load
        self._part = 0
        self._known: LoadKnown | None = None
        self._page: LoadPage | None = None

    def body(self) -> Iterable[Widget]:
        """The answer, the chart, and four lists: what is known, its steps, its record, its account."""
        yield Panel(id="verdict")
        yield ChartView(id="chart")
        yield Edge(id="parts")
        with Horizontal(id="upper"):
            yield Panel(id="known", choose=True)
            yield Panel(id="steps", choose=True)
        with Horizontal(id="lower"):
            yield Panel(id="record", choose=True)
            yield Panel(id="why", choose=True)

    def refill(self, facts: Facts) -> None:
        """Show what is known now; what the sums expect comes when it is there."""
        board, (day, _) = self.board, parts(self._load)
        session = board.session
        self._known = known = gather_load(session.ledger, facts, self._load, session.drafts.get(day))
        course = board.looking.course(known.facts, self._load)
        page = load_page(
            known.facts,
            self._load,
            board.revised,
            course,
            busy="working it out…" if board.looking.busy else "",
            entries=known.entries,
            struck=known.struck,
            advised=board.advising.worked_out,
        )
        self._page = page
        words = Words(zone(facts.house), facts.house.display)
        self.query_one(ChartView).show(page.chart if page else None, words)
        self.panel("verdict").show(verdict_table(page) if page else _GONE)

    def fit_body(self) -> None:
        """The answer, the chart, and the lists: one on a narrow screen, two or four where there is room."""
        width, room = self.size.width - 2, self.room
        top = self.panel("verdict").wanted_height(width)
        left = max(2, room - top - 1)
        chart = max(_LEAST_CHART, min(_MOST_CHART, left * 2 // 5)) if self._page and self._page.chart else 0
        below = max(3, left - chart)
        shown = self._shown(width, below)
        self.panel("verdict").styles.height = top
        self.query_one(ChartView).styles.height = chart
        self.query_one("#parts", Edge).show(self._names(shown), [Cell(_SIGNS, Tone.QUIET)])
        rows = 2 if len(shown) == len(_PARTS) else 1
        for n, id in enumerate(_PARTS):
            panel = self.panel(id)
            table = _TABLES[id](self._page) if self._page else _GONE
            panel.show(replace(table, title="") if len(shown) == 1 else table)
            panel.display = n in shown
            panel.styles.height = below // rows - (rows - 1)
            panel.styles.width = width if len(shown) == 1 else width // 2 - 2
            panel.styles.margin = (0, 0, 0, 3 if n % 2 and len(shown) > 1 else 0)
        for id, own in (("upper", {0, 1}), ("lower", {2, 3})):
            self.query_one(f"#{id}").display = bool(own & shown)

    def _shown(self, width: int, below: int) -> set[int]:
        """Which of the lists have room."""
        if width < _WIDE:
            return {self._part}
        if below >= _ROOMY:
            return set(range(len(_PARTS)))
        return {0, 1} if self._part < 2 else {2, 3}

    def _names(self, shown: set[int]) -> list[Cell]:
        """The lists by name, those that are up in strong letters."""
        names = [
            Cell(name, Tone.STRONG if n in shown else Tone.QUIET) for n, name in enumerate(_PARTS.values())
        ]
        if len(shown) == len(_PARTS):
            return names
        others = f"{self.key('load-before')} {self.key('load-after')} other loads"
        return [*names, Cell(f"{self.key('load-turn')} turns  {others}", Tone.QUIET)]

    async def on_edge_pressed(self, message: Edge.Pressed) -> None:
        """A list's name pressed shows it."""
        names = list(_PARTS.values())
        if message.edge.id == "parts" and message.text in names:
            self._turn_to(names.index(message.text))

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A second press marks nothing but on the steps."""
        if message.panel.id != "steps":
            message.stop()
            message.prevent_default()

    def action_turn(self, by: int) -> None:
        """The next list, or the one before."""
        self._turn_to((self._part + by) % len(_PARTS))

    def _turn_to(self, part: int) -> None:
        self._part = part
        self.fit_body()
        self.set_focus(self.panel(list(_PARTS)[part]))

    def quiet_word(self) -> str:
        """What Enter marks, or that all is done."""
        steps = self._page.steps if self._page else ()
        if self._is_draft():
            return _DRAFT
        ahead = next((step for step in steps if step.stands is Stands.NEXT), None)
        if ahead:
            return f"{self.key('load-likely')} marks: {ahead.says}"
        return "nothing is left to do for this load" if self._page else ""

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
        """Mark this load's next step, where it is in a plan that is cooked from."""
        board, load = self.board, self._load
        if self._is_draft():
            board.say(_DRAFT, Tone.CARE)
            return
        board.record(lambda: acting.mark_load(board.session, board.facts, load))

    def action_probe(self) -> None:
        """Ask which probe was put into this load, or taken out."""
        self.board.probing.ask(self._load)

    def why_not(self, id: str) -> str:
        """A house without meat probes has none to put in."""
        if id == "load-probe":
            return self.board.probing.why_not()
        return super().why_not(id)

    def _is_draft(self) -> bool:
        """Whether only a draft names this load."""
        day, id = parts(self._load)
        return (
            self._page is not None
            and day in self.board.session.drafts
            and (find_load(self.board.facts.plans.get(day), id) is None)
        )

    def action_other(self, by: int) -> None:
        """See the load before or after, by loading time."""
        keys = [
            ref(plan.day, load.id)
            for plan, load in all_loads(self._known.facts if self._known else self.board.facts)
        ]
        at = keys.index(self._load) + by if self._load in keys else -1
        if 0 <= at < len(keys):
            self._load = keys[at]
            self.show(self.board.facts)
        else:
            self.board.say("there is no other load that way", Tone.CARE)
