"""What a message of a probe tells, in JSON or in words, and why a bad one is bad."""

import json
from contextlib import suppress
from datetime import UTC, datetime
from math import isfinite

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from board.ledger import typed
from board.probes.limits import bounds
from board.probes.message import read_message
from board.probes.reading import Told
from board.probes.refused import BadMessageError

AT = datetime(2026, 12, 19, 12, 40, tzinfo=UTC)
SAME = [
    '{"probe": "north-grate", "temperature": 225.5, "unit": "F", "time": "2026-12-19T05:40-07:00"}',
    '{"Sensor": "north-grate", "temperature_f": "225,5", "ts": 1797684000}',
    '[{"probe": "north-grate", "value": 225.5, "unit": "degF", "time": 1797684000000}]',
    '\ufeff{"probe": "north-grate", "temp": "225.5 °F", "time": "2026-12-19T12:40:00Z", "battery": {"v": 3}}',
    "north-grate 225.5 F 2026-12-19T05:40-07:00",
    "north-grate: 225,5°F 1797684000",
    "  north-grate 225.5F 2026-12-19 12:40:00Z \n",
]


@pytest.mark.parametrize("message", SAME)
def test_one_reading_in_many_spellings(message: str) -> None:
    """Keys, units, decimal marks and times are read as people and devices spell them.

    1797684000 s is 2026-12-19 12:40 UTC: by `date -u -d @1797684000` (GNU coreutils).
    """
    assert read_message(message.encode()) == [Told("north-grate", 225.5, "F", AT)]


def test_what_is_left_out_is_left_to_the_house() -> None:
    """A message without a unit, a time or a name is read too: the probe, its arrival, its topic tell them."""
    assert read_message("meat 2 61") == [Told("meat 2", 61.0)]
    assert read_message("61.5", "meat-2") == [Told("meat-2", 61.5)]
    assert read_message('{"temperature": 61.5}', "meat-2") == [Told("meat-2", 61.5)]
    assert read_message("a 61 2026-12-19T05:40")[0].at == datetime(2026, 12, 19, 5, 40)


BAD = {
    b"": "found nothing",
    b"\xff\xfe1": "UTF-8 at byte 1",
    b"[" * 5_000: "",
    b"{" * 300 + b"}" * 300: "no sound JSON",
    b"x" * 20_000: "20000 bytes, allowed 16384",
    b"north-grate": "allowed a reading",
    b"north-grate 225 K": "allowed a reading",
    b'{"probe": "a", "temperature": NaN}': "found NaN",
    b'{"probe": "a", "temperature": 1e999}': "found inf",
    b'{"probe": "a", "temperature": ' + b"9" * 9_000 + b"}": "JSON",
    b'{"probe": "a", "temperature": true}': "found 'True'",
    b'{"probe": "a", "temperature": [1]}': "found '[1]'",
    b'{"probe": "a", "temperature": 1, "unit": "K"}': "the unit 'K', allowed C or F",
    b'{"probe": "a", "temperature": 1, "time": "noon"}': "the time 'noon'",
    b'{"probe": "a", "temperature": 1, "time": "2026-12-19"}': "the time '2026-12-19'",
    b'{"probe": "a", "temperature": 1, "time": 1e300}': "the time 1e+300",
    b'{"probe": 3, "temperature": 1}': "no name of a probe",
    b'{"probe": "a"}': "no temperature",
    b"[1, 2]": "found '1'",
    b"null": "allowed a reading",
}


@pytest.mark.parametrize("message", BAD)
def test_a_bad_message_says_what_was_found_and_what_is_allowed(message: bytes) -> None:
    """No message is worse than bad: each is refused in one line."""
    with pytest.raises(BadMessageError) as refused:
        read_message(message)
    assert BAD[message] in str(refused.value)
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 400


json_values = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
keys = st.sampled_from(["probe", "temperature", "temperature_f", "unit", "time", "id", "value"])
objects = st.dictionaries(keys, json_values, max_size=5).map(json.dumps)


@given(st.binary(max_size=60) | st.text(max_size=60) | objects)
@example('{"probe": "a", "temperature": 1, "unit": []}')
@example("a 1 9999999999999")
def test_any_message_is_read_or_refused(message: bytes | str) -> None:
    """Whatever arrives, it is readings with finite degrees, or one line that says why not."""
    with suppress(BadMessageError):
        found = read_message(message)
        assert all(isfinite(one.degrees) and one.probe and one.unit in (None, "C", "F") for one in found)


def test_bounds_are_no_wider_than_the_ledgers() -> None:
    """What a message may say the ledger can take: a flush is never refused for one reading."""
    assert bounds().coldest_c >= typed.COLDEST_C
    assert bounds().hottest_c <= typed.HOTTEST_C
    assert bounds().ahead <= typed.AHEAD
