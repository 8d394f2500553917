"""What helps a person find their way: help, where figures come from, all that can be done, the search."""

from collections.abc import Iterator
from datetime import timedelta
from typing import TYPE_CHECKING

from board.app.dialogs.guide import Guide, Line, page_of
from board.app.keys import EVERYWHERE, Act
from board.app.theme import PALETTES
from board.errors import BoardError
from board.house.wording import day_name
from board.ledger.open import Ledger
from board.views import names
from board.views.days import when
from board.views.facts import all_loads
from board.views.guidance import first_steps, words
from board.views.line_numbers import numbers
from board.views.reference import ref
from board.views.search import Found, far, near, written_at
from board.views.text import Tone
from board.views.trade_notes import explained

if TYPE_CHECKING:
    from board.app.app import BoardApp

_DAYS = 7  # days ahead that are offered by name
_SELF = ("help", "palette")  # nobody looks for what is open already


class Guiding:
    """The guide of one board."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    def help(self) -> None:
        """The keys of this view, first steps in it, and what words mean."""
        view = self._board.view
        name = view.NAME.capitalize()
        steps = first_steps(view.NAME, self._board.keymap.key)
        pages = {
            f"Keys in {name}": page_of([*self._acts()]),
            "First steps": page_of([Line("", "", str(n), says) for n, says in enumerate(steps, 1)]),
            "Words": page_of(_words()),
        }
        self._open(Guide(pages))

    def palette(self) -> None:
        """Everything that can be done here and now: acts, days, loads' pages, themes."""
        lines = [*self._acts(), *self._days(), *self._loads(), *self._themes()]
        self._open(Guide({"Everything": page_of(lines)}, ask="what do you want to do?"))

    def views(self) -> None:
        """The views by name."""
        views = (act for act in self._board.keymap.acts(EVERYWHERE) if act.id.startswith("view-"))
        self._open(Guide({"Views": page_of([self._act(act, "") for act in views])}, does="Enter goes there"))

    def where_from(self) -> None:
        """Where each figure of the chosen line comes from."""
        board = self._board
        panel = board.view.panel_meant()
        row = panel.chosen if panel else None
        if panel is None or row is None:
            board.say("choose a line first: nothing is on this list", Tone.CARE)
            return
        own = numbers(board.facts, board.revised, load=board.view.chosen_load(), row=row.key)
        figures = [
            Line("", "", "", f"{one.title}  {one.figure}".strip(), one.what, "", one.more, one.own)
            for one in explained(panel.table, row, own)
        ]
        pages = {"Where it comes from": page_of(figures), "Words": page_of(_words())}
        self._open(Guide(pages, does="", nothing="This line has no figures."))

    def find(self) -> None:
        """Find anything of these days at once, and what is further back in a moment."""
        board = self._board
        facts, path = board.facts, board.session.ledger.path

        def further(typed: str) -> list[Line]:
            try:
                with Ledger(path) as ledger:  # of this thread alone
                    return [_found(one) for one in far(ledger, facts, typed)]
            except BoardError as error:
                return [Line("", "further back", "", "nothing was looked through", str(error))]

        pages = {"Find": lambda typed: [_found(one) for one in near(board.session.ledger, facts, typed)]}
        ask = "a load, a batch, a lot, a person, a word that somebody wrote"
        self._open(Guide(pages, ask=ask, does="Enter goes there", later=further))

    def _open(self, guide: Guide) -> None:
        self._board.push_screen(guide, self._go)

    async def _go(self, key: str | None) -> None:
        """Do what was chosen."""
        board = self._board
        kind, _, rest = (key or "").partition(":")
        if kind == "act":
            await board.view.do(rest)
        elif kind == "theme":
            board.theme = rest
        elif kind == "load":
            board.open_load(rest)
        elif key:
            await board.go(written_at(board.session.ledger, key))

    def _acts(self) -> Iterator[Line]:
        """What can be done here, then what moves about, then what can be done everywhere."""
        view, keymap = self._board.view, self._board.keymap
        own = keymap.acts(view.ACTS)
        yield from (self._act(act, "here") for act in own if not act.moves)
        moving = (*own, *keymap.acts(view.MOVES, EVERYWHERE))
        yield from (self._act(act, "everywhere") for act in keymap.acts(EVERYWHERE) if not act.moves)
        yield from (self._act(act, "moving about") for act in moving if act.moves)

    def _act(self, act: Act, group: str) -> Line:
        key = "" if act.id in _SELF else f"act:{act.id}"
        return Line(key, group, act.shown_key, act.word, act.tip, self._board.view.why_not(act.id))

    def _days(self) -> Iterator[Line]:
        today = self._board.facts.today
        for day in (today + timedelta(days=n) for n in range(-1, _DAYS + 1)):
            yield Line(f"tomorrow:{ref(day, '')}", "days", "", day_name(day), "Its plan, in Tomorrow.")

    def _loads(self) -> Iterator[Line]:
        facts = self._board.facts
        for plan, load in all_loads(facts):
            about = f"{names.load_spot(facts.house, load)}, planned for {when(facts, load.load_at)}"
            yield Line(f"load:{ref(plan.day, load.id)}", "loads", "", names.pieces(facts.house, load), about)

    def _themes(self) -> Iterator[Line]:
        now = self._board.theme
        for name in PALETTES:
            yield Line(f"theme:{name}", "looks", "", name, "This theme.", "it is on" if name == now else "")


def _found(one: Found) -> Line:
    return Line(one.key, one.kind, "", one.name, one.about)


def _words() -> list[Line]:
    """What words of the trade mean."""
    return [Line("", "", "", word, says) for word, says in words().items()]
