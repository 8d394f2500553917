"""What probes feed: each reading once, of what it was of, until somebody strikes it."""

from datetime import timedelta

from board.ledger import feeding, read
from board.ledger.open import Ledger
from board.ledger.undo import undo
from board.probes.reading import Fed

from .by_hand import DAY, LOADED

LOAD = "1209-brisket-1"
SAID = {"who": "Ada", "at": LOADED, "noted_at": LOADED + timedelta(hours=3)}


def air(minute: float, celsius: float, probe: str = "north air") -> Fed:
    """A reading of North's air, some minutes after the load went on."""
    return Fed(probe, LOADED + timedelta(minutes=minute), celsius, place="north")


def core(minute: float, celsius: float, probe: str = "p1") -> Fed:
    """A reading of a probe that sits in some meat."""
    return Fed(probe, LOADED + timedelta(minutes=minute), celsius)


def feed(ledger: Ledger, *readings: Fed, minute: float = 180) -> feeding.Flushed:
    """Record them some minutes after the load went on."""
    return feeding.take_fed(ledger, "stdin", readings, noted_at=LOADED + timedelta(minutes=minute))


def test_a_reading_counts_once(planned: Ledger) -> None:
    """What is delivered twice, in one flush or in two, is there once and counted as doubled."""
    first = feed(planned, air(0, 110), air(0, 110), air(1, 111))
    again = feed(planned, air(1, 111), air(2, 112))
    assert (first.kept, first.doubled, again.kept, again.doubled) == (2, 1, 1, 1)
    assert [r.temperature_c for r in read.readings(planned, place="north")] == [110, 111, 112]


def test_placing(planned: Ledger) -> None:
    """A probe said to be in a load since some time back makes what it fed since then that load's."""
    feed(planned, core(0, 5), core(10, 6), core(20, 7))
    at = LOADED + timedelta(minutes=10)
    placed = feeding.place_probe(planned, "p1", LOAD, **{**SAID, "at": at})
    feed(planned, core(30, 8))
    assert [r.temperature_c for r in read.readings(planned, load=LOAD, day=DAY)] == [6, 7, 8]
    assert read.load_states(planned, DAY)[0].last_core_c == 8
    undo(planned, placed.seq, **SAID)
    assert read.readings(planned, load=LOAD, day=DAY) == []
