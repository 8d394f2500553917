"""The PIN of whoever signs: typed unseen, never copied, looked at beside the screen."""

import asyncio

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.session import Session
from board.app.widgets.hint import Hint
from board.errors import BoardError
from board.ledger import signers
from board.ledger.scrypt import LONGEST
from board.ledger.signers import Vouched
from board.views import names


class Masked(Input):
    """A line that shows a dot for each letter and gives none of them to the clipboard."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id, password=True, max_length=LONGEST)

    def action_copy(self) -> None:
        """Nothing is copied."""

    def action_cut(self) -> None:
        """Nothing is copied; what is typed goes by Backspace."""


class PinDialog(Dialog[Vouched]):
    """Gives that the PIN was shown; a wrong one is told, and asked again until a wait begins."""

    def __init__(self, session: Session, does: str) -> None:
        """`does` says what the PIN is for, such as `signs the record`."""
        super().__init__()
        self._session = session
        self._does = does

    def compose(self) -> ComposeResult:
        """Whose PIN, what for, and the line."""
        who = names.person_name(self._session.house, self._session.who)
        with Vertical(classes="dialog"):
            yield Static(f"{who} {self._does}", classes="heading", markup=False)
            yield Static(f"The PIN of {who}:", classes="question", markup=False)
            yield Masked(id="answer")
            yield Static("", classes="wrong", markup=False)
            yield Hint("Enter signs   Esc leaves")

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one(Masked).cursor_blink = False
        self.query_one(Masked).focus()

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Count the try, look at it in a thread while the board goes on, and say what came of it.

        Esc meanwhile leaves the dialog: then nothing is signed, whatever was typed.
        """
        event.stop()
        line = self.query_one(Masked)
        pin = line.value
        line.value = ""
        ledger, clock = self._session.ledger, self._session.clock
        try:
            one = signers.begin_try(ledger, self._session.who, clock.now())
            right = await asyncio.to_thread(one.kept.is_of, pin)
            vouched = signers.end_try(ledger, one, right=right, now=clock.now())
        except BoardError as error:
            if self.is_current:
                self.refuse(str(error))
            return
        if self.is_current:
            self.dismiss(vouched)
