"""Which probe is in which load, and what of it does not count, by keys: asked, then recorded."""

from datetime import date, timedelta
from functools import partial
from typing import TYPE_CHECKING

from board.app.acting import Told, said, tell
from board.app.dialogs.aside import AsideDialog
from board.app.dialogs.pick import Choice
from board.app.dialogs.probes import STRIKE, PickProbe
from board.app.dialogs.quick import Quick
from board.app.dialogs.strike import StrikeDialog, Typed
from board.app.session import Session
from board.house.probes import ProbeReads
from board.ledger import feeding
from board.ledger.striking import strikable
from board.views import fed_strike, names
from board.views.aside import aside_rows
from board.views.days import when
from board.views.facts import Facts, load_of, pit_at
from board.views.fed_out import Span
from board.views.feed_words import probe_name
from board.views.left_out import all_left_out
from board.views.reference import parts, ref
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp

_NONE = "the house has no meat probe; name them in probes.toml"
_SENT_NOTHING = "{probe} sent nothing that counts {when}"
_LATER = "; what it sends from now on counts"


class Probing:
    """The questions of one board."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    def why_not(self) -> str:
        """Why no probe can be put into a load; empty where one can."""
        return "" if _meat_probes(self._board.facts) else _NONE

    def ask(self, key: str) -> None:
        """Ask which probe was put into a load, by its key; one that is in it comes out."""
        board = self._board
        choices = probe_choices(board.session, board.facts, key)
        if self.why_not():
            board.say(_NONE, Tone.CARE)
            return
        found = load_of(board.facts, key)
        meat = names.the_pieces(board.facts.house, found[1]) if found else "this load"
        board.push_screen(
            PickProbe(f"Which probe was put into {meat}, or taken out?", choices), partial(self._picked, key)
        )

    def _picked(self, key: str, picked: str | None) -> None:
        probe = (picked or "").removeprefix(STRIKE)
        if not picked:
            return
        if picked.startswith(STRIKE) or probe not in _meat_probes(self._board.facts):
            self.strike(probe)
        else:
            self._board.record(lambda: put(self._board.session, key, probe))

    def strike(self, probe: str, day: date | None = None) -> None:
        """Ask from when to when what a probe sent does not count, of a day or of the last one."""
        board = self._board
        facts, reasons = board.facts, all_left_out(board.revised)
        offered = fed_strike.likely_span(board.session.ledger, facts, probe, reasons, day)
        name = probe_name(facts, probe)
        if offered is None:
            lately = f"up to {when(facts, fed_strike.as_of(facts, day))}" if day else "in the last 24 hours"
            board.say(_SENT_NOTHING.format(probe=name, when=lately), Tone.CARE)
            return
        upto = fed_strike.as_of(facts, day)
        since, until = (fed_strike.as_typed(facts.house, end, upto) for end in offered)
        words, moved = partial(self._words, probe, day), partial(self._moved, day)
        dialog = StrikeDialog(name, (since, until), words, moved)
        board.push_screen(dialog, partial(self._ask_why, probe, day))

    def _span(self, day: date | None, since: str, until: str) -> Span:
        facts = self._board.facts
        upto = fed_strike.as_of(facts, day)
        return fed_strike.span_typed(facts.house, since, until, upto, self._board.session.clock.now())

    def _words(self, probe: str, day: date | None, since: str, until: str) -> fed_strike.Struck:
        """What a strike of a span takes, in words."""
        span = self._span(day, since, until)
        found = strikable(self._board.session.ledger, probe, *span)
        return fed_strike.strike_words(self._board.facts, span, found)

    def _moved(self, day: date | None, typed: str, minutes: int) -> str:
        """A typed clock time so many minutes on."""
        house, upto = self._board.facts.house, fed_strike.as_of(self._board.facts, day)
        at = fed_strike.moment_typed(house, typed, upto) + timedelta(minutes=minutes)
        return fed_strike.as_typed(house, at, upto)

    def _ask_why(self, probe: str, day: date | None, typed: Typed | None) -> None:
        if not typed:
            return
        facts, span = self._board.facts, self._span(day, *typed)
        words = self._words(probe, day, *typed)
        quick = Quick(
            f"What was wrong with {probe_name(facts, probe)}?",
            words.takes,
            fed_strike.whys(facts.house, probe),
            free=True,
        )
        self._board.push_screen(quick, partial(self._strike, probe, span))

    def _strike(self, probe: str, span: Span, why: str | None) -> None:
        if why:
            self._board.record(lambda: strike(self._board.session, probe, span, why))

    def show_aside(self) -> None:
        """List the messages that were set aside last."""
        board = self._board
        found = feeding.asides(board.session.ledger, feeding.MOST_ASIDE)
        board.push_screen(AsideDialog(aside_rows(board.facts, found)))


def put(session: Session, key: str, probe: str) -> Told:
    """Put a probe into a load, or take out one that is in it."""
    day, load = parts(key)
    into = None if probe in feeding.probes_in(session.ledger, load, day) else load
    return tell(session, feeding.place_probe(session.ledger, probe, into, **said(session)))


def strike(session: Session, probe: str, span: Span, why: str) -> Told:
    """Strike what a probe sent over a span, and say where what it goes on sending counts."""
    entry = feeding.strike_probe(session.ledger, probe, *span, why, **said(session))
    told = tell(session, entry)
    goes_on = strikable(session.ledger, probe, span[1], session.clock.now()) is None
    return Told(f"{told.says}{_LATER if goes_on else ''}", told.entries)


def probe_choices(session: Session, facts: Facts, key: str) -> list[Choice]:
    """The meat probes of the house, those in this load to be taken out; then those of its pit's air."""
    day, load = parts(key)
    here = feeding.probes_in(session.ledger, load, day)
    last = {one.id: one for one in facts.fed}
    choices = []
    for id in _meat_probes(facts):
        sent = last.get(id)
        about = "sent nothing yet"
        if sent is not None:
            about = _sent(facts, sent)
            about += _in_load(facts, sent) if id not in here else ""
        choices.append(
            Choice(id, facts.house.probes[id].name, f"{'take out, ' if id in here else ''}{about}")
        )
    return [*choices, *(_air_choice(facts, last[id]) for id in _air_probes(facts, key) if id in last)]


def _air_choice(facts: Facts, sent: feeding.ProbeState) -> Choice:
    """A probe of a pit's air: it stays where it is, and some of what it sent may be struck."""
    pit = names.pit_name(facts.house, str(sent.place))
    about = f"{_sent(facts, sent)}, in the air of {pit}"
    return Choice(sent.id, facts.house.probes[sent.id].name, about)


def _sent(facts: Facts, sent: feeding.ProbeState) -> str:
    return f"{names.degrees(facts.house, sent.temperature_c)} at {when(facts, sent.at)}"


def _in_load(facts: Facts, sent: feeding.ProbeState) -> str:
    """Which load a probe was in as it was last read."""
    if sent.load is None or sent.load_day is None:
        return ""
    found = load_of(facts, ref(sent.load_day, sent.load))
    return f", in {names.the_pieces(facts.house, found[1])}" if found else ""


def _meat_probes(facts: Facts) -> list[str]:
    return [id for id, probe in facts.house.probes.items() if probe.reads is ProbeReads.MEAT]


def _air_probes(facts: Facts, key: str) -> list[str]:
    """The probes in the air of the pit that a load is on or for."""
    found = load_of(facts, key)
    pit = pit_at(facts, found[1], found[0].day) if found else None
    return [
        id for id, probe in facts.house.probes.items() if probe.reads is ProbeReads.AIR and probe.place == pit
    ]
