"""Watches, corrections, actions and probe checks by keys: what each needs is asked, then recorded."""

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from board.app import watch_acts
from board.app.dialogs.ask import Ask
from board.app.dialogs.detail import CORRECT, LOAD, DetailDialog
from board.app.dialogs.pick import Choice, Pick
from board.ledger import read
from board.ledger.checking import CORRECTED
from board.ledger.clocks import Doubt
from board.ledger.doubtful import doubtful
from board.ledger.state import Entry, LoadStage, ProbeWay, WatchEnd, WatchKind
from board.ledger.timing import TIMED
from board.ledger.watching import Watched
from board.safety.thawing import Way
from board.views import names
from board.views.checks import END, LEFT, OUT, PREFIX, READ
from board.views.facts import all_loads, find_watch, load_of, load_state
from board.views.fed_record import FED
from board.views.gather import WALK_IN
from board.views.happened import sentence
from board.views.record import knowing
from board.views.record_detail import detail
from board.views.reference import parts, ref
from board.views.subjects import food
from board.views.text import Tone
from board.views.watching import is_frozen, running

if TYPE_CHECKING:
    from board.app.app import BoardApp

_KINDS = {
    WatchKind.COOLING: "hot food into the cold",
    WatchKind.REHEATING: "cold food for the hot hold",
    WatchKind.THAWING: "frozen meat, in the fridge or in cold water",
    WatchKind.TEMPERING: "raw meat out of the cold before the pit",
    WatchKind.HOT_HOLD: "ready food kept hot",
    WatchKind.COLD_HOLD: "ready food kept cold",
    WatchKind.DATE_MARKED: "ready food kept cold for days",
}
_WAYS = {Way.FRIDGE: "in the cooler", Way.WATER: "in cold running water"}
_ENDS = {
    WatchEnd.DONE: "the rule is done with",
    WatchEnd.USED: "served or cooked",
    WatchEnd.DISCARDED: "thrown away",
}
_IN = Choice(watch_acts.FREEZE, "into the freezer", "its days there do not count")
_OUT = Choice(watch_acts.TAKE_OUT, "out of the freezer", "its days count again")
_OTHER = "other"
_TIMES = "times"
_ALL_TIMES = Choice(_TIMES, "the times of all that this clock wrote", "as one, and u takes them back as one")
_THIS_ONE = Choice("this", "what this entry says", "the old value stays beside it")
_GONE = (LoadStage.SERVED, LoadStage.LOST)


