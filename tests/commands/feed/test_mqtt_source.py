"""How a feed goes about a broker that does not do as brokers do, without one."""

from types import SimpleNamespace

from board.commands.feed.broker import Address
from board.commands.feed.intake import Intake
from board.commands.feed.mqtt import LONGEST_RETRY_SECONDS, Mqtt
from board.house.model import House
from board.ledger.open import Ledger


class Flapping(SimpleNamespace):
    """Lets in whoever asks, and drops the connection at the next turn."""

    at, topics, refused, is_up, turns = Address("pi", 1883), ("a",), "", False, 0

    def connect(self) -> None:
        """Let in."""
        self.is_up, self.turns = True, 0
        self.asked += 1

    def turn(self, _: float) -> bool:
        """The first goes well."""
        self.turns += 1
        return bool(self.turns == 1)

    def arrived(self) -> list[object]:
        """Nothing ever comes."""
        return []


def test_a_broker_that_drops_whom_it_lets_in_is_asked_less_and_less(ledger: Ledger, house: House) -> None:
    """As one that is taken away does: the log of a night is not filled by two lines a second."""
    broker, said, clock = Flapping(asked=0), list[str](), [0.0]
    source = Mqtt(broker, say=said.append, elapsed=lambda: clock[0])  # type: ignore[arg-type]
    intake = Intake(ledger, house, "mqtt pi")
    while clock[0] < 100 * LONGEST_RETRY_SECONDS:
        source.pour(intake, 0.0)
        clock[0] += 0.5
    assert 100 <= broker.asked <= 110
    assert len(said) <= 2 * broker.asked
