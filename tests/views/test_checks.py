"""The checkpoints that become things to do, and what is told when one is missed."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.ledger import write
from board.ledger.checking import About, Right
from board.ledger.facts import WatchFacts
from board.ledger.open import Ledger, create_ledger
from board.ledger.state import LoadStage, ProbeWay, Reading, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.views.checks import Check, checks
from board.views.failing import failing
from board.views.gather import gather
from board.views.opening import opening
from board.views.watching import targets
from tests.app.boards import night_ledger
from tests.app.house_fixture import at, house
from tests.views.facts_fixture import facts

START = at("12:00")


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The fixture's night."""
    with night_ledger(tmp_path / "board.db") as opened:
        yield opened


def said(moment: datetime) -> dict[str, object]:
    """Who and when."""
    return {"who": "wren", "at": moment, "noted_at": moment}


def begun(ledger: Ledger, kind: WatchKind, *readings: tuple[float, float], **more: object) -> str:
    """A watch over pulled pork, read at some minutes."""
    id = write.start_watch(ledger, Watched(kind, "pulled pork", **more), **said(START)).subject  # type: ignore[arg-type]
    for minutes, celsius in readings:
        write.take_reading(ledger, celsius, place=id, **said(START + timedelta(minutes=minutes)))
    return id


def due(ledger: Ledger, watch: str, minutes: float) -> Check:
    """The one check of a watch, seen so many minutes after its start."""
    seen = gather(ledger, house(), START + timedelta(minutes=minutes))
    (found,) = [c for c in checks(seen, seen.now + timedelta(days=8)) if c.key.endswith(watch)]
    return found


def fails(ledger: Ledger, minutes: float) -> list[str]:
    """What is told as failing so many minutes after the start."""
    return [line.says for line in failing(gather(ledger, house(), START + timedelta(minutes=minutes)))]


def test_a_probe_too_far_off_stands_until_it_is_answered_or_good_again(ledger: Ledger) -> None:
    """All that was read with it is in doubt; a later check that is good ends it, as does what was done."""
    red = write.check_probe(ledger, "red", ProbeWay.ICE, 3.0, 120.0, **said(START))
    write.check_probe(ledger, "blue", ProbeWay.ICE, -3.0, 120.0, **said(START))
    write.check_probe(ledger, "green", ProbeWay.ICE, 0.2, 120.0, **said(START))
    told_red, told_blue = fails(ledger, 1)
    assert told_red.startswith("probe red read 3.0° too high at 12:00: set it right or take it out of use")
    assert told_blue.startswith("probe blue read 3.0° too low")
    write.check_probe(ledger, "blue", ProbeWay.ICE, 0.0, 120.0, **said(START + timedelta(minutes=1)))
    assert fails(ledger, 2) == [told_red]
    write.act_on(ledger, About(entry=red.seq), "thrown away", **said(START + timedelta(minutes=2)))
    assert fails(ledger, 3) == []


def test_cooling_wants_a_first_reading_then_one_in_time_to_help(ledger: Ledger) -> None:
    """The first is due as it begins; the next within the hour, while smaller pans still help."""
    tub = begun(ledger, WatchKind.COOLING)
    assert due(ledger, tub, 1).at == START
    assert due(ledger, tub, 1).says == "read pulled pork: first reading, as cooling begins"
    write.take_reading(ledger, 60.0, place=tub, **said(START))
    assert due(ledger, tub, 1).at == START + timedelta(minutes=60)


def test_cooling_counts_from_when_it_passes_57(ledger: Ledger) -> None:
    """Time above 57 °C does not count: 67° falling 10 K in half an hour starts the clock then.

    FDA Food Code 3-501.14: 57 to 21 °C within 2 h, and to 5 °C within 6 h in all.
    """
    tub = begun(ledger, WatchKind.COOLING, (0, 67.0), (60, 47.0))
    first = due(ledger, tub, 61)
    assert first.at == START + timedelta(minutes=30 + 120)
    assert first.says == "read pulled pork: 21° or colder"
    write.take_reading(ledger, 20.0, place=tub, **said(START + timedelta(minutes=140)))
    second = due(ledger, tub, 141)
    assert second.at == START + timedelta(minutes=30 + 360)
    assert second.says == "read pulled pork: 5° or colder"


def test_cooled_food_is_to_be_put_away(ledger: Ledger) -> None:
    """Once both checkpoints are met the watch itself is to be ended."""
    tub = begun(ledger, WatchKind.COOLING, (0, 57.0), (100, 20.0), (300, 4.0))
    assert due(ledger, tub, 301).key == f"check:end:{tub}"
    assert due(ledger, tub, 301).says == "pulled pork: cold in time; put it away"
    assert fails(ledger, 600) == []


