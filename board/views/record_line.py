"""One line of the record, as plain data."""

from dataclasses import dataclass
from datetime import date

from board.views.text import Tone


@dataclass(frozen=True, slots=True)
class RecordLine:
    """One entry or one proof in a line, and under it what was done about it.

    `about` is what an action on it answers: `entry:SEQ`, `watch:ID` or `load:DAY/ID`. Lines of one `fold` may
    be told as one, each by its `part` and its `portions`; `opens` tells whether such a one is open or closed,
    `within` that a line stands under it. `on` is its day.
    """

    key: str
    day: str
    clock: str
    says: str
    who: str
    noted: str
    taken_back: bool
    tone: Tone
    below: tuple[str, ...] = ()
    about: str = ""
    on: date | None = None
    fold: str = ""
    part: str = ""
    portions: int = 0
    opens: str = ""
    within: bool = False
