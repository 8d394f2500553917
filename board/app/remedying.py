"""The list of what would help a load, opened by a key and filled as soon as it is worked out."""

from functools import partial
from typing import TYPE_CHECKING

from board.app.dialogs.remedies import RemediesDialog
from board.app.remedy_acts import do_remedy
from board.planning.remedies.remedy import Action
from board.views.facts import load_of
from board.views.remedies import remedies
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp


class Remedying:
    """The remedies of one board."""

    def __init__(self, board: "BoardApp") -> None:
        self._board = board

    def open(self, key: str) -> None:
        """List what would help a load that cooks."""
        board = self._board
        if not board.cooks(key):
            board.say("choose a load on a pit: remedies are for what is cooking", Tone.CARE)
            return
        board.push_screen(RemediesDialog(key), partial(self._do, key))
        board.call_after_refresh(self.show)

    def show(self) -> None:
        """Fill the open list of remedies, or begin to work it out once all readings are counted."""
        board = self._board
        dialog = board.screen
        found = load_of(board.facts, dialog.load) if isinstance(dialog, RemediesDialog) else None
        if found is None or not isinstance(dialog, RemediesDialog):
            return
        plan, load = found
        if load.id not in board.advising.known:
            if not board.revising:
                board.advising.ask(board.facts, plan, load, board.revised)
        elif (advice := board.advising.known[load.id]) is None:
            dialog.call_later(dialog.say, "This load cannot be estimated: nothing to compare.")
        else:
            dialog.call_later(dialog.show, remedies(board.facts, plan, load, advice), advice)

    def _do(self, key: str, action: Action | None) -> None:
        board = self._board
        found = load_of(board.facts, key)
        if action is not None and found is not None:
            board.record(lambda: do_remedy(board.session, board.facts, found[1], action))
