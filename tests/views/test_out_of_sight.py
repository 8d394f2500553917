"""Food that was held stays in sight, in every view and in the record, until it is said what became of it."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from board.ledger import write
from board.ledger.open import Ledger
from board.ledger.state import LoadStage, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.safety.verdict import Answer
from board.views.alarm import Alarm, AlarmKind
from board.views.alarm_tables import alarms_table
from board.views.alarms import alarms
from board.views.facts import load_of
from board.views.gather import gather
from board.views.inspection import inspection
from board.views.leftovers import leftovers
from board.views.opening import opening
from board.views.proofs import Proof, Section
from board.views.service import service
from board.views.service_tables import left_table
from board.views.text import Tone
from tests.app.boards import night_ledger
from tests.app.house_fixture import DAY, at, house

SHOULDER = f"{DAY.isoformat()}/sat-shoulder"
AFTER = [
    at("14:30"),
    at("17:00"),
    at("20:20"),
    at("23:59"),
    at("00:30", 1),
    at("05:40", 1),
    at("12:00", 2),
    at("05:40", 4),
]


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The fixture's night; the shoulders came off and rested, nobody marked a hold and nobody read them."""
    with night_ledger(tmp_path / "board.db") as opened:
        write.mark_step(opened, "s-pull-shoulder", **said(at("05:45")))
        yield opened


def said(moment: datetime) -> dict[str, object]:
    """Who and when."""
    return {"who": "wren", "at": moment, "noted_at": moment}


def held_long(ledger: Ledger, now: datetime) -> list[Alarm]:
    """The alarms about loads held long."""
    return [one for one in alarms(gather(ledger, house(), now)) if one.kind is AlarmKind.HOLD]


@pytest.mark.parametrize("now", AFTER)
def test_what_was_held_stays_in_opening_service_and_the_alarms(now: datetime, ledger: Ledger) -> None:
    """At each hour after lunch, across midnight and days: with age, limit and what the rule leaves."""
    facts = gather(ledger, house(), now)
    asked = "not read; read it; at 57° or hotter serve or cool it, else discard it"
    (one,) = held_long(ledger, now)
    assert (one.load, one.level, one.tone) == (SHOULDER, 2, Tone.LATE)
    assert ", good up to 4 h" in one.says
    assert one.whole.endswith(asked)
    (row,) = [row for row in opening(facts).next if row.says.startswith("left: 70 pork")]
    assert ", past 4 h" in row.says
    assert row.says.endswith(asked)
    (left,) = service(facts).left
    assert left.key == SHOULDER
    (told,) = left_table(service(facts)).rows
    assert "past 4 h" in told.cells[1].text
    assert load_of(facts, SHOULDER) is not None


@pytest.mark.parametrize("now", AFTER)
@pytest.mark.parametrize("became", ["served", "lost", "cooled", "sold"])
def test_it_goes_out_of_sight_once_it_is_said_what_became_of_it(
    became: str, now: datetime, ledger: Ledger
) -> None:
    """Served, lost, set to cool or sold to the last portion: no view asks about it again, on no later day."""
    if became == "cooled":
        cooling = Watched(WatchKind.COOLING, "pork", load="sat-shoulder")
        watch = write.start_watch(ledger, cooling, **said(at("14:10"))).subject  # type: ignore[arg-type]
        write.end_watch(ledger, watch, WatchEnd.DONE, **said(at("14:20")))  # type: ignore[arg-type]
    elif became == "sold":
        write.sell(ledger, DAY, "lunch", "pork-plate", 70, **said(at("13:30")))  # type: ignore[arg-type]
    else:
        write.mark_load(ledger, "sat-shoulder", LoadStage(became), **said(at("14:10")))  # type: ignore[arg-type]
    facts = gather(ledger, house(), now)
    assert held_long(ledger, now) == []
    assert leftovers(facts) == ()
    assert not [row for row in opening(facts).next if "shoulder" in row.says or "left:" in row.says]


@pytest.mark.parametrize("now", AFTER[3:7])
def test_what_is_left_of_several_is_one_thing_due(now: datetime, ledger: Ledger) -> None:
    """However many are left, what comes next stays on the screen; each has one alarm, about its hold."""
    write.mark_load(ledger, "sat-brisket", LoadStage.PULLED, **said(at("07:00")))  # type: ignore[arg-type]
    facts = gather(ledger, house(), now)
    assert len(leftovers(facts)) == 2
    about = [
        row for row in opening(facts).next if "left of what is over" in row.says or "shoulder" in row.says
    ]
    (row,) = about
    assert row.says.startswith("left of what is over: 2 loads, the oldest 70 pork")
    assert row.says.endswith("say what became of each")
    assert sorted(one.load for one in held_long(ledger, now)) == sorted(one.key for one in leftovers(facts))
    assert not [one for one in alarms(facts) if "left of what is over" in one.says]


