"""The Batches view on the screen."""

from collections.abc import Iterable
from functools import partial

from textual.containers import Horizontal
from textual.message import Message
from textual.widget import Widget

from board.app import batch_acts
from board.app.dialogs.ask import Ask
from board.app.dialogs.lists import ListsDialog
from board.app.dialogs.pick import Choice, Pick
from board.app.dialogs.weighing import Scaled, WeighingDialog
from board.app.keys import BATCHES, bindings
from board.app.screens.view import ViewScreen
from board.app.widgets.panel import Panel
from board.errors import BoardError, LedgerError
from board.ledger.state import BatchStage
from board.views import batches_tables as tables
from board.views.batch_card import Card, card, scale_of
from board.views.batch_loads import loads_of
from board.views.batches import Shown, batches
from board.views.facts import Facts
from board.views.table import GAP, Table, share
from board.views.text import Tone, width_of
from board.views.weighing import Scale, ScaleLine

_ORDER = list(Shown)
PAGE = 10  # lines that the keys for a page move by
_LIST_FIRST = 6  # lines of the list that the card does not take


class BatchList(Panel):
    """The batches; a page up or down is read in the card of the chosen one."""

    class Paged(Message):
        """The card is read on by a page, or back."""

        def __init__(self, by: int) -> None:
            super().__init__()
            self.by = by

    def action_cursor(self, by: int) -> None:
        """Move by lines, or read a page of the card."""
        if abs(by) == PAGE:
            self.post_message(self.Paged(by // PAGE))
        else:
            super().action_cursor(by)


class BatchesScreen(ViewScreen):
    """Whoever makes brines, cures, rubs and glazes sees what is due, what to weigh, and what waits for it."""

    NAME = "batches"
    ACTS = BATCHES
    FOOT_FIRST = ("batches-likely", "lists", "labels")
    BINDINGS = bindings(BATCHES)
    AUTO_FOCUS = "#list"

    def __init__(self) -> None:
        super().__init__()
        self._shown = Shown.WANTED
        self._counts = ""
        self._on_scale = ""

    def body(self) -> Iterable[Widget]:
        """The list over the card of the chosen batch."""
        yield BatchList(id="list", choose=True)
        yield Horizontal(Panel(id="weigh"), Panel(id="made"), id="recipe")

    def on_mount(self) -> None:
        """The card says how it is read on where it is longer than its room."""
        key = self.key("page-down")
        for id in ("weigh", "made"):
            self.panel(id).reads_on = f"{key} reads on"

    def refill(self, facts: Facts) -> None:
        """Fill the list and the card."""
        row = self.panel("list").chosen
        view = batches(facts, row.key if row else "", self._shown)
        self._counts = tables.counts_line(view)
        self.panel("list").show(tables.list_table(view, self.key))
        self._show_card(view.card)
        self._keep_up(facts)

    def _show_card(self, chosen: Card | None) -> None:
        empty = Table("", (), ())
        self.panel("weigh").show(tables.weighing_table(chosen) if chosen else empty)
        self.panel("made").show(tables.says_table(chosen) if chosen else empty)

    def _keep_up(self, facts: Facts) -> None:
        """Show in the open dialog what another board has weighed."""
        dialog = self.app.screen
        scale = scale_of(facts, self._on_scale) if isinstance(dialog, WeighingDialog) else None
        if isinstance(dialog, WeighingDialog) and scale is not None:
            dialog.show(scale)

    def quiet_word(self) -> str:
        """How many batches stand at each stage."""
        return self._counts

    def on_panel_moved(self, message: Panel.Moved) -> None:
        """Another batch's card."""
        message.stop()
        key = self._key()
        self._show_card(card(self.board.facts, key) if key else None)
        self.fit_body()

    def fit_body(self) -> None:
        """The card below takes what it needs, and the list gives way to it down to a few lines."""
        width = self.size.width - 2
        half = min(max(24, width * 2 // 5), self._weigh_width())
        listed = self.panel("list").wanted_height(width)
        card = max(
            self.panel("weigh").wanted_height(half), self.panel("made").wanted_height(width - half - 3)
        )
        upper, lower = share(self.room - 2, [listed, card], [min(listed, _LIST_FIRST), card])
        if upper + lower > self.room - 2:
            lower = self.room - 2 - upper
        self.panel("list").styles.height = upper
        for id in ("weigh", "made"):
            self.panel(id).styles.height = lower
        self.panel("weigh").styles.width = half

    def _weigh_width(self) -> int:
        """Columns the weighing needs at most: what is more goes to what it is."""
        rows = self.panel("weigh").table.rows
        lines = (sum(width_of(cell.text) + GAP for cell in row.cells) for row in rows)
        return max(24, width_of(self.panel("weigh").table.title), *lines) if rows else 24

    def on_batch_list_paged(self, message: BatchList.Paged) -> None:
        """Show more of the chosen batch's card, or what stood before."""
        message.stop()
        for id in ("made", "weigh"):
            self.panel(id).read_on(message.by)

    def go_to(self, row: str) -> None:
        """Put the cursor on a batch that was found."""
        self.panel("list").choose(row)

    def _key(self) -> str:
        row = self.panel("list").chosen
        return row.key if row else ""

    def chosen_place(self) -> str:
        """The chosen batch as a place to read the temperature of."""
        key = self._key()
        return batch_acts.batch_place(self.board.facts, key) if key else ""

    def nothing_to_read(self) -> str:
        """A batch that is not made has no temperature, and that of another place is not meant."""
        is_made = not self._key() or bool(self.chosen_place())
        return "" if is_made else "this batch is not made yet; the temperature of another place: t in Opening"

    def action_likely(self) -> None:
        """Weigh the chosen batch and make it, or mark it used once it is made."""
        key = self._key()
        if not key:
            return
        session, facts = self.board.session, self.board.facts
        try:
            due = batch_acts.stage_of(facts, key) is BatchStage.DUE
            scale = scale_of(facts, key) if due else None
            if scale is not None:
                self._weigh(key, scale, batch_acts.offered_lot(session, key))
                return
        except BoardError as error:
            self.board.say(str(error), Tone.LATE)
            return
        if not due and (waiting := batch_acts.waits_for(self.board.facts, key)):
            self._ask_used(key, waiting)
            return
        self.board.record(lambda: batch_acts.mark_batch(session, self.board.facts, key))

    def _ask_used(self, key: str, waiting: str) -> None:
        """Ask before a batch that loads wait for is called used up."""
        choices = [Choice("leave", "leave it", waiting), Choice("used", "it is used up")]
        self.board.push_screen(Pick("Used up?", choices), lambda said: self._used(key, said))

    def _used(self, key: str, said: str | None) -> None:
        if said == "used":
            self.board.record(lambda: batch_acts.use_batch(self.board.session, key))

    def _weigh(self, key: str, scale: Scale, lot: str) -> None:
        session, facts = self.board.session, self.board.facts
        self._on_scale = key
        chosen = card(facts, key)
        people = session.house.people.values()
        readers = tuple(Choice(one.id, one.name) for one in people if one.id != session.who)
        about = Scaled(chosen.title if chosen else "", chosen.aside if chosen else "", lot, readers)

        def tick(line: ScaleLine, grams: float, reader: str | None) -> Scale:
            told = batch_acts.weigh(session, key, line, grams, reader)
            self.board.renew()
            self.board.say(told.says)
            weighed = scale_of(self.board.facts, key)
            if weighed is None:
                raise LedgerError("this batch is in no plan any more")
            return weighed

        self.board.push_screen(WeighingDialog(about, scale, tick), lambda made: self._made(key, made))

    def _made(self, key: str, lot: str | None) -> None:
        if lot is not None:
            self.board.record(lambda: batch_acts.make_batch(self.board.session, key, lot))

    def action_load_page(self) -> None:
        """See a load of the chosen batch by itself; which, where there are several."""
        loads = loads_of(self.board.facts, self._key()) if self._key() else []
        choices = [Choice(key, name, about) for key, name, about in loads]
        if len(choices) == 1:
            self._see(choices[0].key)
        elif choices:
            self.board.push_screen(Pick("Which load?", choices), self._see)
        else:
            self.board.say("no load is for this batch", Tone.CARE)

    def _see(self, load: str | None) -> None:
        if load:
            self.board.open_load(load)

    def action_discard(self) -> None:
        """Ask why, and mark the chosen batch discarded."""
        key = self._key()
        if key:
            ask = Ask("Discard", "Why is it thrown away?", check=partial(self._discard, key))
            self.board.push_screen(ask)

    def _discard(self, key: str, why: str) -> None:
        self.board.write(lambda: batch_acts.discard_batch(self.board.session, key, why))

    def action_filter(self) -> None:
        """Show the batches of another stage."""
        self._shown = _ORDER[(_ORDER.index(self._shown) + 1) % len(_ORDER)]
        self.show(self.board.facts)
        self.board.say(f"showing {self._shown.value}", Tone.QUIET)

    def action_labels(self) -> None:
        """Write the chosen batch's label as a PDF, and say where."""
        key = self._key()
        if not key:
            return
        try:
            self.board.say(batch_acts.print_labels(self.board.session, self.board.facts, key))
        except BoardError as error:
            self.board.say(str(error), Tone.LATE)

    def action_lists(self) -> None:
        """What to have in the house and what to pull out."""
        self.board.push_screen(ListsDialog(self.board.session.facts_until, self.board.facts.today))
