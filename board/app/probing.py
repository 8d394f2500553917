"""Which probe is in which load, by keys: asked from a list, then recorded."""

from functools import partial
from typing import TYPE_CHECKING

from board.app.acting import Told, said, tell
from board.app.dialogs.pick import Choice, Pick
from board.app.session import Session
from board.house.probes import ProbeReads
from board.ledger import feeding
from board.views import names
from board.views.days import when
from board.views.facts import Facts, load_of
from board.views.reference import parts, ref
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp

_NONE = "the house has no meat probe; name them in probes.toml"


class Probing:
    """The question of one board."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    def why_not(self) -> str:
        """Why no probe can be put into a load; empty where one can."""
        return "" if _meat_probes(self._board.facts) else _NONE

    def ask(self, key: str) -> None:
        """Ask which probe was put into a load, by its key; one that is in it comes out."""
        board = self._board
        choices = probe_choices(board.session, board.facts, key)
        if not choices:
            board.say(_NONE, Tone.CARE)
            return
        found = load_of(board.facts, key)
        meat = names.the_pieces(board.facts.house, found[1]) if found else "this load"
        board.push_screen(
            Pick(f"Which probe was put into {meat}, or taken out?", choices), partial(self._put, key)
        )

    def _put(self, key: str, probe: str | None) -> None:
        if probe:
            self._board.record(lambda: put(self._board.session, key, probe))


def put(session: Session, key: str, probe: str) -> Told:
    """Put a probe into a load, or take out one that is in it."""
    day, load = parts(key)
    into = None if probe in feeding.probes_in(session.ledger, load, day) else load
    return tell(session, feeding.place_probe(session.ledger, probe, into, **said(session)))


def probe_choices(session: Session, facts: Facts, key: str) -> list[Choice]:
    """The meat probes of the house: those in this load to be taken out, the others with what they sent."""
    day, load = parts(key)
    here = feeding.probes_in(session.ledger, load, day)
    last = {one.id: one for one in facts.fed}
    choices = []
    for id in _meat_probes(facts):
        sent = last.get(id)
        about = "sent nothing yet"
        if sent is not None:
            about = f"{names.degrees(facts.house, sent.temperature_c)} at {when(facts, sent.at)}"
            about += _in_load(facts, sent) if id not in here else ""
        choices.append(
            Choice(id, facts.house.probes[id].name, f"{'take out, ' if id in here else ''}{about}")
        )
    return choices


def _in_load(facts: Facts, sent: feeding.ProbeState) -> str:
    """Which load a probe was in as it was last read."""
    if sent.load is None or sent.load_day is None:
        return ""
    found = load_of(facts, ref(sent.load_day, sent.load))
    return f", in {names.the_pieces(facts.house, found[1])}" if found else ""


def _meat_probes(facts: Facts) -> list[str]:
    return [id for id, probe in facts.house.probes.items() if probe.reads is ProbeReads.MEAT]
