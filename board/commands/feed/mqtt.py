"""Messages of a broker: each is acknowledged once it is on disk, and comes again until then.

One that names its own time is on record once, however often it comes. One that names none counts at its
arrival, and only where it comes as it is published: out of a queue, or for the second time, it is set aside.
"""

import json
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import datetime
from functools import partial
from ssl import SSLCertVerificationError
from time import monotonic, sleep

from board.commands.feed.broker import Arrived, Broker, BrokerError
from board.commands.feed.intake import Intake
from board.commands.feed.running import now
from board.commands.feed.saying import say as to_stderr
from board.house.wording import duration
from board.probes.message import read_message
from board.probes.reading import Told
from board.probes.refused import BadMessageError

LISTEN_SECONDS = 0.05  # how long a turn waits for the network; being told to stop is heard after it
HELD_UP = 10  # messages that wait while no more come: a broker may hold back until these are acknowledged
FIRST_RETRY_SECONDS, LONGEST_RETRY_SECONDS = 1.0, 30.0
ANSWER_SECONDS = 10.0


class Mqtt:
    """A broker as a source of a feed.

    `say` tells the person at the command; `elapsed` are seconds that no setting of a clock moves.
    """

    def __init__(
        self,
        broker: Broker,
        *,
        say: Callable[[str], None] = to_stderr,
        clock: Callable[[], datetime] = now,
        elapsed: Callable[[], float] = monotonic,
    ) -> None:
        self.broker = broker
        self._say = say
        self._clock = clock
        self._elapsed = elapsed
        self._unacknowledged = 0
        self._asked_at: float | None = None
        self._was_up = False
        self._down_since: float | None = None
        self._up_since: float | None = None
        self._retry_at = 0.0
        self._retry_seconds = FIRST_RETRY_SECONDS

    def begin(self, position: str) -> None:
        """Take up the session that the broker keeps for us; `position` says what was listened to."""
        with suppress(ValueError):  # a position of another source that was called the same
            self.broker.forget_topics([str(topic) for topic in json.loads(position)])

    def position(self) -> str:
        """What is listened to: where it was read to is the broker's to know."""
        return json.dumps(list(self.broker.topics))

    def pour(self, intake: Intake[Arrived], seconds: float) -> bool:
        """Offer what has come; there may always be more.

        Raises:
            BrokerError: the broker refuses us before it ever let us in.
        """
        if not self.broker.is_up and self._asked_at is None and not self._ask():
            sleep(min(seconds, LISTEN_SECONDS))
            return True
        if self.broker.turn(min(seconds, LISTEN_SECONDS)):
            self._heed_answer()
        else:
            self._lost(self.broker.refused or "the connection is gone")
        came = self.broker.arrived()
        for message in came:
            intake.take(partial(_told, message), message.payload, message, self._clock())
        self._unacknowledged += len(came)
        if not came and self._unacknowledged >= HELD_UP:
            intake.hurry()
        return True

    def done(self, tokens: Sequence[Arrived]) -> None:
        """Let the broker forget what is on disk."""
        for message in tokens:
            self.broker.ack(message)
        self._unacknowledged = 0

    def _ask(self) -> bool:
        """Ask the broker to let us in where it is time to; whether it could be asked."""
        if self._elapsed() < self._retry_at:
            return False
        try:
            self.broker.connect()
        except SSLCertVerificationError as error:
            if not self._was_up:
                says = f"the broker at {self.broker.at} cannot be trusted: {error.verify_message}"
                raise BrokerError(f"{says}; name its authority in BOARD_MQTT_CA") from error
            self._lost(error.verify_message)
            return False
        except OSError as error:
            self._lost(error.strerror or str(error))
            return False
        self._asked_at = self._elapsed()
        return True

    def _heed_answer(self) -> None:
        """Take in what the broker says to being asked."""
        if self.broker.refused:
            self._lost(self.broker.refused)
        elif self._asked_at is not None and self.broker.is_up:
            self._let_in()
        elif self._asked_at is not None and self._elapsed() - self._asked_at > ANSWER_SECONDS:
            self._lost("no answer")

    def _let_in(self) -> None:
        if self._down_since is None:
            self._say(f"connected to {self.broker.at}")
        else:
            away = (self._elapsed() - self._down_since) / 60.0
            self._say(f"{self.broker.at} answers after {duration(max(away, 1.0))}")
        self._asked_at, self._was_up, self._down_since = None, True, None
        self._up_since = self._elapsed()

    def _lost(self, why: str) -> None:
        """Say once that the broker is away, and try later and later; raises BrokerError at the first no."""
        if self.broker.refused and not self._was_up:
            raise BrokerError(f"the broker at {self.broker.at} refuses: {why}")
        if self._down_since is None:
            self._down_since = self._elapsed()
            waits = "what is sent waits there, trying again until it is back"
            self._say(f"{self.broker.at}: {why}; {waits if self._was_up else 'trying until it answers'}")
        if self._up_since is not None and self._elapsed() - self._up_since > LONGEST_RETRY_SECONDS:
            self._retry_seconds = FIRST_RETRY_SECONDS  # not where it lets us in to drop us at once
        self._asked_at = self._up_since = None
        self.broker.is_up = False
        self._retry_at = self._elapsed() + self._retry_seconds
        self._retry_seconds = min(2 * self._retry_seconds, LONGEST_RETRY_SECONDS)


def _told(message: Arrived) -> list[Told]:
    """What a message tells of the probe it names, or that its topic names."""
    told = read_message(message.payload, message.topic)
    if not message.fresh and any(one.at is None for one in told):
        raise BadMessageError("found no time, and it waited at the broker; allowed with the time it was read")
    return told
