"""A broker of MQTT 3.1.1 as a source of messages: kept by it until they are on disk here.

The session outlives us (`clean_session` false): what is published while nobody reads is kept by the broker.
A message is acknowledged by `ack`, and else comes again. Section numbers are those of the OASIS standard,
MQTT 3.1.1 of 29 October 2014.
"""

import os
import re
import ssl
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from board.errors import BoardError
from board.probes.limits import bounds

if TYPE_CHECKING:
    from paho.mqtt.client import Client, MQTTMessage

PLAIN_PORT, TLS_PORT = 1883, 8883  # as registered with IANA: mqtt, secure-mqtt
QOS = 1  # at least once (4.3.2); exactly once is made of it by probe and moment
KEEPALIVE_SECONDS = 30
CONNECT_SECONDS = 5.0
MOST_A_TURN = 1000  # messages, so that what has come is written before more is taken
LONGEST_TEXT = 65_535  # bytes of UTF-8 (1.5.3)
_LOCAL = ("localhost", "127.0.0.1", "::1")
_USER, _PASSWORD, _TLS, _CA = (f"BOARD_MQTT_{name}" for name in ("USER", "PASSWORD", "TLS", "CA"))


class BrokerError(BoardError):
    """A broker that cannot be asked as it is wanted: what to set otherwise."""


@dataclass(frozen=True, slots=True)
class Secrets:
    """Who to be at a broker and whom to trust, from the environment alone: a command line is seen by all."""

    user: str | None
    password: str | None
    tls: bool
    authorities: str | None

    @classmethod
    def of(cls, environment: Mapping[str, str] = os.environ) -> "Secrets":
        """What the environment says.

        Raises:
            BrokerError: a password without a user, no text, or a file of authorities that is not there.
        """
        user, password, ca = (environment.get(name) or None for name in (_USER, _PASSWORD, _CA))
        if password and not user:
            raise BrokerError(f"{_PASSWORD} is set without {_USER}; set both, or neither")
        if ca and not Path(ca).is_file():
            raise BrokerError(f"{_CA}: found no file {ca}, allowed a file of authorities in PEM")
        tls = (environment.get(_TLS) or "").lower()
        if tls not in ("", "0", "no", "1", "yes"):
            raise BrokerError(f"{_TLS}: found '{tls[:20]}', allowed yes or no")
        for variable, value in ((_USER, user or ""), (_PASSWORD, password or "")):
            if not _is_sendable(value):
                raise BrokerError(f"{variable}: found no text, or too long a one, allowed UTF-8 up to 64 KB")
        return cls(user, password, tls in ("1", "yes") or ca is not None, ca)


@dataclass(frozen=True, slots=True)
class Address:
    """Where a broker listens."""

    host: str
    port: int

    def __str__(self) -> str:
        return f"[{self.host}]:{self.port}" if ":" in self.host else f"{self.host}:{self.port}"

    @property
    def is_here(self) -> bool:
        """Whether it is this machine, so that nothing goes over a wire."""
        return self.host in _LOCAL


def address(text: str, *, tls: bool) -> Address:
    """Where a broker listens, from `pi.local`, `10.0.0.7:1884` or `[fe80::1]:1883`; raises BrokerError."""
    found = re.fullmatch(r"(?:\[([0-9A-Fa-f:.%]+)\]|([^\s:@/\[\]]+))(?::(\d{1,5}))?", text.strip())
    port = int(found[3]) if found and found[3] else TLS_PORT if tls else PLAIN_PORT
    if not found or not 0 < port < 65536 or not _is_host(found[1] or found[2]):
        more = f"; user and password go into {_USER} and {_PASSWORD}" if "@" in text else ""
        raise BrokerError(f"--mqtt: found '{text[:60]}', allowed HOST or HOST:PORT{more}")
    return Address(found[1] or found[2], port)


def _is_sendable(text: str) -> bool:
    """Whether a packet can hold a text: UTF-8 with two bytes for its length (1.5.3)."""
    try:
        return len(text.encode()) <= LONGEST_TEXT
    except UnicodeError:  # bytes of the environment that are no text
        return False


def _is_host(name: str) -> bool:
    """Whether a name can be looked up: labels of 1 to 63 letters (RFC 1035, 2.3.4)."""
    try:
        return bool(name.encode("idna"))
    except UnicodeError:
        return False


def topic_filter(text: str) -> str:
    """A filter of topics as 4.7 allows it: + for one level, # for all below; raises BrokerError."""
    levels = text.split("/")
    sound = text and _is_sendable(text) and text.isprintable()
    wild = all(not set("+#") & set(level) or level in ("+", "#") for level in levels)
    if not sound or not wild or "#" in levels[:-1]:
        raise BrokerError(f"--topic: found '{text[:60]}', allowed a topic such as pits/+/air or kitchen/#")
    return text


def client_id(house: str, ledger: str) -> str:
    """A name for the session of one ledger: 23 letters and digits, which every broker takes (3.1.3.1)."""
    return f"board{sha256(f'{house} {ledger}'.encode()).hexdigest()[:18]}"


