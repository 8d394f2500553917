"""Changing a setting at the board: shown at once, kept for next time, told in a sentence."""

from dataclasses import replace
from typing import TYPE_CHECKING

from board.app.dialogs.ask import Ask
from board.app.dialogs.pick import Choice, Pick
from board.app.dialogs.settings import SettingsDialog
from board.app.settings import theme_word
from board.app.settings_file import write_setting
from board.app.settled import ENVIRONMENT, FILE, FLAG, Settled
from board.errors import BoardError
from board.house.folder import folder_meant, is_folder, whole
from board.views.settings import Shown
from board.views.text import Tone

if TYPE_CHECKING:
    from board.app.app import BoardApp

NOBODY = "-"


class Setting:
    """The settings of one board: which hold, and how to change them."""

    def __init__(self, board: "BoardApp", settled: Settled) -> None:
        self._board = board
        self._settled = settled

    def open(self) -> None:
        """Show what can be set here, and what the house itself says."""
        self._board.push_screen(SettingsDialog(self))

    def tell_faults(self) -> None:
        """Say what is wrong with what the file or the environment says; the board goes on with ours."""
        if self._settled.faults:
            first, *more = self._settled.faults
            key = self._board.keymap.key("settings")
            others = f" (and {len(more)} more: {key} shows them)" if more else ""
            self._board.say(f"{first}{others}; the board goes on without it", Tone.CARE)

    def shown(self) -> Shown:
        """What the screen of settings is made of."""
        board, settings = self._board, self._board.settings
        return Shown(
            theme=theme_word(board.theme),
            ascii=settings.ascii,
            motion=settings.motion,
            bell=settings.bell,
            who=settings.who,
            backup_to=settings.backup_to,
            path=str(self._settled.path),
            over={key: name for key, name in self._settled.source.items() if name in (FLAG, ENVIRONMENT)},
            in_file=frozenset(key for key, name in self._settled.source.items() if name == FILE),
            faults=self._settled.faults,
            house=board.session.house,
            ledger=str(whole(board.session.ledger.path)),
            folder=board.session.ledger.house.folder if board.session.ledger.house else "",
        )

    def ask_who(self) -> None:
        """Ask who is usually at this machine."""
        people = [Choice(person.id, person.name) for person in self._board.session.house.people.values()]
        nobody = Choice(NOBODY, "whoever's shift it is", "guessed as the board opens")
        pick = Pick("Who is usually here?", [nobody, *people], self._board.settings.who or NOBODY)
        self._board.push_screen(pick, self._who)

    def _who(self, person: str | None) -> None:
        if person is not None:
            self.change("who", "" if person == NOBODY else person)

    def ask_backup_to(self) -> None:
        """Ask for the folder off this machine that backups are copied into."""
        asks = "A folder on a stick or another machine, such as /media/stick; - for none"
        usual = self._board.settings.backup_to
        self._board.push_screen(
            Ask("Copies of backups", asks, usual, check=self._backup_to, enter="keeps it")
        )

    def _backup_to(self, typed: str) -> None:
        folder = "" if typed.strip() == NOBODY else typed.strip()
        if folder and not is_folder(folder_meant(folder)):
            raise BoardError(f"there is no folder {folder}; put in what it is on, or name another")
        self.change("backup_to", folder and str(folder_meant(folder).absolute()))
        self._board.backing.look_now()

    def change(self, key: str, value: str | bool) -> None:
        """Let a setting hold from now on, and keep it."""
        board = self._board
        board.settings = replace(board.settings, **{key: value})  # type: ignore[arg-type]
        if key == "who" and value:
            board.session.who = str(value)
        board.looks.follow()
        board.view.show(board.facts)
        try:
            write_setting(self._settled.path, key, value)
        except BoardError as error:
            board.say(f"shown, but not kept: {error}", Tone.CARE)
        else:
            self._kept(key)
        if isinstance(board.screen, SettingsDialog):
            board.screen.fill()

    def _kept(self, key: str) -> None:
        """Note that the file says so now, though something may go before it next time."""
        over = self._settled.source.get(key)
        if over in (FLAG, ENVIRONMENT):
            self._board.say(f"kept in {self._settled.path}; next time {over} goes before it", Tone.CARE)
            return
        self._settled = replace(self._settled, source={**self._settled.source, key: FILE})
        self._board.say(f"kept in {self._settled.path}")
