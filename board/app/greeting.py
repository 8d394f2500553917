"""What a board says as it opens: changed keys or settings that are wrong, or where help is."""

from typing import TYPE_CHECKING

from board.ledger import read
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp


def greet(board: "BoardApp") -> None:
    """Say what is wrong with changed keys, or in a new ledger where help is; then what of the settings."""
    faults, keymap = board.keymap.faults, board.keymap
    if not faults and read.data_version(board.session.ledger)[1] == 0:
        board.say(f"if you are new here, {keymap.key('help')} explains this view", Tone.QUIET)
    if faults:
        more = f" (and {len(faults) - 1} more: board keys tells)" if faults[1:] else ""
        board.say(f"keys are as they come: {faults[0]}{more}", Tone.CARE)
    board.setting.tell_faults()
