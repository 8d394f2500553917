"""Where there is no house yet: the pages that make one, or the way to another."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread
from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import Binding, BindingType
from textual.events import Event
from textual.filter import LineFilter
from textual.message import Message

from board.app.app import GIVE_WAY_SECONDS
from board.app.failing import Failing
from board.app.founding.screen import FoundingScreen
from board.app.harmless import take_pasted
from board.app.looks import Looks
from board.app.settings import Settings
from board.app.stopping import TERMINATED, when_told_to_stop
from board.errors import BoardError
from board.house.files import read_house
from board.house.folder import folder_meant
from board.house.founding import NewHouse
from board.house.founding_files import house_files
from board.house.starter import write_house
from board.views.founding import GO_ON, Standing, found_says

if TYPE_CHECKING:
    from board.app.app import BoardApp

INTERRUPTED = 130


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was chosen: DEMO, OTHER or WRITTEN with its folder, or nothing; and the answers so far."""

    what: str
    folder: Path | None
    standing: Standing
    exit_code: int = 0


WRITTEN = "written"


class LookedOver(Message):
    """What the check finds in the house as it was answered, or why it cannot be read."""

    def __init__(self, house: NewHouse, found: Sequence[str]) -> None:
        super().__init__()
        self.house = house
        self.found = found


class FoundingApp(Failing[Outcome]):
    """A page for each thing a house is asked; its files are written at the end, or not at all."""

    TITLE = "Board"
    CSS_PATH = "../board.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+c,ctrl+q", "stop", "stop", priority=True)]

    def __init__(self, standing: Standing, here: Path, today: date, settings: Settings | None = None) -> None:
        super().__init__()
        self.standing = standing
        self.here = here
        self.today = today
        self.settings = settings or Settings()
        self.looks = Looks(cast("BoardApp", self), standing.house.display)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What every line goes through before it is written."""
        return self.looks.filters(super().get_line_filters())

    async def on_event(self, event: Event) -> None:
        """What is pasted is plain text."""
        take_pasted(event)
        await super().on_event(event)

    def on_mount(self) -> None:
        """Leave the terminal clean when told to stop, and begin."""
        when_told_to_stop(partial(self.leave, "", None, TERMINATED))
        self.push_screen(FoundingScreen())

    def action_stop(self) -> None:
        """Leave at once; nothing has been written."""
        self.leave("", None, INTERRUPTED)

    def leave(self, what: str, folder: Path | None = None, exit_code: int = 0) -> None:
        """End with what was chosen."""
        self.exit(Outcome(what, folder, self.standing, exit_code))

    def look_over(self) -> None:
        """Begin to check the house as it would be written; the answer comes as a message."""
        house = self.standing.house
        self.standing = self.standing._replace(found=None)

        def look() -> None:
            self.post_message(LookedOver(house, looked_over(house, self.today)))

        Thread(target=look, daemon=True).start()

    def on_looked_over(self, message: LookedOver) -> None:
        """Show what was found, unless something else was answered meanwhile."""
        if message.house == self.standing.house:
            self.standing = self.standing._replace(found=message.found)
            for screen in self.screen_stack:
                if isinstance(screen, FoundingScreen):
                    screen.show()
                    screen.panel.choose(GO_ON)

    def write(self) -> None:
        """Write the files; raises BoardError where they cannot be."""
        folder = folder_meant(self.standing.folder)
        write_house(folder, house_files(self.standing.house))
        self.leave(WRITTEN, folder)


def looked_over(house: NewHouse, today: date) -> list[str]:
    """What the check says of the house as it would be written."""
    from board.planning.doubts import every_doubt

    try:
        with TemporaryDirectory(prefix="board-new-") as place:
            write_house(Path(place), house_files(house))
            return found_says(every_doubt(read_house(Path(place)), today))
    except BoardError as error:
        return [str(error)]
    except OSError as error:
        return [f"it cannot be gone over: {error.strerror or error}; it is checked once it is written"]


def lead(standing: Standing, here: Path, today: date, settings: Settings, *, mouse: bool = True) -> Outcome:
    """Run the pages until something is chosen or they are left."""
    sys.setswitchinterval(GIVE_WAY_SECONDS)
    app = FoundingApp(standing, here, today, settings)
    outcome = app.run(mouse=mouse)
    return outcome or Outcome("", None, app.standing, app.return_code or 0)
