"""The house's files while the board is open: what is changed there is checked, then taken in whole."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING

from textual.message import Message

from board.app.session import likely_person
from board.errors import BoardError
from board.house.calendar import local
from board.house.fault_lines import with_line
from board.house.files import read_house
from board.house.folder import Watched
from board.house.model import House
from board.house.wording import in_list
from board.views.house_changes import matters_to_plans, still_planned, under_way, what_changed
from board.views.text import Cell, Tone, inert

if TYPE_CHECKING:
    from board.app.app import BoardApp

LOOK_SECONDS = 1.0  # between two looks; files are read once two looks are alike
_GOES_ON = "the board goes on with what it had"


class HouseRead(Message):
    """The house's files as they are since they were changed, or what is wrong with them."""

    def __init__(self, files: list[str], house: House | None, wrong: str = "", asked: str = "") -> None:
        super().__init__()
        self.files = files
        self.house = house
        self.wrong = wrong
        self.asked = asked


@dataclass
class _Looking:
    """Looks at a folder until told to stop; tells of it once what was changed there has settled."""

    board: "BoardApp"
    watched: Watched
    stop: Event
    every: float

    def run(self) -> None:
        """In a thread of its own: tells the application, touches nothing else."""
        while not self.stop.wait(self.every):
            if files := self.watched.changed():
                self.board.post_message(self._read(files))

    def _read(self, files: list[str]) -> HouseRead:
        """What the files say now, checked; a file being written again meanwhile is looked at anew."""
        try:
            house = read_house(self.watched.folder)
            asked = _asks(
                self.board.session.house, house, local(self.board.session.clock.now(), house).date()
            )
        except BoardError as error:
            return HouseRead(files, None, with_line(self.watched.folder, str(error)))
        except Exception as error:
            # a thread that dies would look no more
            return HouseRead(
                files, None, f"{in_list(files)}: cannot be taken in ({type(error).__name__} {error})"
            )
        return HouseRead(files, house, "", asked)


def _asks(before: House, now: House, day: date) -> str:
    """What the check asks of the house that it did not ask before; empty where nothing."""
    from board.batches.refused import refused_recipes
    from board.planning.doubts import every_doubt

    known = {str(doubt) for doubt in every_doubt(before, day)}
    over = [f"recipes.toml, {id}: {why}" for id, said in refused_recipes(now, day).items() for why in said]
    new = [each for each in (*over, *map(str, every_doubt(now, day))) if each not in known]
    more = f" (and {len(new) - 1} more: board house check)" if new[1:] else ""
    return f"{new[0]}{more}" if new else ""


class HouseFiles:
    """The files of one board's house: what is wrong with them, and which plans they have overtaken."""

    def __init__(self, board: "BoardApp", every: float = LOOK_SECONDS) -> None:
        self._board = board
        self._every = every
        house = board.session.ledger.house
        self.folder = Path(house.folder) if house else None
        self._watched = Watched(self.folder) if self.folder else None
        self._stop = Event()
        self._wrong = ""
        self._waiting: HouseRead | None = None
        self._overtaken: set[date] = set()
        self._under_way: set[date] = set()

    def begin(self) -> None:
        """Begin to look, now and then, in the background."""
        if self._watched is not None:
            looking = _Looking(self._board, self._watched, self._stop, self._every)
            Thread(target=looking.run, daemon=True).start()

    def end(self) -> None:
        """Look no more."""
        self._stop.set()

    def keep_up(self) -> None:
        """Take in what had to wait for work under way, once it is done."""
        waiting = self._waiting
        if waiting is not None and waiting.house and not under_way(self._board.facts, waiting.house):
            self.took_in(waiting)

    @property
    def word(self) -> Cell | None:
        """What is wrong with the files, for as long as it is."""
        return Cell(inert(f"{self._wrong}: {_GOES_ON}"), Tone.CARE) if self._wrong else None

    def overtaken(self, day: date) -> str:
        """That a day's plan was made before the house changed; empty where it was not."""
        if day not in self._overtaken:
            return ""
        return f"The house has changed since this plan: {self._board.keymap.key('plan')} plans it again."

    def planned(self, day: date, *, done: bool) -> None:
        """A plan of a day came; it knows the house as it is unless it was begun before that changed."""
        if day not in self._under_way:
            self._overtaken.discard(day)
        elif done:
            self._under_way.discard(day)

    def took_in(self, message: HouseRead) -> None:
        """Take in what was read, where it is a house that goes with what is under way."""
        house, facts = message.house, self._board.facts
        wrong = message.wrong if house is None else under_way(facts, house)
        files = in_list(message.files)
        self._waiting = message if house is not None and wrong else None
        if wrong or house is None:
            self._wrong = wrong
            self._board.say(f"{wrong}: {_GOES_ON}", Tone.CARE)
            return
        was_wrong, self._wrong = bool(self._wrong), ""
        before = self._board.session.house
        self._overtake(before, house)
        self._board.take_house(house)
        asked = next(iter(self._board.keymap.faults), still_planned(facts, house) or message.asked)
        asks = f"; mind: {asked}" if asked else ""
        self._board.say(f"{files} {_what(before, house, was_wrong)}{asks}", Tone.CARE if asked else Tone.GOOD)

    def _overtake(self, before: House, now: House) -> None:
        """Remember which plans do not know the house as it is now."""
        if matters_to_plans(before, now):
            session, facts = self._board.session, self._board.facts
            days = {*session.drafts, *(day for day in facts.plans if day >= facts.today)}
            self._under_way = {day for day in days | self._under_way if self._board.planning.word(day)}
            self._overtaken |= days | self._under_way


def _what(before: House, now: House, was_wrong: bool) -> str:
    """What became of files that were written."""
    if before != now:
        return f"changed, taken in: {what_changed(before, now)}"
    return "is right again" if was_wrong else "was written and taken in; the house is as it was"


def who_after(board: "BoardApp", house: House) -> str:
    """Who is at the keys once the house is another: whoever's shift it is where they are gone."""
    who, known = board.session.who, board.session.house.people
    return (
        likely_person(house, board.session.clock.now()) if who in known and who not in house.people else who
    )
