"""The parts of the record: what each load, watch and probe proves, and one line by itself."""

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from board.ledger import read, write
from board.ledger.checking import About, Right
from board.ledger.open import Ledger
from board.ledger.state import LoadStage, ProbeWay, WatchEnd, WatchKind
from board.ledger.watching import Watched
from board.views.facts import find_load
from board.views.gather import gather
from board.views.load_page import load_page
from board.views.record import Kind, Record, record
from board.views.record_detail import detail
from board.views.record_tables import record_table
from board.views.service import service
from board.views.shown_cooked import before_serving
from board.views.table import body_lines
from board.views.text import Tone
from tests.app.boards import night_ledger
from tests.app.house_fixture import DAY, at, house, plan

NOW = at("12:00")


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """The fixture's night, its later cores of the shoulders put right to 61; off at a quarter to six."""
    with night_ledger(tmp_path / "board.db") as opened:
        for later in read.readings(opened, load="sat-shoulder")[-2:]:
            write.correct(opened, later.seq, Right(temperature_c=61.0), **said("05:40"))
        write.mark_step(opened, "s-pull-shoulder", **said("05:45"))
        yield opened


def said(clock: str, days: int = 0) -> dict[str, object]:
    """Who and when."""
    return {"who": "wren", "at": at(clock, days), "noted_at": at(clock, days)}


def part(ledger: Ledger, kind: Kind, now: datetime = NOW, **more: object) -> Record:
    """One part of the record at noon."""
    return record(ledger, gather(ledger, house(), now), kind, **more)  # type: ignore[arg-type]


def core(ledger: Ledger, clock: str, celsius: float) -> int:
    """A core of the shoulders."""
    return write.take_reading(ledger, celsius, load="sat-shoulder", **said(clock)).seq


def test_too_few_readings_are_not_shown_and_what_would_settle_it_is_told(ledger: Ledger) -> None:
    """The last core was read 25 minutes before the pull and is not enough."""
    (line,) = part(ledger, Kind.COOKED).lines
    assert line.says.startswith("6 shoulders: not shown cooked.")
    assert line.tone is Tone.CARE
    assert line.below[0].startswith("to settle it: ")


def test_a_reading_settles_it(ledger: Ledger) -> None:
    """One more core, and the whole record shows it cooked; the lethality stands beside the verdict."""
    core(ledger, "05:50", 94.0)
    view = part(ledger, Kind.COOKED)
    assert view.lines[0].says.startswith("6 shoulders: shown cooked.")
    found = detail(ledger, gather(ledger, house(), NOW), view.lines[0].key)
    assert found is not None
    words = dict(found.lines)
    assert "log10, beside the rule, never instead of it" in words["verdict"]
    assert "FDA Food Code" in words["rule"]
    assert any("94°" in says for _, says in found.lines)


def test_a_core_hotter_than_boiling_water_proves_nothing(ledger: Ledger) -> None:
    """201 typed in the wrong scale never cooks a load; put right, it counts as 94."""
    slip = core(ledger, "05:50", 201.0)
    assert "not shown" in part(ledger, Kind.COOKED).lines[0].says
    write.correct(ledger, slip, Right(temperature_c=94.0), **said("06:00"))
    assert "shown cooked." in part(ledger, Kind.COOKED).lines[0].says
    assert "not shown" not in part(ledger, Kind.COOKED).lines[0].says


def test_what_is_not_shown_is_a_caution_before_serving(ledger: Ledger) -> None:
    """Service and the load's page say what to read, until it is read."""
    facts = gather(ledger, house(), NOW)
    load = find_load(plan(), "sat-shoulder")
    assert load is not None
    asked = before_serving(facts, plan(), load)
    assert asked.startswith("before the shoulders are served: ")
    line = next(line for line in service(facts).lines if line.item == "pork-plate")
    assert line.caution == asked
    page = load_page(facts, "2026-12-19/sat-shoulder")
    assert page is not None
    assert next(told for told in page.facts if told.head == "proved").tone is Tone.CARE
    core(ledger, "05:50", 94.0)
    assert before_serving(gather(ledger, house(), NOW), plan(), load) == ""


def test_a_load_on_its_pit_is_not_judged(ledger: Ledger) -> None:
    """The briskets still cook."""
    load = find_load(plan(), "sat-brisket")
    assert load is not None
    assert before_serving(gather(ledger, house(), NOW), plan(), load) == ""


def test_holding_has_loads_watches_and_the_walk_in(ledger: Ledger) -> None:
    """Everything that is kept warm or cold, each with its answer."""
    write.mark_load(ledger, "sat-shoulder", LoadStage.HOLDING, **said("07:00"))
    core(ledger, "08:00", 64.0)
    write.take_reading(ledger, 9.0, place="walk-in", **said("08:10"))
    pan = write.start_watch(ledger, Watched(WatchKind.HOT_HOLD, "beans"), **said("09:00")).subject
    write.take_reading(ledger, 70.0, place=pan, **said("09:00"))
    lines = part(ledger, Kind.HOLDING).lines
    assert [line.says.partition(":")[0] for line in lines] == [
        "beans, hot hold",
        "walk-in",
        "6 shoulders, hot hold",
    ]
    assert [line.tone for line in lines] == [Tone.GOOD, Tone.LATE, Tone.GOOD]


def test_what_failed_says_what_was_done_or_that_nothing_is_written(ledger: Ledger) -> None:
    """A failure without an answer is told as such; an answer stands under it."""
    reading = write.take_reading(ledger, 9.0, place="walk-in", **said("08:10"))
    (line,) = part(ledger, Kind.FAILED).lines
    assert line.below[-1] == "nothing is written of what was done about it"
    assert line.about == f"entry:{reading.seq}"
    write.act_on(ledger, About(entry=reading.seq), "door was open, 4° again", **said("08:40"))
    (line,) = part(ledger, Kind.FAILED).lines
    assert line.below[-1] == "done about it: door was open, 4° again"


