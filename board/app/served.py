"""How a board in a browser is drawn: on the page of whoever serves it, and not without them."""

import os
from contextlib import suppress
from functools import partial
from typing import Any

from textual import events, messages
from textual.app import App
from textual.drivers.web_driver import WebDriver


class ServedDriver(WebDriver):
    """Draws through the process that serves, and leaves the board once that is gone, however it went."""

    def __init__(self, app: App[Any], **options: Any) -> None:
        super().__init__(app, **options)
        self._write = partial(_write_if_heard, self.fileno)

    def start_application_mode(self) -> None:
        """Begin as what somebody looks at: the page has opened to show it."""
        super().start_application_mode()
        self._app.call_later(self._app.post_message, events.AppFocus())

    def run_input_thread(self) -> None:
        """Take what is typed until its end, and then leave: whoever served the board is gone."""
        super().run_input_thread()
        self.send_message(messages.ExitApp())

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """Draw all of it where another page shows it, besides what every board in a browser is told."""
        super().on_meta(packet_type, payload)
        if packet_type == "draw":
            self.send_message(events.Callback(callback=self._draw))

    def _draw(self) -> None:
        self._app.refresh()


def _write_if_heard(file: int, data: bytes) -> int:
    """Write, in vain where nobody reads any more: the end of what is typed then ends the board."""
    with suppress(BrokenPipeError):
        return os.write(file, data)
    return len(data)
