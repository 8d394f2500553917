"""Which readings of a probe are offered to be struck, what that takes in words, and which times are meant."""

from contextlib import suppress
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import BoardError
from board.house.probes import Probe, ProbeReads
from board.ledger import feeding
from board.ledger.open import Ledger
from board.ledger.state import Reading
from board.ledger.striking import Beside, Strikable
from board.probes.reading import Fed
from board.views.facts import Facts
from board.views.fed_out import edges, out_now, wrong_spell
from board.views.fed_strike import (
    as_of,
    as_typed,
    likely_span,
    moment_typed,
    span_typed,
    strike_words,
    whys,
)
from board.views.gather import gather
from tests.app.boards import NOW, night_ledger
from tests.app.house_fixture import DAY, at, house
from tests.views.facts_fixture import facts

HOUSE = house()


def read(clock: str, celsius: float, probe: str = "m1") -> Reading:
    """A fed reading of Saturday."""
    return Reading(9, at(clock), probe, "sat-brisket", celsius, "sat-brisket", probe=probe)


def minutes(first: str, count: int, celsius: float, rise: float = 0.0) -> list[Reading]:
    """A reading a minute from some time on."""
    begin = read(first, celsius)
    return [
        replace(begin, at=begin.at + timedelta(minutes=n), temperature_c=celsius + rise * n)
        for n in range(count)
    ]


def fallen(begin: int, end: int, out_c: float) -> list[Reading]:
    """An hour and a half from 04:00 on, out of the meat from one minute to another, both in it."""
    return [
        replace(one, temperature_c=out_c if begin <= n <= end else one.temperature_c)
        for n, one in enumerate(minutes("04:00", 90, 80.0, 0.1))
    ]


def test_hotter_than_a_core_can_be_is_out_of_the_meat() -> None:
    """Whether the sums have had a look or not; of two spells the last one is meant."""
    own = [*minutes("03:00", 5, 240.0), *minutes("04:00", 30, 80.0), *minutes("04:30", 12, 118.0)]
    assert wrong_spell(own, {}) == (at("04:30"), at("04:41"))
    assert wrong_spell(minutes("04:00", 30, 80.0), {}) is None


def test_what_the_sums_leave_out_is_out_of_the_meat() -> None:
    """Room air is no hotter than a core; the sums know it all the same."""
    own = fallen(35, 50, 24.0)
    reasons = {one.key: "near the room's air" for one in own[30:50]}
    assert wrong_spell(own, reasons) == (at("04:30"), at("04:49"))


@given(
    begin=st.integers(11, 60),
    length=st.integers(1, 28),
    out_c=st.one_of(st.floats(15, 70), st.floats(102, 300)),
)
def test_the_ends_are_those_of_the_fall_and_not_of_the_ten_minutes(
    begin: int, length: int, out_c: float
) -> None:
    """However a fall lies in the stretches that the sums leave out whole, its own readings are offered."""
    own = fallen(begin, begin + length - 1, out_c)
    judged = [own[10 * n + 9] for n in range(9)]  # of each ten minutes the last is judged
    wrong = [n for n, one in enumerate(judged) if one.temperature_c == out_c]
    if not wrong:
        return
    reasons = {one.key: "out" for n in wrong for one in own[10 * n : 10 * n + 10]}
    spell = wrong_spell(own, reasons)
    assert spell is not None
    near = [
        one for one in own if spell[0] - timedelta(minutes=20) <= one.at <= spell[1] + timedelta(minutes=10)
    ]
    assert edges(near, spell) == (own[begin].at, own[begin + length - 1].at)


def test_a_spell_without_neighbours_is_taken_as_it_is() -> None:
    """Where nothing else was read there is no course to be off."""
    own = minutes("04:00", 5, 300.0)
    assert edges(own, (own[0].at, own[-1].at)) == (own[0].at, own[-1].at)


def test_a_probe_is_out_until_its_last_reading_may_be_a_core() -> None:
    """In the fire still it is out since the first reading off the course; back in the meat it is not."""
    assert out_now([*minutes("04:00", 30, 80.0), *minutes("04:30", 12, 118.0)], {}) == (
        at("04:30"),
        "hotter than any core",
    )
    own = fallen(35, 95, 24.0)
    reasons = {one.key: "near the room's air" for one in own[30:]}
    assert out_now(own, reasons) == (at("04:35"), "near the room's air")
    assert out_now(fallen(35, 50, 118.0), {}) is None
    assert out_now(minutes("04:00", 30, 80.0), {}) is None
    assert out_now([], {}) is None


def fed_facts(ledger: Ledger, sent: list[Fed]) -> Facts:
    """What is known once a probe in the brisket has sent something."""
    probes = {"m1": Probe("m1", "meat 1", ProbeReads.MEAT, None, ("m1",))}
    feeding.place_probe(ledger, "m1", "sat-brisket", who="ines", at=at("03:00"), noted_at=NOW)
    feeding.take_fed(ledger, "stdin", sent, noted_at=NOW)
    return gather(ledger, replace(house(), probes=probes), NOW)


def sent(first: str, count: int, celsius: float) -> list[Fed]:
    """A reading a minute."""
    return [Fed("m1", at(first) + timedelta(minutes=n), celsius) for n in range(count)]


def test_a_fall_that_goes_on_is_offered_up_to_now(tmp_path: Path) -> None:
    """It lies in the fire still: what comes meanwhile is meant too."""
    with night_ledger(tmp_path / "board.db") as ledger:
        known = fed_facts(ledger, [*sent("04:00", 60, 84.0), *sent("05:00", 42, 240.0)])
        assert likely_span(ledger, known, "m1", {}, None) == (at("05:00"), NOW)