@dataclass(frozen=True, slots=True)
class Arrived:
    """One message as the broker sent it: its packet's `number` is good for that `connection` alone.

    `again` where it was sent before; `fresh` where it comes as it is published, out of no queue.
    """

    topic: str
    payload: bytes
    number: int
    qos: int
    connection: int
    again: bool
    fresh: bool


class Broker:
    """One session with a broker; no threads: `turn` does what the network asks for.

    What was kept for us comes before a word that we send to ourselves: `is_caught_up` once that is back.
    """

    def __init__(self, at: Address, topics: Sequence[str], secrets: Secrets, id: str) -> None:
        self.at = at
        self.topics = tuple(topics)
        self.refused = ""
        self.is_up = self.is_caught_up = False
        self._connection = 0
        self._own_topic, self._own_word = f"board/{id}", ""
        self._former: tuple[str, ...] = ()
        self._arrived: list[Arrived] = []
        self._asked: dict[int, tuple[str, ...]] = {}
        self._client = _client(id, secrets)
        self._client.on_connect = self._connected
        self._client.on_subscribe = self._subscribed
        self._client.on_message = self._came

    def forget_topics(self, former: Sequence[str]) -> None:
        """Listen no more to what an earlier run of the same session wanted and this one does not."""
        self._former = tuple(topic for topic in former if topic not in self.topics)

    def connect(self) -> None:
        """Ask for the session, to be answered in `turn`; raises OSError where it cannot be reached."""
        self.is_up, self.refused = False, ""
        self._connection += 1
        self._client.connect(self.at.host, self.at.port, KEEPALIVE_SECONDS)

    def turn(self, seconds: float) -> bool:
        """Take and send what there is, waiting at most so long; False once the connection is gone."""
        before = -1
        while before < len(self._arrived) <= MOST_A_TURN:
            before = len(self._arrived)
            if not self._looped(seconds if before == 0 else 0.0):
                self.is_up = False
                return False
        return True

    def _looped(self, seconds: float) -> bool:
        """Whether the connection stands after what the network asked for once."""
        try:
            return int(self._client.loop(seconds)) == 0
        except OSError:  # it connects anew by itself where an older protocol is asked for
            return False

    def arrived(self) -> list[Arrived]:
        """The messages that came since this was asked last, in the order they came."""
        taken, self._arrived = self._arrived, []
        return taken

    def ack(self, message: Arrived) -> None:
        """Tell the broker that a message is on disk; one of a lost connection will come again."""
        if message.qos and self.is_up and message.connection == self._connection:
            self._client.ack(message.number, message.qos)

    def leave(self) -> None:
        """End the connection as 3.14 asks; the session stays with the broker."""
        self._client.disconnect()
        self.is_up = False

    def _connected(self, client: "Client", _: object, flags: Any, reason: Any, __: object) -> None:
        if reason.is_failure:
            self.refused = str(reason).lower()
            return
        self.is_up, self.is_caught_up = True, not flags.session_present
        if self._former:
            client.unsubscribe(list(self._former))
        _, number = client.subscribe([(topic, QOS) for topic in (*self.topics, self._own_topic)])
        if number is not None:
            self._asked[number] = self.topics
        self._own_word = uuid4().hex
        client.publish(self._own_topic, self._own_word, QOS)

    def _subscribed(self, _: "Client", __: object, number: int, reasons: Sequence[Any], ___: object) -> None:
        asked = self._asked.pop(number, ())
        failed = [topic for topic, reason in zip(asked, reasons, strict=False) if reason.is_failure]
        if failed:
            self.refused = f"no right to read {failed[0]}"

    def _came(self, _: "Client", __: object, message: "MQTTMessage") -> None:
        try:
            topic = message.topic
        except UnicodeDecodeError:
            topic = "?"
        fresh = self.is_caught_up and not message.dup and not message.retain
        payload = bytes(message.payload[: bounds().longest_bytes + 1])  # of one too long no more is told
        came = Arrived(topic, payload, message.mid, message.qos, self._connection, message.dup, fresh)
        if topic == self._own_topic:
            self.is_caught_up = self.is_caught_up or came.payload == self._own_word.encode()
            self.ack(came)
        else:
            self._arrived.append(came)


def _client(id: str, secrets: Secrets) -> "Client":
    from paho.mqtt.client import Client, MQTTv311  # noqa: PLC0415 - only a feed from a broker needs it
    from paho.mqtt.enums import CallbackAPIVersion  # noqa: PLC0415

    client = Client(CallbackAPIVersion.VERSION2, id, clean_session=False, protocol=MQTTv311, manual_ack=True)
    client.connect_timeout = CONNECT_SECONDS
    if secrets.user:
        client.username_pw_set(secrets.user, secrets.password)
    if secrets.tls:
        try:
            client.tls_set_context(ssl.create_default_context(cafile=secrets.authorities))
        except (ssl.SSLError, OSError) as error:
            raise BrokerError(f"{_CA}: {secrets.authorities} cannot be read as authorities in PEM") from error
    return client