def test_cooled_food_is_called_in_time_only_where_that_is_shown(ledger: Ledger) -> None:
    """Cold a minute after six hours, and hotter than 57° at first: by a line the record does not trust."""
    tub = begun(ledger, WatchKind.COOLING, (0, 60.0), (100, 20.0), (361, 5.0))
    assert "not shown to be in time; see the record" in due(ledger, tub, 362).says


def test_a_missed_first_checkpoint_says_what_is_left_to_do(ledger: Ledger) -> None:
    """At two hours and 30° it is reheated and cooled again, or discarded; what was done ends the warning."""
    tub = begun(ledger, WatchKind.COOLING, (0, 57.0), (121, 30.0))
    (told,) = fails(ledger, 122)
    assert told.startswith("pulled pork: to be 21° by 14:00, but it was 30°: reheat it to 74° within 2 h")
    view = opening(gather(ledger, house(), START + timedelta(minutes=122)))
    assert told in [line.says for line in view.alarms]
    write.act_on(ledger, About(watch=tub), "reheated", **said(START + timedelta(minutes=123)))
    assert fails(ledger, 124) == []


def test_a_missed_second_checkpoint_leaves_only_the_bin(ledger: Ledger) -> None:
    """Past six hours there is no cooling again."""
    begun(ledger, WatchKind.COOLING, (0, 57.0), (110, 20.0), (361, 9.0))
    (told,) = fails(ledger, 362)
    assert "5° by 18:00, but it was 9°: discard it" in told


def test_a_checkpoint_nobody_read_is_not_met(ledger: Ledger) -> None:
    """Without a reading the board does not know, and says so."""
    begun(ledger, WatchKind.COOLING, (0, 57.0))
    assert "no reading shows it" in fails(ledger, 130)[0]


def test_a_corrected_reading_counts_as_corrected(ledger: Ledger) -> None:
    """A slip of the pen neither meets a checkpoint nor misses one."""
    tub = begun(ledger, WatchKind.COOLING, (0, 57.0))
    when = said(START + timedelta(minutes=110))
    wrong = write.take_reading(ledger, 2.0, place=tub, **when)
    write.correct(ledger, wrong.seq, Right(temperature_c=24.0), **when)
    assert due(ledger, tub, 111).says.endswith("21° or colder")


def test_cooling_too_slowly_is_told_before_it_is_missed(ledger: Ledger) -> None:
    """Two readings foresee the checkpoint: 57 to 50° in an hour is not 21° in two."""
    begun(ledger, WatchKind.COOLING, (0, 57.0), (60, 50.0))
    (told,) = fails(ledger, 61)
    assert "too slow to be 21° by 14:00" in told
    assert "smaller pans" in told


def test_cooling_fast_enough_is_not_warned_of(ledger: Ledger) -> None:
    """57 to 30° in an hour is on the way to 21° in two and 5° in six."""
    begun(ledger, WatchKind.COOLING, (0, 57.0), (60, 25.0))
    assert fails(ledger, 61) == []


def test_reheating_is_due_in_two_hours(ledger: Ledger) -> None:
    """FDA Food Code 3-403.11: to 74 °C within 2 h."""
    pan = begun(ledger, WatchKind.REHEATING, (0, 5.0))
    assert due(ledger, pan, 1).at == START + timedelta(hours=2)
    assert due(ledger, pan, 1).says == "read pulled pork: 74° or hotter"
    assert "discard" in fails(ledger, 121)[0]


def test_a_hot_hold_is_read_as_often_as_the_house_says(ledger: Ledger) -> None:
    """Two hours after its last reading; one under 57° says since when it may have been so, and until when."""
    pan = begun(ledger, WatchKind.HOT_HOLD, (30, 62.0))
    assert due(ledger, pan, 31).at == START + timedelta(minutes=30 + 120)
    write.take_reading(ledger, 52.0, place=pan, **said(START + timedelta(minutes=150)))
    (told,) = fails(ledger, 151)
    assert told == (
        "pulled pork read 52° at 14:30, below 57° since some time after 12:30: "
        "reheat it to 74°, or discard it by 16:30"
    )


def test_the_limit_itself_is_within_it(ledger: Ledger) -> None:
    """57° is hot enough and 5° cold enough, to the digit."""
    begun(ledger, WatchKind.HOT_HOLD, (30, 57.0))
    begun(ledger, WatchKind.COLD_HOLD, (30, 5.0))
    assert fails(ledger, 31) == []


