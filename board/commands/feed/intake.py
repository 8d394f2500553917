"""From messages to the ledger: read, mapped, thinned, written once a second, and only then done with."""

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from typing import Generic, TypeVar

from board.commands.feed.counts import Counts
from board.house.calendar import zone
from board.house.model import House
from board.house.probes import Probe, ProbeReads, named_by
from board.house.read_probes import keeping_of
from board.ledger import feeding
from board.ledger.on_pits import on_pits
from board.ledger.open import Ledger
from board.probes.known import check_time, measured, sent
from board.probes.message import read_message
from board.probes.reading import Bad, Fed, Sent, Told
from board.probes.refused import BadMessageError
from board.probes.thinning import Thinning

Token = TypeVar("Token")
MOST_IN_ENTRY = 1_000  # readings of one entry
MOST_WAITING = 5_000  # readings and messages of one commit
POSITION_EVERY = timedelta(seconds=10)  # while nothing is kept; what is read again is left out again


class Intake(Generic[Token]):
    """The way of one source's messages into the ledger.

    Each message comes with a token, such as a packet to be acknowledged; `flush` gives back the tokens of
    what is on disk, set aside or left out on purpose, and need not be sent again.
    """

    def __init__(self, ledger: Ledger, house: House, source: str) -> None:
        self.ledger = ledger
        self.source = source
        self.counts = Counts()
        self.named: dict[str, Probe] = named_by(house.probes)
        self.house = house
        self._probes = house.probes
        self._zone = zone(house)
        self._hangs_somewhere = any(
            one.reads is ProbeReads.MEAT and one.place for one in house.probes.values()
        )
        self._thinning = Thinning(keeping_of(house))
        self._waiting: list[Sent] = []
        self._bad: list[Bad] = []
        self._tokens: list[Token] = []
        self._thinned = 0
        self._is_hurried = False
        self.position = feeding.position(ledger, source)
        self._positioned_at: datetime | None = None

    @property
    def is_due(self) -> bool:
        """Whether so much waits that it is to be flushed before its second is over."""
        return self._is_hurried or len(self._waiting) + len(self._bad) >= MOST_WAITING

    def hurry(self) -> None:
        """Ask for a flush at once: the source sends no more until what waits is done with."""
        self._is_hurried = True

    def offer(
        self, message: bytes | str, token: Token, arrived: datetime, *, probe: str | None = None
    ) -> None:
        """Take in one message, or set it aside; nothing that a message holds makes this fail.

        `probe` is the one it is about where the message itself names none, as by its topic.
        """
        self.take(lambda: read_message(message, probe), message, token, arrived)

    def take(
        self, tell: Callable[[], Iterable[Told]], message: bytes | str, token: Token, arrived: datetime
    ) -> None:
        """Take in what a message tells, each reading by itself; `message` is its text where it is refused."""
        self._tokens.append(token)
        try:
            for told in tell():
                self._take_one(told, message, arrived)
        except BadMessageError as error:
            self._set_aside(error, message, arrived)

    def flush(self, now: datetime, position: str | None = None) -> list[Token]:
        """Write what was offered, in one transaction; the tokens of all messages that are done with.

        `position` is how far the source was read, where it is one that can be read again.

        Raises:
            LedgerError: it cannot be written now; all stays here for the next flush.
        """
        self._keep(self._thinning.overdue(now))
        self._write(now, position, whether_or_not=False)
        return self._done()

    def end(self, now: datetime, position: str | None = None) -> list[Token]:
        """Flush when no more will come, with what was held back to see what follows.

        Raises:
            LedgerError: as `flush`.
        """
        self._keep(self._thinning.end())
        self._write(now, position, whether_or_not=True)
        return self._done()

    def forget(self, position: str) -> None:
        """Let go of all that waits: the source is read again from an earlier position."""
        self.position = position
        self._thinning.end()
        self._waiting.clear()
        self._bad.clear()
        self._tokens.clear()
        self._thinned = 0

    def _take_one(self, told: Told, message: bytes | str, arrived: datetime) -> None:
        try:
            one = sent(told, self.named, self._zone, arrived)
            check_time(one.at, arrived)
        except BadMessageError as error:
            self._set_aside(error, message, arrived)
            return
        self._thinned += 1
        self._keep(self._thinning.keep(one))

    def _keep(self, kept: list[Sent]) -> None:
        self._thinned -= len(kept)
        self._waiting += kept

    def _set_aside(self, error: BadMessageError, message: bytes | str, arrived: datetime) -> None:
        text = (
            message
            if isinstance(message, str)
            else message[: feeding.LONGEST_MESSAGE].decode(errors="replace")
        )
        self._bad.append(Bad(arrived, str(error), text))

    def _write(self, now: datetime, position: str | None, *, whether_or_not: bool) -> None:
        """Write what waits; how far the source was read is written with it, or every so often."""
        readings = self._measured(now)
        is_time = self._positioned_at is None or now - self._positioned_at >= POSITION_EVERY
        has_moved = position is not None and position != self.position
        if not (readings or self._bad or (has_moved and (is_time or whether_or_not))):
            return
        with self.ledger.writing():
            written = [
                feeding.take_fed(self.ledger, self.source, some, noted_at=now) for some in _chunks(readings)
            ]
            feeding.note_feed(
                self.ledger,
                self.source,
                noted_at=now,
                position=position,
                bad=self._bad,
                thinned=self._thinned,
            )
        for one in written:
            self.counts.kept += one.kept
            self.counts.doubled += one.doubled
        self.counts.bad += len(self._bad)
        self.counts.thinned += self._thinned
        self.position, self._positioned_at = position or self.position, now
        self._thinned = 0
        self._waiting.clear()
        self._bad.clear()

    def _measured(self, now: datetime) -> list[Fed]:
        """What waits, each with what it is of; set aside what a clock set back makes still to come."""
        for one in [one for one in self._waiting if one.at > now]:
            try:
                check_time(one.at, now)
            except BadMessageError as error:
                self._waiting.remove(one)
                self._set_aside(error, f"{one.probe} {one.temperature_c} C", now)
        if not self._waiting:
            return []
        times = [one.at for one in self._waiting]
        stays = on_pits(self.ledger, min(times), max(times)) if self._hangs_somewhere else []
        return [measured(one, self._probes[one.probe], stays) for one in self._waiting]

    def _done(self) -> list[Token]:
        done, self._tokens, self._is_hurried = self._tokens, [], False
        return done


def _chunks(readings: list[Fed]) -> Iterator[list[Fed]]:
    return (readings[n : n + MOST_IN_ENTRY] for n in range(0, len(readings), MOST_IN_ENTRY))
