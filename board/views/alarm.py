"""One alarm as data: a trouble that wants somebody now."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum

from board.views.text import Tone

Stood = Mapping[str, int]
"""The levels of the alarms that stood a moment ago, by their keys."""


class AlarmKind(StrEnum):
    """What kind of trouble an alarm tells of, the worst first; the word counts several of one kind."""

    CLOCK = "clock wrong"
    RULE = "food outside its rule"
    LATE = "load late"
    PIT = "pit off"
    BATCH = "batch due"
    CHECK = "reading overdue"
    HOLD = "load held long"
    PROBE = "probe off"
    SILENT = "probe silent"
    ASIDE = "messages set aside"
    BACKUP = "backup missing"


@dataclass(frozen=True, slots=True)
class Alarm:
    """One trouble: its key, its level from 1 up, what is wrong since when, what to do, and of which load.

    `about` is what an action answers (`entry:SEQ`, `watch:ID` or `load:DAY/ID`) where food is outside
    its rule; `do` what settles it: a check that is due, a place to read, or a row of a view as `VIEW:ROW`.
    """

    key: str
    level: int
    kind: AlarmKind
    says: str
    todo: str
    tone: Tone
    since: datetime
    load: str = ""
    about: str = ""
    do: str = ""

    @property
    def whole(self) -> str:
        """What is wrong and what to do about it, in one sentence."""
        return f"{self.says}; {self.todo}" if self.todo else self.says


def spell(moment: datetime) -> str:
    """A moment as part of a key, so that the same trouble on another day is another."""
    return f"{moment.astimezone(UTC):%Y-%m-%dT%H:%MZ}"