def test_a_fall_that_is_over_is_offered_with_its_ends(tmp_path: Path) -> None:
    """The probe is back in the meat."""
    with night_ledger(tmp_path / "board.db") as ledger:
        sends = [*sent("04:00", 52, 84.0), *sent("04:52", 30, 118.0), *sent("05:22", 20, 90.0)]
        known = fed_facts(ledger, sends)
        assert likely_span(ledger, known, "m1", {}, None) == (at("04:52"), at("05:21"))
        assert likely_span(ledger, known, "m1", {}, DAY) == (at("04:52"), at("05:21"))


def test_where_nothing_tells_the_last_ten_minutes_are_offered(tmp_path: Path) -> None:
    """They are the easiest to move; a probe that sent nothing for a day has nothing to offer."""
    with night_ledger(tmp_path / "board.db") as ledger:
        known = fed_facts(ledger, sent("04:00", 91, 84.0))
        assert likely_span(ledger, known, "m1", {}, None) == (at("05:20"), NOW)
        assert likely_span(ledger, known, "m2", {}, None) is None
        day_before = DAY - timedelta(days=1)
        assert likely_span(ledger, known, "m1", {}, day_before) is None


@pytest.mark.parametrize(
    ("since", "until", "first", "last"),
    [
        ("05:10", "05:20", at("05:10"), at("05:21")),
        ("0510", "5.20", at("05:10"), at("05:21")),
        ("5:10 am", "5:20 am", at("05:10"), at("05:21")),
        ("23:40", "0:10", at("23:40", -1), at("00:11")),
        ("2026-12-18 23:40", "2026-12-18 23:50", at("23:40", -1), at("23:51", -1)),
    ],
)
def test_clock_times_are_the_nearest_past_and_the_last_minute_counts_whole(
    since: str, until: str, first: datetime, last: datetime
) -> None:
    """By either clock, over midnight, and with a date."""
    span = span_typed(HOUSE, since, until, NOW, NOW)
    assert span == (first, last - timedelta(milliseconds=1))


def test_a_span_never_reaches_beyond_now() -> None:
    """What a probe sends after this minute is another matter."""
    assert span_typed(HOUSE, "05:30", "05:42", NOW, NOW + timedelta(seconds=20)) == (
        at("05:30"),
        NOW + timedelta(seconds=20),
    )


@pytest.mark.parametrize(
    ("since", "until", "says"),
    [
        ("05:20", "05:10", "05:10 is before 05:20; turn them round"),
        ("soon", "05:10", "“soon” is not a time"),
        ("", "05:10", "is not a time"),
        ("2027-01-01 05:00", "2027-01-01 05:10", "still to come"),
    ],
)
def test_times_that_are_none_are_refused(since: str, until: str, says: str) -> None:
    """In a sentence that a cook can act on."""
    with pytest.raises(BoardError, match=says):
        span_typed(HOUSE, since, until, NOW, NOW)


@given(typed=st.text(max_size=12))
def test_no_text_breaks_the_reading_of_a_time(typed: str) -> None:
    """It is a moment, or it is refused."""
    with suppress(BoardError):
        assert moment_typed(HOUSE, typed, NOW).tzinfo is not None


def test_on_an_earlier_day_its_own_clock_is_meant() -> None:
    """23:59 of that day is that day's."""
    upto = as_of(facts(), DAY - timedelta(days=1))
    assert moment_typed(HOUSE, "00:00", upto) == at("00:00", -1)
    assert moment_typed(HOUSE, "23:58", upto) == at("23:58", -1)
    assert as_of(facts(), DAY) == as_of(facts(), None) == NOW


def test_a_moment_is_typed_as_short_as_it_is_meant() -> None:
    """Within a day by its clock time alone; further back with its date."""
    assert as_typed(HOUSE, at("05:10"), NOW) == "05:10"
    assert as_typed(HOUSE, at("23:59", -1), NOW) == "23:59"
    assert as_typed(HOUSE, at("04:00", -2), NOW) == "2026-12-17 04:00"
    upto = as_of(facts(), DAY - timedelta(days=1))
    assert as_typed(HOUSE, at("23:59", -2), upto) == "2026-12-17 23:59"
    assert moment_typed(HOUSE, "2026-12-17 23:59", upto) == at("23:59", -2)


def test_a_strike_is_told_with_what_stays() -> None:
    """How many, how cold, how hot, and the readings on both sides; without a later one, that more counts."""
    span = (at("04:52"), at("05:21"))
    before, after = Beside(at("04:51"), 61.0), Beside(at("05:22"), 63.0)
    told = strike_words(facts(), span, Strikable(30, 22.0, 61.0, before, after))
    assert (told.readings, told.takes) == (30, "Strikes 30 readings from 04:52 to 05:21, 22° to 61°.")
    assert told.beside == "Before it 61° at 04:51, after it 63° at 05:22."
    alone = strike_words(facts(), span, Strikable(1, 22.0, 22.0, None, None))
    assert (alone.takes, alone.beside) == (
        "Strikes 1 reading from 04:52 to 05:21, 22°.",
        "What it sends from now on counts.",
    )
    assert strike_words(facts(), span, None).readings == 0


def test_each_kind_of_probe_has_its_usual_reasons() -> None:
    """Meat falls off a probe; a probe of the air falls off its hook. One that the house has no more too."""
    probes = {
        "m1": Probe("m1", "meat 1", ProbeReads.MEAT, None, ("m1",)),
        "a1": Probe("a1", "air", ProbeReads.AIR, "north", ("a1",)),
    }
    known = replace(HOUSE, probes=probes)
    assert whys(known, "m1")[0] == "fell out of the meat"
    assert whys(known, "a1") == whys(known, "gone")
