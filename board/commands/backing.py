"""The day's backup after a command that wrote, and a word where it could not be made; the command is done."""

from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from threading import Thread
from time import monotonic

import click

from board.errors import BoardError
from board.ledger.open import Ledger

HOUR_SECONDS = 3600.0


def backed_up(ledger: Ledger) -> Ledger:
    """A ledger whose day's backup is seen to once the command that runs has written and closed it."""
    running = click.get_current_context(silent=True)
    if running is not None:
        running.call_on_close(partial(_back_up, ledger))
    return ledger


@dataclass
class Beside:
    """Backups beside a program that runs for days: looked to once an hour, in a thread."""

    ledger: Path
    due: float = field(default_factory=lambda: monotonic() + HOUR_SECONDS)

    def keep_up(self) -> None:
        """See to the day's backup where an hour has passed."""
        if monotonic() >= self.due:
            self.due = monotonic() + HOUR_SECONDS
            Thread(target=see_to, args=(self.ledger,), daemon=True).start()


def _back_up(ledger: Ledger) -> None:
    if ledger.commits:
        see_to(ledger.path)


def see_to(ledger: Path) -> None:
    """Make the day's backup where it is due, and its copy; say what could not be done."""
    from board.ledger.backups.daily import copy_last, make_due  # noqa: PLC0415 - only who writes needs it

    now = datetime.now(UTC)
    try:
        if make_due(ledger, now) is None:
            return
        from board.app.settings_file import backup_to  # noqa: PLC0415 - once a day

        to = backup_to()
        if to is not None:
            copy_last(ledger, to, now)
    except BoardError as error:
        click.echo(f"board: {error}", err=True)
