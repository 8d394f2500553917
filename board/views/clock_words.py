"""What is said of clocks: whose time is right, and which entries' times are doubtful."""

from collections.abc import Mapping, Sequence
from datetime import timedelta

from board.house.wording import count, said_ahead, said_set
from board.ledger.clocks import Doubt
from board.ledger.doubtful import Disagrees
from board.ledger.open import Ledger
from board.ledger.state import Entry, RightClock
from board.views.days import when
from board.views.facts import Facts

DOUBTFUL = "≈"  # beside a time that a wrong clock wrote


def say_clock(_: object, entry: Entry) -> str:
    """Which clock a person said is right."""
    ahead = said_ahead(timedelta(seconds=float(entry.data["ahead_s"])))
    if entry.data["right"] == RightClock.MACHINE:
        return f"this machine's clock is right, {ahead} of what the board went by"
    return f"the board's time is right, this machine's clock was {ahead}"


def doubt_word(doubt: Doubt) -> str:
    """Why a time is doubtful, in a few words."""
    if doubt.ahead is None:
        return "by a clock that was wrong"
    return f"by a clock {said_ahead(doubt.ahead)}"


def with_doubt(doubts: Mapping[int, Doubt], seq: int, clock: str) -> str:
    """A time as it is shown: with the sign beside it where it is doubtful."""
    return f"{clock} {DOUBTFUL}" if seq in doubts else clock


def doubt_aside(doubts: Mapping[int, Doubt], seq: int) -> str:
    """The same after a sentence; nothing where the time is not doubtful."""
    return f" {DOUBTFUL} {doubt_word(doubts[seq])}" if seq in doubts else ""


def stretch_told(facts: Facts, doubt: Doubt, entries: Sequence[Entry]) -> list[str]:
    """What a wrong clock wrote, from when to when, and what putting it right does."""
    first, last = (when(facts, entry.at) for entry in (entries[0], entries[-1]))
    span = f"at {first}" if first == last else f"from {first} to {last}"
    says = f"{count(len(entries), 'entry')} {span}, written {doubt_word(doubt)}."
    if doubt.ahead is None:
        return [says]
    times = "Its time goes" if len(entries) == 1 else "All their times go"
    return [says, f"{times} {said_set(-doubt.ahead)}; what was first written stays in the record."]


def doubts_told(doubts: Mapping[int, Doubt]) -> list[str]:
    """A sentence for each wrong clock among some entries: how many it wrote, and the sign they have."""
    entries: dict[Doubt, list[int]] = {}
    for seq, doubt in sorted(doubts.items()):
        entries.setdefault(doubt, []).append(seq)
    return [
        f"{DOUBTFUL} The time of {_numbered(found)} is doubtful: written {doubt_word(doubt)}."
        for doubt, found in entries.items()
    ]


def _numbered(seqs: list[int]) -> str:
    if len(seqs) == 1:
        return f"entry {seqs[0]}"
    return f"{len(seqs)} entries, {seqs[0]} to {seqs[-1]},"


def doubt_document(doubt: Doubt | None) -> dict[str, object] | None:
    """The same for other programs: how many seconds ahead the clock was, null where nobody can say."""
    if doubt is None:
        return None
    ahead = None if doubt.ahead is None else round(doubt.ahead.total_seconds())
    return {"clock_ahead_s": ahead, "why": doubt_word(doubt)}


def disagrees_told(found: Disagrees, ledger: Ledger) -> str:
    """How this machine's clock contradicts its entries, and what to do."""
    shows = ledger.clock_beside(found.shows, found.expected)
    expected = ledger.clock_beside(found.expected, found.shows)
    if found.is_set:
        why = f"it was set, and shows {shows} where {expected} is expected"
    else:
        why = f"it shows {shows}, before entry {found.seq} at {expected}"
    return f"this machine's clock looks wrong: {why}; set it right, or see board clock"