class Keeping:
    """The questions of one board."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    def do(self, key: str) -> None:
        """Do a check that is due: read it, end it, say what became of it, or put a fire out."""
        doing = key.removeprefix(PREFIX)
        if doing.startswith(READ):
            self._board.ask_temperature(doing.removeprefix(READ))
        elif doing.startswith(LEFT):
            self._board.closing.ask(doing.removeprefix(LEFT))
        elif doing.startswith(END):
            self._ask_how(doing.removeprefix(END))
        elif doing.startswith(OUT):
            pit = doing.removeprefix(OUT)
            self._board.record(lambda: watch_acts.put_out(self._board.session, pit))

    def cool(self, load: str) -> None:
        """Begin to cool what is left of a load."""
        board = self._board
        if not load:
            board.say("choose a load first: no load is on this line", Tone.CARE)
            return
        board.record(lambda: watch_acts.cool_leftovers(board.session, board.facts, load))

    def begin(self) -> None:
        """Ask for the rule, the way, the food, and begin to watch it."""
        choices = [Choice(kind, str(kind), about) for kind, about in _KINDS.items()]
        self._pick("Begin to watch", choices, self._begin_kind)

    def _begin_kind(self, kind: str) -> None:
        if kind == WatchKind.THAWING:
            choices = [Choice(way, str(way), about) for way, about in _WAYS.items()]
            self._pick("Thawed how?", choices, partial(self._begin_way, kind))
        else:
            self._begin_way(kind, "")

    def _begin_way(self, kind: str, way: str) -> None:
        facts = self._board.facts
        loads = [
            Choice(ref(plan.day, load.id), names.pieces(facts.house, load), str(state.stage))
            for plan, load in all_loads(facts)
            if (state := load_state(facts, load, plan.day)).stage not in _GONE
        ]
        choices = [Choice(_OTHER, "other food", "you name it"), *loads]
        self._pick("Which food?", choices, partial(self._begin_food, kind, way))

    def _begin_food(self, kind: str, way: str, key: str) -> None:
        found = load_of(self._board.facts, key) if key != _OTHER else None
        called = names.pieces(self._board.facts.house, found[1]) if found else ""
        ask = Ask("Begin to watch", "What is it, and how much? Such as: pulled pork, 2 pans", called)
        self._board.push_screen(ask, partial(self._begun, kind, way, key))

    def _begun(self, kind: str, way: str, key: str, what: str | None) -> None:
        if not what:
            return
        load = parts(key)[1] if key != _OTHER else None
        watched = Watched(WatchKind(kind), what, load=load, place=_place(WatchKind(kind)), way=way or None)
        self._board.record(lambda: watch_acts.start(self._board.session, watched))

    def end(self) -> None:
        """Ask which watch ends, and how."""
        facts = self._board.facts
        choices = [Choice(watch.id, food(watch), f"{watch.kind}, {watch.id}") for watch in running(facts)]
        if choices:
            self._pick("Which is over?", choices, self._ask_how)
        else:
            begins = f"{self._board.keymap.key('begin')} begins a watch"
            self._board.say(f"nothing is watched now; {begins}", Tone.CARE)

    def _ask_how(self, watch_id: str) -> None:
        watch = find_watch(self._board.facts, watch_id)
        if watch is None:
            self._board.say("this watch is over", Tone.CARE)
            return
        choices = [Choice(how, str(how), about) for how, about in _ENDS.items()]
        if watch.kind is WatchKind.DATE_MARKED:
            freezer = _OUT if is_frozen(watch) else _IN
            choices = [*choices[1:], freezer]
        self._pick(food(watch), choices, partial(self._ended, watch_id))

    def _ended(self, watch_id: str, how: str) -> None:
        board = self._board
        board.record(lambda: watch_acts.end(board.session, board.facts, watch_id, how))

    def look(self, key: str, about: str, day: date | None) -> None:
        """Show a line of the record by itself, and go on from there."""
        board = self._board
        found = detail(board.session.ledger, board.facts, key, day)
        if found is None:
            board.say("this line is not in the record any more", Tone.CARE)
            return

        def then(what: str | None) -> None:
            if what == CORRECT:
                self.correct(key)
            elif what == LOAD:
                board.open_load(found.load)
            elif what:
                self.act_on(about)

        board.push_screen(DetailDialog(found), then)

    def correct(self, key: str) -> None:
        """Ask what is right in place of what an entry says."""
        board = self._board
        if key.startswith(FED):
            day, _, probe = key.removeprefix(FED).partition("|")
            board.probing.strike(probe, date.fromisoformat(day))
            return
        entry = read.entry(board.session.ledger, int(key)) if key.isdigit() else None
        if entry is not None and entry.kind == "correction":
            entry = read.entry(board.session.ledger, int(entry.data["entry"]))
        doubt = doubtful(board.session.ledger, [entry]).get(entry.seq) if entry is not None else None
        if doubt is not None and entry is not None and entry.kind in TIMED and not entry.undone:
            self._which_right(doubt, entry)
            return
        self._correct(entry)

    def _which_right(self, doubt: Doubt, entry: Entry) -> None:
        """Ask whether the times of all that a wrong clock wrote are meant, where more can be put right."""
        board = self._board
        if entry.kind not in CORRECTED:
            board.clocking.offer_times_right(doubt)
            return

        def then(key: str) -> None:
            if key == _TIMES:
                board.clocking.offer_times_right(doubt)
            else:
                self._correct(entry)

        self._pick("Put right", [_ALL_TIMES, _THIS_ONE], then)

    def _correct(self, entry: Entry | None) -> None:
        board = self._board
        if entry is None or entry.kind not in CORRECTED:
            board.say(f"put right {names.listed(list(CORRECTED))}; anything else is undone", Tone.CARE)
            return
        says = sentence(knowing(board.session.ledger, board.facts, [entry]), entry)
        is_degrees = entry.kind in watch_acts.DEGREES
        start = "" if is_degrees else str(entry.data["text"])
        ask = Ask(
            "Put right",
            f"{says}. What is right? Both stay in the record.",
            start,
            check=partial(self._corrected, entry),
            digits=is_degrees,
        )
        board.push_screen(ask)

    def _corrected(self, entry: Entry, typed: str) -> None:
        self._board.write(lambda: watch_acts.correct(self._board.session, entry, typed))

    def act_on(self, about: str) -> None:
        """Ask what was done about something."""
        if not about:
            self._board.say("choose a line first", Tone.CARE)
            return
        ask = Ask(
            "What was done",
            "What was done about it? Such as: reheated, read again, then served",
            check=partial(self._acted, about),
        )
        self._board.push_screen(ask)

    def _acted(self, about: str, text: str) -> None:
        self._board.write(lambda: watch_acts.act_on(self._board.session, watch_acts.meant(about), text))

    def probe(self) -> None:
        """Ask which probe, in what, and what it read."""
        ask = Ask("Check a probe", "Which probe? Its colour, or the number on it")
        self._board.push_screen(ask, self._probe_way)

    def _probe_way(self, probe: str | None) -> None:
        if probe:
            ways = [
                Choice(ProbeWay.ICE, "ice water", "crushed ice, topped up with water"),
                Choice(ProbeWay.BOILING, "boiling water", "at a rolling boil"),
            ]
            self._pick(f"{probe}, in what?", ways, partial(self._probe_read, probe))

    def _probe_read(self, probe: str, way: str) -> None:
        check = partial(watch_acts.typed_c, self._board.session)
        ask = Ask("Check a probe", f"What did {probe} read?", check=check, digits=True)
        self._board.push_screen(ask, partial(self._probed, probe, way))

    def _probed(self, probe: str, way: str, typed: str | None) -> None:
        session = self._board.session
        if typed:
            celsius = watch_acts.typed_c(session, typed)
            self._board.record(lambda: watch_acts.check_probe(session, probe, way, celsius))

    def _pick(self, heading: str, choices: list[Choice], then: Callable[[str], None]) -> None:
        def picked(key: str | None) -> None:
            if key:
                then(key)

        self._board.push_screen(Pick(heading, choices), picked)


def _place(kind: WatchKind) -> str | None:
    """Where food of a watch is, where that goes without saying."""
    cold = (WatchKind.COOLING, WatchKind.COLD_HOLD, WatchKind.DATE_MARKED)
    return WALK_IN if kind in cold else None
