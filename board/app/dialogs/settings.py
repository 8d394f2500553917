"""What this machine shows, changed in place; what the house says beside it; where all is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from board.app.dialogs.dialog import Dialog
from board.app.settings import THEME_WORDS
from board.app.widgets.hint import Hint
from board.app.widgets.panel import Panel
from board.views.settings import of_house, of_machine, places

if TYPE_CHECKING:
    from board.app.setting import Setting

FRAME = 4  # lines of the dialog's border and hint
_ORDER = tuple(THEME_WORDS)


class SettingsDialog(Dialog[None]):
    """Enter or Space changes the chosen setting, shown and kept at once; Esc leaves."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("q,f4", "leave", "leave"),
        ("enter,space,right", "change(1)", "change"),
        ("left", "change(-1)", "back"),
    ]

    def __init__(self, setting: Setting) -> None:
        super().__init__()
        self._setting = setting

    def compose(self) -> ComposeResult:
        """What can be changed, what cannot be here, and where all lies."""
        with Vertical(classes="dialog whole"):
            yield Panel(id="machine", choose=True)
            yield Panel(id="house-says")
            yield Panel(id="places", choose=True)
            yield Hint("Enter changes it and keeps it   Esc leaves")

    def on_mount(self) -> None:
        """All that there is to set."""
        self.query_one("#machine", Panel).focus()
        self.fill()
        self.call_after_refresh(self.fill)

    def on_screen_resume(self) -> None:
        """What was just asked for and answered shows at once."""
        self.call_after_refresh(self.fill)

    def on_resize(self) -> None:
        """Fit the new size."""
        self.call_after_refresh(self.fill)

    def fill(self) -> None:
        """Show the settings as they are now."""
        shown = self._setting.shown()
        tables = {"#machine": of_machine(shown), "#house-says": of_house(shown), "#places": places(shown)}
        room = self.size.height - FRAME
        for id, table in tables.items():
            panel = self.query_one(id, Panel)
            panel.show(table)
            panel.styles.height = min(panel.wanted_height(panel.size.width or 60), max(3, room))
            room -= panel.wanted_height(panel.size.width or 60) + 1

    def on_panel_chosen(self, message: Panel.Chosen) -> None:
        """A double click changes too."""
        message.stop()
        self.action_change(1)

    def action_change(self, by: int) -> None:
        """The next value of the chosen setting."""
        row = self.query_one("#machine", Panel).chosen
        key = row.key if row else ""
        shown = self._setting.shown()
        if key == "theme":
            at = _ORDER.index(shown.theme) if shown.theme in _ORDER else 0
            self._setting.change(key, THEME_WORDS[_ORDER[(at + by) % len(_ORDER)]])
        elif key == "who":
            self._setting.ask_who()
        elif key == "backup_to":
            self._setting.ask_backup_to()
        elif key:
            self._setting.change(key, not getattr(shown, key))
