"""Loads on their pits estimated again from what was marked and measured."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from board.ledger.state import LoadStage, Reading
from board.planning.plan import Plan, PlannedLoad
from board.views.facts import Facts, find_load
from board.views.left_out import newly_left_out
from board.views.likely import likely_times
from board.views.opening import opening
from board.views.opening_tables import pits_table
from board.views.progress import LikelyPull
from board.views.revising import cook_now, estimate_now, fingerprint, revised, to_revise
from board.views.service import service
from board.views.service_tables import items_table
from board.views.table import Table
from tests.app.house_fixture import DAY, at
from tests.views.facts_fixture import facts, standing, state

ON = at("19:12", -1)
CORES = ((2.0, 36.0), (4.0, 54.0), (6.0, 64.0), (8.0, 72.0))
NOW = at("03:42")
KEY = (DAY, "sat-brisket")


def reading(seq: int, hours: float, celsius: float, place: str = "sat-brisket") -> Reading:
    """A reading so many hours after the briskets went on."""
    load = place if place == "sat-brisket" else None
    return Reading(seq, ON + timedelta(hours=hours), "ines", place, celsius, load)


def night(*more: Reading, now: datetime = NOW, last_core: float = 72.0, **marks: object) -> Facts:
    """The briskets eight and a half hours on North, their core read four times, and what is added."""
    cores = [reading(n, *one) for n, one in enumerate(CORES, start=1)]
    marked = {"on_at": ON, "pit": "north", "last_core_c": last_core, **marks}
    on = state("sat-brisket", LoadStage.ON, **marked)
    return facts(now, loads=standing(on), readings={KEY: (*cores, *more)})


def brisket(known: Facts) -> tuple[Plan, PlannedLoad]:
    """The briskets and their plan."""
    load = find_load(known.plans[DAY], "sat-brisket")
    assert load is not None
    return known.plans[DAY], load


def with_air(known: Facts, celsius: float) -> Facts:
    """The same night with North read at one temperature every half hour."""
    return replace(
        known, air={"north": tuple(reading(100 + n, 0.5 * n, celsius, "north") for n in range(1, 17))}
    )


def test_readings_narrow_the_pull() -> None:
    """With four readings the span is narrower than without any, and the middle is still ahead."""
    known = night()
    now = estimate_now(known, [brisket(known)])["sat-brisket"]
    before = now.expected.minutes
    assert now.revision.p90 - now.revision.p10 < 0.7 * (before.p90 - before.p10)
    assert now.pull.p50 > known.now
    assert now.taken == tuple((60.0 * hours, core_c) for hours, core_c in CORES)


def test_a_cold_pit_makes_it_later() -> None:
    """Of two equal loads the one on a pit read 12 K under its setpoint all night is expected later."""
    cold, even = (with_air(night(), celsius) for celsius in (106.0, 118.0))
    expected = [estimate_now(known, [brisket(known)])["sat-brisket"].expected for known in (cold, even)]
    assert expected[0].minutes.p50 > expected[1].minutes.p50 + 30.0


def test_the_cook_is_what_was_marked() -> None:
    """The wrap's true time, the pit's true setpoint and a change of pits are in the cook."""
    wrapped = cook_now(known := night(wrapped_at=at("02:05")), *brisket(known))
    assert wrapped.wrap_minute == pytest.approx(413.0)
    asked = replace(
        night(), asked={"north": ((ON - timedelta(hours=1), 110.0), (ON + timedelta(hours=3), 125.0))}
    )
    set_twice = cook_now(asked, *brisket(asked))
    assert set_twice.setpoint_c == 110.0
    assert set_twice.air is not None
    assert set_twice.air.celsius[-1] == pytest.approx(125.0, abs=1.0)
    moved = cook_now(known := night(moved_at=ON + timedelta(hours=5), moved_from="south"), *brisket(known))
    assert moved.move is not None
    assert moved.move.minute == 300.0
    assert moved.air is not None


def test_a_wild_reading_changes_nothing_but_says_so() -> None:
    """°F typed as °C: the pull stays, the load is not done by it, and the reason is in words."""
    plain, wild = night(), night(reading(9, 8.3, 163.0))
    before, after = revised(plain)["sat-brisket"], revised(wild)["sat-brisket"]
    assert (after.p10, after.p50, after.p90) == (before.p10, before.p50, before.p90)
    assert after.left_out == ((9, "it reads like °F taken for °C: 163 °F is 73 °C"),)
    likely = likely_times(wild, *brisket(wild), revised(wild))
    assert likely.pull.p50 > wild.now
    assert likely.core_c == 72.0
    assert newly_left_out(wild, {"sat-brisket": after}, {"sat-brisket": before}).startswith(
        "the briskets: 163°"
    )
    assert newly_left_out(wild, {"sat-brisket": after}, {"sat-brisket": after}) == ""


def test_a_mistyped_air_is_named_and_does_not_count() -> None:
    """°F typed as °C of the pit: the briskets are expected as before, and the entry has its reason."""
    good = with_air(night(), 118.0)
    wild = replace(good, air={"north": (*good.air["north"], reading(200, 8.4, 244.0, "north"))})
    before, after = (estimate_now(known, [brisket(known)])["sat-brisket"] for known in (good, wild))
    assert after.expected.minutes == before.expected.minutes
    assert revised(wild)["sat-brisket"].left_out == (
        (200, "it reads like °F taken for °C: 244 °F is 118 °C"),
    )
    assert newly_left_out(wild, revised(wild), revised(good)).startswith("North: 244° not counted")


def test_a_cook_unlike_all_is_a_guess_in_words() -> None:
    """A core far too slow still has an answer, and the load's line says it is a guess."""
    slow = night()
    slow = replace(slow, readings={KEY: (reading(1, 3.0, 8.0), reading(2, 8.0, 15.0))})
    found = revised(slow)["sat-brisket"]
    assert isinstance(found, LikelyPull)
    assert found.warning is not None
    known = {"sat-brisket": found}
    assert likely_times(slow, *brisket(slow), known).guess == found.warning
    line = next(one for one in service(slow, known).lines if one.item == "brisket-plate")
    assert line.coming[0].guess == found.warning
    assert found.warning in words_under(items_table(service(slow, known)))
    assert found.warning in words_under(pits_table(opening(slow, known)))


def words_under(table: Table) -> str:
    """Every sentence under a table's rows."""
    return " ".join(cell.text for row in table.rows for cell in row.below)


def test_a_hot_core_is_not_tender_yet() -> None:
    """Ribs come to their core hours before they are tender: read there, they are not said done."""
    known = night(reading(9, 8.3, 95.0), last_core=95.0)
    assert likely_times(known, *brisket(known)).pull.p90 == known.now
    cut = replace(known.house.cuts["brisket"], tender_minutes=180.0)
    tender = replace(known, house=replace(known.house, cuts={**known.house.cuts, "brisket": cut}))
    assert likely_times(tender, *brisket(tender), revised(tender)).pull.p50 > tender.now + timedelta(
        minutes=30
    )


def test_only_what_was_measured_is_estimated_again() -> None:
    """A load without a reading keeps its plan; a reading, a wrap, or one put right asks for a new sum."""
    nothing = replace(night(), readings={})
    assert list(to_revise(nothing)) == []
    prints = {
        fingerprint(known)
        for known in (
            nothing,
            night(),
            night(reading(9, 8.3, 73.0)),
            night(reading(9, 8.4, 73.0)),
            night(reading(9, 8.4, 74.0)),
            night(wrapped_at=at("02:05")),
            night(on_at=at("00:01")),
            with_air(night(), 118.0),
        )
    }
    assert len(prints) == 8
