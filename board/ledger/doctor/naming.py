"""How the doctor tells of people and times: as the house whose ledger it is, where that can be read."""

import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from zoneinfo import ZoneInfo

from board.house.folder import found_again, is_text
from board.house.model import Display, Person
from board.house.told_zone import told_clock_hours, told_crew, told_zone
from board.house.wording import date_and_time
from board.ledger.doctor.raw import BROKEN, looking
from board.ledger.pieces import Piece
from board.ledger.times import moment


@dataclass(frozen=True, slots=True)
class Naming:
    """A house's zone, clock and crew; whoever and whatever it does not know is told as it is written."""

    zone: ZoneInfo | None = None
    clock_hours: int = Display().clock_hours
    crew: Mapping[str, Person] = field(default_factory=dict)

    def entry(self, piece: Piece) -> str:
        """An entry as a person finds it: its number, kind and writer."""
        entry = piece.entry
        about = f" {entry.subject}" if entry.subject else ""
        return (
            f"entry {entry.seq} ({entry.kind}{about}, by {self.person(entry.who)} at {self.time(entry.at)})"
        )

    def person(self, who: str) -> str:
        """What the crew calls somebody."""
        return self.crew[who].name if who in self.crew else who

    def time(self, at: str) -> str:
        """A moment of the record on the house's clock."""
        try:
            return date_and_time(moment(at).astimezone(self.zone), self.clock_hours) if self.zone else at
        except (ValueError, TypeError, OverflowError):
            return at


def naming_of(path: Path, connection: sqlite3.Connection) -> Naming:
    """That of the house which a ledger names."""
    with suppress(*BROKEN):
        row = connection.execute("SELECT folder FROM house").fetchone()
        if row and is_text(named := Path(str(row[0]))):
            folder = found_again(named, path.absolute().parent)
            return Naming(told_zone(folder), told_clock_hours(folder), told_crew(folder))
    return Naming()


def crew_in(file: Path, ledger: Path) -> Mapping[str, Person]:
    """The people of the house whose ledger a file is, by id; nobody where that cannot be read.

    Args:
        file: the ledger, or a backup of it.
        ledger: where the ledger is; the house's files may have been moved with it.
    """
    with suppress(*BROKEN), looking(file) as connection:
        return naming_of(ledger, connection).crew
    return {}
