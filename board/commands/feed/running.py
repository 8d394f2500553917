"""A feed from its first message to the word to stop: poured in, and written every second."""

import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from threading import Event, current_thread, main_thread
from time import monotonic
from typing import Protocol, TypeVar

from board.commands.backing import Beside
from board.commands.feed.house_look import HouseLook
from board.commands.feed.intake import Intake
from board.commands.feed.saying import say
from board.commands.recording import clock_word
from board.errors import LedgerError
from board.ledger import feeding
from board.ledger.open import open_ledger

FLUSH_SECONDS = 1.0
AGAIN_SECONDS = 2.0
BUSY_SECONDS = 5.0  # a writer's turn is waited for so long before a person is told
Token = TypeVar("Token")


class Source(Protocol[Token]):
    """Where messages come from."""

    def pour(self, intake: Intake[Token], seconds: float) -> bool:
        """Offer what has come, waiting for it so long at most; False where no more will come."""

    def position(self) -> str | None:
        """How far it was read; None where it cannot be read again."""

    def begin(self, position: str) -> None:
        """Go on from where it was read to, as `position` once said; empty for the beginning."""

    def done(self, tokens: Sequence[Token]) -> None:
        """The messages of these tokens need not be sent again."""


def now() -> datetime:
    """The wall clock."""
    return datetime.now(UTC)


def feed(intake: Intake[Token], source: Source[Token], stop: Event) -> None:
    """Take in a source until it ends or somebody says stop; what was taken in by then is written.

    Raises:
        LedgerError: it was stopped while it could not write.
    """
    intake.ledger.wait_at_most(BUSY_SECONDS)
    if word := clock_word(intake.ledger, now()):
        say(word)
    source.begin(intake.position)
    backups, house_look = Beside(intake.ledger.path), _house_look(intake)

    def look() -> None:
        backups.keep_up()
        if word := house_look.word() if house_look else "":
            say(word)

    _take_in(intake, source, stop, look)
    while not _is_written(intake.end, intake, source, stop) and not stop.is_set():
        _take_in(intake, source, stop, look)


def _house_look(intake: Intake[Token]) -> HouseLook | None:
    """A look at the files of the house that is fed; None where its ledger names no folder."""
    known = intake.ledger.house
    return HouseLook(Path(known.folder), intake.house) if known else None


def _take_in(intake: Intake[Token], source: Source[Token], stop: Event, look: Callable[[], None]) -> None:
    """Pour in until no more will come, and write every second."""
    due = monotonic() + FLUSH_SECONDS
    while not stop.is_set() and source.pour(intake, max(0.0, due - monotonic())):
        if intake.is_due or monotonic() >= due:
            _is_written(intake.flush, intake, source, stop)
            look()
            due = monotonic() + FLUSH_SECONDS


@contextmanager
def told_to_stop() -> Iterator[Event]:
    """An event that is set when the terminal or the system asks to end."""
    stop = Event()
    if current_thread() is not main_thread():
        yield stop
        return
    before = {which: signal.signal(which, lambda *_: stop.set()) for which in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield stop
    finally:
        for which, handler in before.items():
            signal.signal(which, handler)


def _is_written(
    write: Callable[[datetime, str | None], list[Token]],
    intake: Intake[Token],
    source: Source[Token],
    stop: Event,
) -> bool:
    """Write what waits, trying until it can be; False where it is to be read again instead.

    Raises:
        LedgerError: it cannot be written, and somebody says stop.
    """
    told = False
    while True:
        try:
            if told:
                _open_again(intake)
            set_back = _was_set_back(intake, source)
            if not set_back:
                source.done(write(now(), source.position()))
        except LedgerError as error:
            if stop.is_set():
                raise
            if not told:
                say(f"nothing is lost, the feed waits: {error}")
            told = True
            stop.wait(AGAIN_SECONDS)
        else:
            if told:
                say("the feed goes on")
            return not set_back


def _open_again(intake: Intake[Token]) -> None:
    """A ledger that was restored or put back is another file of the same name."""
    fresh = open_ledger(intake.ledger.path)
    intake.ledger.close()
    intake.ledger = fresh
    intake.ledger.wait_at_most(BUSY_SECONDS)


def _was_set_back(intake: Intake[Token], source: Source[Token]) -> bool:
    """Whether the ledger was restored to before what this feed wrote: it then goes on from there."""
    stored = feeding.position(intake.ledger, intake.source)
    if stored == intake.position:
        return False
    say(f"the ledger was set back, {intake.source} is read again from there")
    intake.forget(stored)
    source.begin(stored)
    return True
