"""A question with one line to type: Enter answers, Esc leaves everything as it was."""

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input, Static

from board.app.dialogs.dialog import Dialog
from board.app.widgets.hint import Hint, Keypad
from board.errors import BoardError

Check = Callable[[str], object]


class Ask(Dialog[str]):
    """Asks for one line; `check` may refuse it with a BoardError, whose sentence is then shown.

    A check may also record the answer: where that is refused, what was typed stays to be tried again.
    """

    def __init__(
        self,
        heading: str,
        question: str,
        answer: str = "",
        *,
        check: Check | None = None,
        digits: bool = False,
        enter: str = "records",
    ) -> None:
        """`check` may refuse an answer; `digits` shows keys for a finger where a number is asked for.

        `enter` says what Enter does where it does not record yet.
        """
        super().__init__()
        self._heading = heading
        self._question = question
        self._answer = answer
        self._check = check
        self._digits = digits
        self._enter = enter

    def compose(self) -> ComposeResult:
        """A heading, the question, the line, and what is wrong with it."""
        with Vertical(classes="dialog"):
            yield Static(self._heading, classes="heading", markup=False)
            yield Static(self._question, classes="question", markup=False)
            yield Input(self._answer, id="answer", select_on_focus=True)
            if self._digits:
                yield Keypad()
            yield Static("", classes="wrong", markup=False)
            yield Hint(f"Enter {self._enter}   Esc leaves")

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one(Input).cursor_blink = False
        self.query_one(Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Give the answer, or say what is wrong with it."""
        event.stop()
        if not event.value.strip():
            self.refuse("type something, or leave by Esc")
            return
        try:
            if self._check is not None:
                self._check(event.value)
        except BoardError as error:
            self.refuse(str(error))
            return
        self.dismiss(event.value)