def test_a_load_is_asked_about_in_one_alarm(ledger: Ledger) -> None:
    """That it was not read and what is left of it stand in the one about its hold."""
    found = [one for one in alarms(gather(ledger, house(), at("20:20"))) if one.load == SHOULDER]
    assert [one.kind for one in found] == [AlarmKind.HOLD]


def test_a_hot_reading_says_how_long_there_is_time(ledger: Ledger) -> None:
    """Read hot within the time that the rule gives out of the heat it may be served; read cool it may not."""

    def asked(now: datetime) -> str:
        return leftovers(gather(ledger, house(), now))[0].todo

    write.take_reading(ledger, 63.0, load="sat-shoulder", **said(at("14:00")))  # type: ignore[arg-type]
    assert asked(at("14:30")) == "serve, cool or discard it"
    assert asked(at("16:30")) == "read it, then serve, cool or discard it"
    assert asked(at("18:30")) == "read it; at 57° or hotter serve or cool it, else discard it"
    write.take_reading(ledger, 50.0, load="sat-shoulder", **said(at("16:40")))  # type: ignore[arg-type]
    assert asked(at("16:45")) == "reheat or discard it by 18:00"
    assert asked(at("18:30")) == "discard it"


def test_no_alarm_is_not_said_to_be_nothing_to_do(ledger: Ledger) -> None:
    """While something is due, the empty list of alarms says how much and where it stands."""
    quiet = gather(ledger, house(), at("05:46"))
    assert alarms_table(quiet, (), (), 0).empty == "Nothing wants anybody now."
    assert alarms_table(quiet, (), (), 2).empty == "No alarm; 2 things are due: see Do next in Opening."
    assert alarms_table(quiet, (), (), 1).empty == "No alarm; 1 thing is due: see Do next in Opening."


def hold(ledger: Ledger, day: int = 0, now: datetime | None = None) -> list[Proof]:
    """What the record of a day shows of holds."""
    since = at("00:00", day)
    found = inspection(ledger, house(), since, since + timedelta(days=1), now or at("23:00", day + 1))
    return [one for one in found.proofs if one.section is Section.HOLDING]


def test_the_record_has_a_row_for_a_hold_that_nobody_read(ledger: Ledger) -> None:
    """Not shown, with from when to when and by when it was due; on each day until it is said what became."""
    (one,) = hold(ledger, now=at("20:20"))
    assert one.what == "6 shoulders, hot hold"
    assert one.verdict is not None
    assert one.verdict.answer is Answer.NOT_SHOWN
    assert (
        one.verdict.why
        == "Held from 06:45 to 20:20, not read; a reading was due by 08:45 and every 2 h then."
    )
    (later,) = hold(ledger, day=1, now=at("05:40", 1))
    assert later.verdict is not None
    assert "to Sun 20 Dec 05:40, not read" in later.verdict.why
    write.mark_load(ledger, "sat-shoulder", LoadStage.LOST, **said(at("14:10")))  # type: ignore[arg-type]
    (ended,) = hold(ledger)
    assert ended.verdict is not None
    assert "Held from 06:45 to 14:10, not read" in ended.verdict.why
    assert hold(ledger, day=1) == []


def test_a_hold_that_was_over_before_a_reading_was_due_has_no_row(ledger: Ledger) -> None:
    """Sold out within two hours, nobody had to read it; the hold ends with the last sale."""
    write.sell(ledger, DAY, "lunch", "pork-plate", 70, **said(at("08:00")))  # type: ignore[arg-type]
    assert hold(ledger) == []


def test_a_hold_that_was_read_once_and_then_forgotten_is_not_shown(ledger: Ledger) -> None:
    """A reading as it went in does not prove the nine hours after it."""
    write.take_reading(ledger, 64.0, load="sat-shoulder", **said(at("07:00")))  # type: ignore[arg-type]
    (early,) = hold(ledger, now=at("10:30"))
    assert early.verdict is not None
    assert early.verdict.answer is Answer.PASS
    (late,) = hold(ledger, now=at("16:00"))
    assert late.verdict is not None
    assert late.verdict.answer is Answer.NOT_SHOWN
    assert late.verdict.why.endswith("but nobody read it from 07:00 to 16:00.")
