"""Fed readings thinned out: what was extreme is there, a gap is as long as it was, and nothing is stale."""

import tempfile
from datetime import timedelta
from itertools import accumulate, pairwise
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from board.house.probes import Silence
from board.ledger import feeding, read
from board.ledger.fed_spans import fed_hours, fed_spans
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import Reading
from board.probes.reading import Fed

from .by_hand import LOADED, ZONE

SILENCE = Silence(10.0)
LATER = LOADED + timedelta(days=2)


def air(second: float, celsius: float, probe: str = "a1") -> Fed:
    """A reading of North's air so many seconds after the beginning."""
    return Fed(probe, LOADED + timedelta(seconds=second), celsius, place="north")


def feed(ledger: Ledger, *readings: Fed) -> None:
    """Record them, all of them long past."""
    feeding.take_fed(ledger, "stdin", readings, noted_at=LATER)


def thinned(ledger: Ledger, silence: Silence = SILENCE) -> list[Reading]:
    """What is left for the eye."""
    return read.readings(ledger, place="north", silence=silence)


def every(ledger: Ledger) -> list[Reading]:
    """All there is."""
    return read.readings(ledger, place="north")


def test_a_day_of_seconds_is_a_few_hundred_readings_with_its_extremes(ledger: Ledger) -> None:
    """Two of each five minutes, and a spike of one second among them."""
    feed(ledger, *(air(10 * n, 107 + n % 3) for n in range(3000)), air(5005, 180), air(9005, 20))
    found = thinned(ledger)
    assert len(found) <= 2 * (30_000 / 300 + 2)
    assert {180.0, 20.0} <= {one.temperature_c for one in found}


@settings(deadline=None, max_examples=40)
@given(
    st.lists(
        st.tuples(
            st.one_of(st.floats(1, 120), st.floats(200, 2000)),
            st.floats(-20, 300).map(lambda c: round(c, 1)),
            st.sampled_from(["a1", "a2"]),
        ),
        min_size=1,
        max_size=120,
    ),
    st.sampled_from([2.0, 10.0, 60.0]),
)
def test_no_extreme_and_no_gap_is_lost_or_made(drawn: list[tuple[float, float, str]], minutes: float) -> None:
    """For any stream: of each probe the same coldest and hottest, first and last, and the same gaps."""
    seconds = accumulate(round(apart, 1) for apart, _, _ in drawn)
    readings = [air(second, c, probe) for second, (_, c, probe) in zip(seconds, drawn, strict=True)]
    with (
        tempfile.TemporaryDirectory() as place,
        create_ledger(Path(place) / "board.db", "Cinder & Rye", ZONE, Path(place)) as ledger,
    ):
        feed(ledger, *readings)
        few, all_ = thinned(ledger, Silence(minutes)), every(ledger)
    assert {one.key for one in few} <= {one.key for one in all_}
    for probe in {one.probe for one in all_}:
        own, kept = ([one for one in some if one.probe == probe] for some in (all_, few))
        for end in (min, max):
            assert end(one.temperature_c for one in own) == end(one.temperature_c for one in kept)
        assert (own[0].at, own[-1].at) == (kept[0].at, kept[-1].at)
        assert gaps(own, minutes) == gaps(kept, minutes)


def gaps(readings: list[Reading], minutes: float) -> list[tuple[Any, Any]]:
    """From which moment to which nothing came for longer than so many minutes."""
    return [(a.at, b.at) for a, b in pairwise(readings) if (b.at - a.at).total_seconds() > 60 * minutes]


def test_what_comes_late_or_is_struck_counts_at_once(ledger: Ledger) -> None:
    """What was thinned out before is thinned out anew where what is older has changed."""
    feed(ledger, *(air(60 * n, 110) for n in range(300)))
    assert max(one.temperature_c for one in thinned(ledger)) == 110
    feed(ledger, air(90, 150))
    assert max(one.temperature_c for one in thinned(ledger)) == 150
    said: dict[str, Any] = {"who": "Ada", "at": LATER, "noted_at": LATER}
    feeding.strike_probe(ledger, "a1", LOADED, LOADED + timedelta(seconds=120), **said)
    assert max(one.temperature_c for one in thinned(ledger)) == 110


def test_hands_and_probes_are_told_apart_by_their_keys(ledger: Ledger) -> None:
    """Many fed readings share an entry; each has a key of its own."""
    feed(ledger, air(0, 100), air(1, 101), air(0, 102, "a2"))
    found = every(ledger)
    assert len({one.seq for one in found}) == 1
    assert len({one.key for one in found}) == 3


def test_a_span_is_told_in_a_few_numbers(ledger: Ledger) -> None:
    """How many, how cold and hot without what is struck, when the probe was silent; hour by hour besides."""
    feed(ledger, *(air(60 * n, 100 + n) for n in range(30)), *(air(60 * n, 100) for n in range(80, 90)))
    said: dict[str, Any] = {"who": "Ada", "at": LATER, "noted_at": LATER}
    feeding.strike_probe(ledger, "a1", LOADED + timedelta(minutes=29), LOADED + timedelta(minutes=29), **said)
    (span,) = fed_spans(ledger, LOADED, LATER, SILENCE)
    assert (span.readings, span.struck, span.low_c, span.high_c) == (40, 1, 100.0, 128.0)
    assert span.gaps == ((LOADED + timedelta(minutes=29), LOADED + timedelta(minutes=80)),)
    hours = fed_hours(ledger, "a1", LOADED, LATER)
    assert sum(one.readings for one in hours) == 39
    assert fed_spans(ledger, LATER, LATER + timedelta(days=1), SILENCE) == []


def test_a_board_can_tell_a_feed_from_what_people_do(ledger: Ledger) -> None:
    """So that it need not look again each second."""
    feed(ledger, air(0, 100))
    first = read.data_version(ledger)[1]
    assert not read.is_fed_alone(ledger, first), "nothing came"
    feed(ledger, air(1, 100))
    assert read.is_fed_alone(ledger, first)
    feeding.strike_probe(ledger, "a1", LOADED, LATER, who="Ada", at=LATER, noted_at=LATER)
    assert not read.is_fed_alone(ledger, first)