def test_cooling_and_date_marks_have_parts_of_their_own(ledger: Ledger) -> None:
    """A tub that cooled in time becomes a lot with its last day."""
    tub = write.start_watch(ledger, Watched(WatchKind.COOLING, "beans"), **said("06:00")).subject
    for clock, celsius in (("06:00", 60.0), ("07:30", 20.0), ("10:00", 4.0)):
        write.take_reading(ledger, celsius, place=tub, **said(clock))
    write.end_watch(ledger, tub, WatchEnd.DONE, **said("10:01"))
    write.start_watch(ledger, Watched(WatchKind.DATE_MARKED, "beans", from_watch=tub), **said("10:01"))
    (cooled,) = part(ledger, Kind.COOLING).lines
    assert cooled.says.startswith("beans, cooling: pass.")
    assert cooled.who == "done 10:01 by Wren"
    (marked,) = part(ledger, Kind.MARKS).lines
    assert marked.says == "beans, date-marked, last day 2026-12-25"


def test_a_lot_kept_past_its_last_day_failed(ledger: Ledger) -> None:
    """It is among what failed, unless it was discarded."""
    lot = write.start_watch(ledger, Watched(WatchKind.DATE_MARKED, "beans"), **said("10:01")).subject
    assert part(ledger, Kind.FAILED, at("12:00", 6)).lines == ()
    assert "beans" in part(ledger, Kind.FAILED, at("12:00", 7)).lines[0].says
    write.end_watch(ledger, lot, WatchEnd.DISCARDED, **said("12:00", 7))
    assert part(ledger, Kind.FAILED, at("12:01", 7)).lines == ()


def test_the_last_day_itself_is_in_time(ledger: Ledger) -> None:
    """A lot still there at the end of its last day has not failed on that day; the day after it has."""
    write.start_watch(ledger, Watched(WatchKind.DATE_MARKED, "beans"), **said("10:01"))
    later, last = at("12:00", 20), DAY.replace(day=25)
    assert part(ledger, Kind.FAILED, later, day=last).lines == ()
    assert len(part(ledger, Kind.FAILED, later, day=DAY.replace(day=26)).lines) == 1


def test_probe_checks_are_judged(ledger: Ledger) -> None:
    """A probe 3 K off in ice is told as such; a corrected check counts as corrected."""
    write.check_probe(ledger, "red", ProbeWay.ICE, 3.0, 120.0, **said("06:00"))
    blue = write.check_probe(ledger, "blue", ProbeWay.BOILING, 96.0, 120.0, **said("06:05"))
    blue_line, red_line = part(ledger, Kind.PROBES).lines
    assert (red_line.tone, blue_line.tone) == (Tone.LATE, Tone.LATE)
    assert "too far off" in red_line.says
    failed = part(ledger, Kind.FAILED).lines
    assert [line.key for line in failed] == [blue_line.key, red_line.key]
    assert failed[0].below == ("nothing is written of what was done about it",)
    write.correct(ledger, blue.seq, Right(temperature_c=99.4), **said("06:06"))
    assert "good" in part(ledger, Kind.PROBES).lines[0].says
    write.act_on(ledger, About(entry=int(red_line.key)), "thrown away", **said("06:07"))
    (line,) = part(ledger, Kind.FAILED).lines
    assert line.below == ("done about it: thrown away",)


def test_one_day_shows_that_day_only(ledger: Ledger) -> None:
    """Friday evening without Saturday morning."""
    friday = part(ledger, Kind.ALL, day=DAY.replace(day=18))
    assert friday.span == "yesterday"
    assert all(line.day == "yesterday" for line in friday.lines)
    assert part(ledger, Kind.COOKED, day=DAY.replace(day=18)).lines == ()


def test_an_entry_shows_all_that_was_said_of_it(ledger: Ledger) -> None:
    """Both values, who put it right and why, and what was done; the entry itself says what it said."""
    slip = core(ledger, "05:50", 201.0)
    write.correct(ledger, slip, Right(temperature_c=94.0), "read in °F", **said("06:00"))
    write.act_on(ledger, About(entry=slip), "told the crew", **said("06:10"))
    found = detail(ledger, gather(ledger, house(), NOW), str(slip))
    assert found is not None
    assert found.title == "the shoulders read 201°; corrected: 94° (read in °F)"
    assert [says for head, says in found.lines if head.startswith("entry ")] == [
        f"entry {slip}, the reading of the shoulders, put right: 94° (read in °F), Wren 06:00",
        "done about the shoulders: told the crew, Wren 06:10",
    ]


def test_a_line_that_is_gone_has_no_detail(ledger: Ledger) -> None:
    """A number no entry has, a proof no span has."""
    facts = gather(ledger, house(), NOW)
    assert detail(ledger, facts, "99999") is None
    assert detail(ledger, facts, "cooked|load:2026-12-19/none") is None


@pytest.mark.parametrize("kind", list(Kind))
@pytest.mark.parametrize("width", [60, 80, 120])
def test_every_part_fits_its_width(ledger: Ledger, kind: Kind, width: int) -> None:
    """No line of any part is wider than the screen, empty or not."""
    write.act_on(ledger, About(load="sat-shoulder", day=DAY), "cooked on " * 20, **said("06:00"))
    table = record_table(part(ledger, kind))
    assert all(len(line.text) <= width for line in body_lines(table, width))
