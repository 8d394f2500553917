"""What a strike would take, and what was struck: counted, told with its neighbours, and never silence."""

from datetime import datetime, timedelta
from typing import Any

import pytest

from board.house.probes import Silence
from board.ledger import feeding, read, write
from board.ledger.fed import struck_readings
from board.ledger.fed_spans import fed_span
from board.ledger.open import Ledger
from board.ledger.striking import fed_between, last_before, strikable, struck_between
from board.probes.reading import Fed

from .by_hand import DAY, LOADED

LOAD = "1209-brisket-1"
LATER = LOADED + timedelta(hours=2)
SILENCE = Silence(10.0)


def minute(n: float) -> datetime:
    """So many minutes after loading."""
    return LOADED + timedelta(minutes=n)


def said(n: float = 120) -> dict[str, Any]:
    """Ada, so many minutes after loading."""
    return {"who": "Ada", "at": minute(n), "noted_at": LATER}


@pytest.fixture
def fed(planned: Ledger) -> Ledger:
    """A brisket on its pit with a probe in it, a reading a minute, an hour long."""
    write.mark_load(planned, LOAD, "on", who="Ada", at=LOADED, noted_at=LOADED)
    feeding.place_probe(planned, "m1", LOAD, who="Ada", at=minute(0), noted_at=LATER)
    feeding.take_fed(planned, "stdin", [Fed("m1", minute(n), 40.0 + n) for n in range(60)], noted_at=LATER)
    return planned


def test_what_a_strike_would_take_is_told_with_what_stays_beside_it(fed: Ledger) -> None:
    """Both ends are in it; before the first and after the last reading there is nothing."""
    found = strikable(fed, "m1", minute(10), minute(20))
    assert found is not None
    assert (found.readings, found.low_c, found.high_c) == (11, 50.0, 60.0)
    assert found.before is not None
    assert found.after is not None
    assert (found.before.at, found.before.temperature_c) == (minute(9), 49.0)
    assert (found.after.at, found.after.temperature_c) == (minute(21), 61.0)
    whole = strikable(fed, "m1", minute(0), minute(59))
    assert whole is not None
    assert (whole.readings, whole.before, whole.after) == (60, None, None)
    assert strikable(fed, "m1", minute(60), minute(90)) is None
    assert strikable(fed, "m2", minute(0), minute(90)) is None


def test_what_is_struck_is_counted_once_and_taken_out_of_what_may_be(fed: Ledger) -> None:
    """Of two strikes over the same readings the first has them; undone, the other takes its place."""
    first = feeding.strike_probe(fed, "m1", minute(10), minute(20), "fell out", **said())
    feeding.strike_probe(fed, "m1", minute(15), minute(30), "again", **said(121))
    spans = struck_between(fed, "m1", LOADED, LATER)
    assert [(one.strike.why, one.readings, one.low_c, one.high_c) for one in spans] == [
        ("fell out", 11, 50.0, 60.0),
        ("again", 10, 61.0, 70.0),
    ]
    assert strikable(fed, "m1", minute(10), minute(30)) is None
    assert len(fed_between(fed, "m1", minute(5), minute(35))) == 10
    assert [one.temperature_c for one in struck_readings(fed, LOAD, DAY, Silence(0.5))] == [
        *map(float, range(50, 71))
    ]
    write.undo(fed, first.seq, **said(122))
    assert [(one.strike.why, one.readings) for one in struck_between(fed, "m1", LOADED, LATER)] == [
        ("again", 16)
    ]


def test_a_struck_reading_is_no_silence(fed: Ledger) -> None:
    """What it last sent that counts, and when it last sent at all, are two things; a gap and a strike too."""
    feeding.strike_probe(fed, "m1", minute(30), LATER, "lay in the fire", **said())
    (state,) = feeding.probe_states(fed)
    assert (state.at, state.temperature_c, state.sent_at) == (minute(29), 69.0, minute(59))
    assert last_before(fed, "m1", LATER) is not None
    span = fed_span(fed, "m1", LOADED, LATER, SILENCE)
    assert span is not None
    assert (span.struck, span.gaps) == (30, ())


def test_a_strike_is_in_the_story_of_each_load_it_takes_from(fed: Ledger) -> None:
    """As long as it stands, and of the load alone whose readings those were."""
    entry = feeding.strike_probe(fed, "m1", minute(10), minute(20), "fell out", **said())
    assert entry.seq in {one.seq for one in read.entries_of_load(fed, DAY, LOAD, ())}
    assert entry.seq not in {one.seq for one in read.entries_of_load(fed, DAY, "1209-brisket-2", ())}
    write.undo(fed, entry.seq, **said(122))
    assert entry.seq not in {one.seq for one in read.entries_of_load(fed, DAY, LOAD, ())}


def test_where_a_probe_was_put_last_is_known_though_it_never_sent(planned: Ledger) -> None:
    """Put in, it is in that load; taken out, it is in none."""
    write.mark_load(planned, LOAD, "on", who="Ada", at=LOADED, noted_at=LOADED)
    feeding.place_probe(planned, "m2", LOAD, who="Ada", at=minute(1), noted_at=LATER)
    (put,) = feeding.placed_last(planned)
    assert (put.probe, put.load, put.at) == ("m2", LOAD, minute(1))
    feeding.place_probe(planned, "m2", None, who="Ada", at=minute(5), noted_at=LATER)
    (out,) = feeding.placed_last(planned)
    assert (out.load, out.at) == (None, minute(5))
