"""A board that fails: it leaves the terminal with a sentence, and never shows the values it had in hand."""

from rich.text import Text
from textual.app import App, ReturnType
from textual.worker import WorkerFailed

from board.views import fault


class Failing(App[ReturnType]):
    """An application that tells its own faults as the commands do; Textual's way shows local variables."""

    def _handle_exception(self, error: Exception) -> None:
        self._return_code = fault.CODE
        if self._exception is None:  # a pilot raises the first one again
            self._exception = error
            self._exception_event.set()
            cause = error.error if isinstance(error, WorkerFailed) else error
            self.panic(Text(fault.told(cause)))