def test_meat_out_of_the_cold_has_four_hours(ledger: Ledger) -> None:
    """FDA Food Code 3-501.19 and 3-501.13: tempering, and thawing in water."""
    for kind, way in ((WatchKind.TEMPERING, None), (WatchKind.THAWING, "water")):
        id = begun(ledger, kind, way=way)
        assert due(ledger, id, 1).at == START + timedelta(hours=4)
    assert len(fails(ledger, 241)) == 2


def test_meat_thawing_in_the_cooler_is_read_as_cold(ledger: Ledger) -> None:
    """It is kept at 5° or colder as anything is in there."""
    id = begun(ledger, WatchKind.THAWING, (10, 4.0), way="fridge")
    assert due(ledger, id, 11).says == "read pulled pork: 5° or colder"


def test_a_thawing_load_that_went_on_is_watched_no_more(ledger: Ledger) -> None:
    """The pit ends it."""
    id = begun(ledger, WatchKind.TEMPERING, load="sat-ribs")
    assert due(ledger, id, 1)
    write.mark_load(ledger, "sat-ribs", LoadStage.ON, **said(START + timedelta(minutes=30)))
    assert fails(ledger, 300) == []


def test_a_date_mark_runs_out_on_its_seventh_day(ledger: Ledger) -> None:
    """The day made is day 1; frozen days do not count (FDA Food Code 3-501.17; North Carolina's example)."""
    lot = begun(ledger, WatchKind.DATE_MARKED, made_on=date(2026, 12, 19))
    assert due(ledger, lot, 1).at == at("00:00", 7)
    write.freeze(ledger, lot, **said(at("10:00", 2)))
    seen = gather(ledger, house(), at("12:00", 5))
    assert [c for c in checks(seen, seen.now + timedelta(days=30)) if c.key.endswith(lot)] == []
    write.take_out(ledger, lot, **said(at("10:00", 5)))
    assert due(ledger, lot, 60 * 24 * 5).at == at("00:00", 10)
    assert fails(ledger, 60 * 24 * 9) == []
    assert "past its last day" in fails(ledger, 60 * 24 * 10)[0]


def test_a_load_that_holds_is_read_too(ledger: Ledger) -> None:
    """A load in the hot hold is checked without anybody beginning a watch."""
    write.mark_step(ledger, "s-pull-shoulder", **said(at("05:40")))
    write.mark_load(ledger, "sat-shoulder", LoadStage.HOLDING, **said(at("07:00")))
    seen = gather(ledger, house(), at("08:00"))
    (found,) = [c for c in checks(seen, at("12:00")) if "load:" in c.key]
    assert (found.at, found.says) == (at("09:00"), "read the shoulders: 57° or hotter")
    write.take_reading(ledger, 50.0, load="sat-shoulder", **said(at("09:00")))
    (told,) = [f.says for f in failing(gather(ledger, house(), at("09:01")))]
    assert told.startswith("the shoulders read 50° at 09:00, below 57° since some time after 07:00")


def test_what_is_left_after_service_is_to_be_cooled(ledger: Ledger) -> None:
    """Once its services are over a load that holds is leftovers, until a cooling of it is begun."""
    write.mark_step(ledger, "s-pull-shoulder", **said(at("05:40")))
    write.mark_load(ledger, "sat-shoulder", LoadStage.HOLDING, **said(at("07:00")))
    close = at("14:05")
    (found,) = [c for c in checks(gather(ledger, house(), close), close) if "left:" in c.key]
    asked = "read it; at 57° or hotter serve or cool it, else discard it"
    assert found.says == f"left: 70 pork, 7 h 25, past 4 h, not read; {asked}"
    begin = Watched(WatchKind.COOLING, "pork", load="sat-shoulder")
    write.start_watch(ledger, begin, **said(close))
    seen = gather(ledger, house(), close)
    assert not [c for c in checks(seen, at("23:59")) if "left:" in c.key or "load:" in c.key]


def test_the_walk_in_is_read_each_shift(ledger: Ledger) -> None:
    """Within an hour of the shift's start, until it was; above 5° it is told at once."""
    seen = gather(ledger, house(), at("05:42"))
    (found,) = [c for c in checks(seen, at("12:00")) if c.key.endswith("walk-in")]
    assert found.at == at("06:30")
    taken = write.take_reading(ledger, 8.0, place="walk-in", **said(at("05:45")))
    seen = gather(ledger, house(), at("05:46"))
    assert not [c for c in checks(seen, at("12:00")) if c.key.endswith("walk-in")]
    assert "the walk-in read 8°" in failing(seen)[0].says
    write.act_on(ledger, About(entry=taken.seq), "door was open; 4° at 06:10", **said(at("06:10")))
    assert failing(gather(ledger, house(), at("06:11"))) == []


