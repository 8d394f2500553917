"""Probes to pick from: Enter puts one into a load or takes it out, Del strikes some of what it sent."""

from typing import ClassVar

from textual.binding import Binding, BindingType

from board.app.dialogs.pick import Pick

STRIKE = "strike:"


class PickProbe(Pick):
    """Gives the probe that was picked, after `strike:` where some of what it sent is to be struck."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("delete", "strike", "strike", priority=True),  # else it would take letters off the line
    ]
    HINT = "Enter puts in or takes out   Del strikes what it sent   Esc leaves"

    def action_strike(self) -> None:
        """Strike some of what the chosen probe sent."""
        row = self.chosen
        if row is not None:
            self.dismiss(f"{STRIKE}{row.key}")