def test_a_new_house_is_not_late_with_what_was_before_it(tmp_path: Path) -> None:
    """Its first reading of the walk-in is asked an hour after its first entry, not its shift's start."""
    place = tmp_path / "new.db"
    with create_ledger(place, "New", house().zone, tmp_path) as new:
        (asked,) = checks(gather(new, house(), at("11:00")), at("23:00"))
        assert asked.at == at("12:00")
        write.note(new, "we are here", **said(at("11:10")))
        (asked,) = checks(gather(new, house(), at("12:30")), at("23:00"))
        assert asked.at == at("12:10")


def test_checks_stand_among_the_steps_by_time(ledger: Ledger) -> None:
    """The Opening view's list of what to do next has both, in order."""
    view = opening(gather(ledger, house(), at("05:42")))
    clocks = [row.clock for row in view.next if row.clock != "now"]
    assert "06:30" in clocks
    assert any(row.key.startswith("check:") for row in view.next)


def test_an_ended_watch_asks_nothing(ledger: Ledger) -> None:
    """Discarded food is not read again."""
    tub = begun(ledger, WatchKind.COOLING, (0, 57.0))
    write.end_watch(ledger, tub, WatchEnd.DISCARDED, **said(START + timedelta(minutes=90)))
    assert fails(ledger, 600) == []


def test_a_load_rested_and_not_marked_holds_all_the_same(ledger: Ledger) -> None:
    """The shoulders rest an hour by their plan; from then on they are held, marked or not."""
    write.mark_step(ledger, "s-pull-shoulder", **said(at("05:40")))
    assert not [c for c in checks(gather(ledger, house(), at("06:30")), at("12:00")) if "load:" in c.key]
    (found,) = [c for c in checks(gather(ledger, house(), at("06:41")), at("12:00")) if "load:" in c.key]
    assert found.at == at("08:40")


def test_the_straight_line_between_readings_meets_a_checkpoint(ledger: Ledger) -> None:
    """40° at an hour and 10° ten minutes late: it passed 21° in time, as the verdict says too."""
    begun(ledger, WatchKind.COOLING, (0, 57.0), (60, 40.0), (130, 10.0))
    assert fails(ledger, 131) == []


@given(
    course=st.lists(
        st.tuples(st.integers(5, 115), st.floats(0.0, 56.0)), max_size=5, unique_by=lambda r: r[0]
    ),
    share=st.floats(0.05, 0.95),
    which=st.integers(0, 4),
)
def test_a_reading_on_the_straight_line_changes_no_checkpoint(
    course: list[tuple[int, float]], share: float, which: int
) -> None:
    """What agrees with its neighbours is no news: each target stays as it was, met or not."""
    points = [(0.0, 57.0), *((float(m), c) for m, c in sorted(course)), (200.0, 4.0)]
    place = min(which, len(points) - 2)
    (m0, c0), (m1, c1) = points[place], points[place + 1]
    between = (m0 + share * (m1 - m0), c0 + share * (c1 - c0))
    assert met_of(points) == met_of(sorted([*points, between]))


def met_of(points: list[tuple[float, float]]) -> list[bool]:
    """Which targets some readings meet, by minutes and °C."""
    watch = WatchFacts("tub", WatchKind.COOLING, "beans", 1, START, "wren")
    readings = tuple(
        Reading(n, START + timedelta(minutes=m), "wren", "tub", c) for n, (m, c) in enumerate(points)
    )
    told = facts(START + timedelta(hours=9), watches=(watch,), watched={"tub": readings})
    return [target.met for target in targets(told, watch)]


def test_an_answer_is_to_what_went_before_it(ledger: Ledger) -> None:
    """Smaller pans answer that it cools too slowly; that it then misses its checkpoint is told again."""
    tub = begun(ledger, WatchKind.COOLING, (0, 57.0), (60, 50.0))
    write.act_on(ledger, About(watch=tub), "smaller pans", **said(START + timedelta(minutes=62)))
    assert fails(ledger, 63) == []
    write.take_reading(ledger, 30.0, place=tub, **said(START + timedelta(minutes=121)))
    assert "but it was 30°" in fails(ledger, 122)[0]


def test_a_hot_hold_too_cool_is_told(ledger: Ledger) -> None:
    """The air of the hold itself, read under 57°."""
    write.take_reading(ledger, 49.0, place="hold", **said(START))
    (told,) = fails(ledger, 1)
    assert told.startswith("hold read 49° at 12:00, below 57°")
