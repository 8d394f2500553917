"""Fed readings in the views: gaps are gaps, a door is a door, and the sums are asked every ten minutes."""

from dataclasses import replace
from datetime import timedelta

import pytest

from board.house.probes import Probe, ProbeReads
from board.ledger.facts import PlacingFacts
from board.ledger.feeding import Aside, ProbeState
from board.ledger.state import LoadStage, Reading
from board.safety.holding import held_cold, held_hot
from board.safety.verdict import Answer
from board.views.alarm import AlarmKind
from board.views.alarms import alarms
from board.views.failing import failing
from board.views.fed import gaps_in, judged_alike, line_of, listed, summed_core, with_coldest, without_doors
from board.views.in_use import held_spans
from board.views.proving import EMPTY, cook_verdict, log_of
from tests.app.house_fixture import DAY, at, plan
from tests.views.facts_fixture import NOW, facts, standing, state

HOUSE = facts().house
BEGAN = at("02:00")


def fed(minute: float, celsius: float, probe: str = "p1", seq: int = 9) -> Reading:
    """A fed reading so many minutes after two."""
    return Reading(seq, BEGAN + timedelta(minutes=minute), probe, "walk-in", celsius, probe=probe)


def hand(minute: float, celsius: float, seq: int = 5) -> Reading:
    """One by hand."""
    return Reading(seq, BEGAN + timedelta(minutes=minute), "ines", "walk-in", celsius)


def steady(until: int, celsius: float = 3.0, probe: str = "p1", begin: int = 0) -> list[Reading]:
    """A reading a minute."""
    return [fed(minute, celsius, probe) for minute in range(begin, until)]


def test_a_silent_probe_leaves_a_gap_until_anybody_reads() -> None:
    """Ten minutes are the usual silence (board/house/data/keeping.toml)."""
    readings = [*steady(30), *steady(90, begin=60)]
    assert gaps_in(HOUSE, readings) == [(fed(29, 3).at, fed(60, 3).at)]
    assert gaps_in(HOUSE, [*readings, hand(35, 3)]) == [], "somebody read in time"
    assert gaps_in(HOUSE, [hand(0, 3), hand(200, 3)]) == [], "a person reads as often as the house asks"


def test_what_lies_in_a_gap_is_not_shown() -> None:
    """A feed that was silent for two hours proves nothing of them; two readings by hand so far apart do."""
    gap = [*steady(30), *steady(180, begin=150)]
    assert held_cold(log_of(HOUSE, gap, cold=True) or EMPTY).answer is Answer.NOT_SHOWN
    assert held_cold(log_of(HOUSE, steady(180), cold=True) or EMPTY).answer is Answer.PASS
    assert held_hot(log_of(HOUSE, [hand(0, 65), hand(120, 65)]) or EMPTY).answer is Answer.PASS


@pytest.mark.parametrize(("minutes", "doors"), [(5, 1), (14, 1), (40, 0)])
def test_short_warm_air_is_a_door_and_long_is_not(minutes: int, doors: int) -> None:
    """Fifteen minutes are longer than a door stands open (board/house/data/alarms.toml)."""
    readings = [*steady(30), *steady(30 + minutes, 9.0, begin=30), *steady(120, begin=30 + minutes)]
    judged, found = without_doors(readings, lambda c: c > 5, 15.0)
    assert found == doors
    assert any(one.temperature_c > 5 for one in judged) == (not doors)


def test_a_probe_that_stays_warm_is_no_door_however_cold_another_is() -> None:
    """Each probe is judged by itself, and so is what a person read."""
    readings = [*steady(60, 9.0, "p1"), *steady(60, 3.0, "p2")]
    judged, doors = without_doors(readings, lambda c: c > 5, 15.0)
    assert (len(judged), doors) == (120, 0)
    judged, doors = without_doors([*steady(60), hand(20.5, 9.0)], lambda c: c > 5, 15.0)
    assert any(one.temperature_c > 5 for one in judged)
    assert doors == 0


def test_the_sums_take_the_coldest_of_ten_minutes_that_are_over_and_all_by_hand() -> None:
    """So they are asked anew every ten minutes; a load is done when its slowest piece is."""
    readings = [*steady(45, 60.0, "p1"), *steady(45, 55.0, "p2"), hand(12, 57.0)]
    taken = summed_core(readings, BEGAN + timedelta(minutes=45))
    assert [one.temperature_c for one in taken if one.probe] == [55.0] * 4
    assert sum(one.probe is None for one in taken) == 1
    assert taken == summed_core(readings, BEGAN + timedelta(minutes=49, seconds=59))
    assert {celsius for _, celsius in line_of(readings)} == {55.0, 57.0}


def test_what_was_fed_with_a_reading_that_does_not_count_does_not_either() -> None:
    """Within its ten minutes, and since: a probe that hangs in the air does not count until a sum says so."""
    readings = [*steady(20, 60.0), *steady(35, 107.0, begin=20)]
    out = next(one for one in readings if one.at == BEGAN + timedelta(minutes=29))
    found = dict(judged_alike(readings, {out.key: "out of the meat"}))
    assert set(found) == {one.key for one in readings if one.temperature_c == 107.0}


def test_the_last_core_is_the_coldest_of_the_probes_in_it() -> None:
    """Whichever of them sent last."""
    known = with_coldest(state("sat-ham", LoadStage.ON), [*steady(9, 55.0, "p2"), fed(9, 60.0, "p1")])
    assert known.last_core_c == 55.0


def test_two_probes_in_a_load_prove_what_the_colder_does() -> None:
    """The piece that is cold is not cooked by the one beside it."""
    (load,) = (one for one in plan().loads if one.id == "sat-ham")
    hot, cool = steady(60, 75.0, "p1"), [fed(minute + 0.5, 58.0, "p2") for minute in range(60)]
    alone, both = (cook_verdict(HOUSE, load, readings) for readings in (cool, by_time([*hot, *cool])))
    assert alone is not None
    assert both is not None
    assert alone.lethality_log10 is not None
    assert 0.0 < (both.lethality_log10 or 0.0) <= alone.lethality_log10


def by_time(readings: list[Reading]) -> list[Reading]:
    """Readings as they came."""
    return sorted(readings, key=lambda one: one.at)


def test_a_page_lists_the_extremes_of_half_hours() -> None:
    """An inspector is not shown a line a second; all readings count all the same."""
    readings = [*(fed(n, 3 + n % 7 / 10) for n in range(60)), hand(7, 3.2)]
    shown = listed(readings)
    assert len(shown) <= 5
    assert {one.temperature_c for one in shown} >= {3.0, 3.6, 3.2}


def probed(**probes: ProbeState) -> object:
    """The facts with a load on North and some probes of the house."""
    known = {
        "a1": Probe("a1", "north air", ProbeReads.AIR, "north", ("a1",)),
        "m1": Probe("m1", "meat 1", ProbeReads.MEAT, None, ("m1",)),
        "w1": Probe("w1", "walk-in door", ProbeReads.AIR, "walk-in", ("w1",)),
    }
    on = state("sat-ham", LoadStage.ON, on_at=at("01:00"), pit="north")
    made = facts(loads=standing(on), fed=tuple(probes.values()))
    return replace(made, house=replace(made.house, probes=known))


def sent(probe: str, minutes_ago: float, place: str | None = None, load: str | None = None) -> ProbeState:
    """What a probe sent last."""
    return ProbeState(probe, NOW - timedelta(minutes=minutes_ago), 100.0, place, load, DAY if load else None)


def silent(known: object) -> list[str]:
    """What rings about silent probes."""
    return [one.says for one in alarms(known) if one.kind is AlarmKind.SILENT]  # type: ignore[arg-type]


def test_a_probe_rings_where_it_is_wanted_and_silent() -> None:
    """In the walk-in always, in a load while it cooks; not one that sends, or is put away since yesterday."""
    (says,) = silent(probed(w=sent("w1", 12, "walk-in"), m=sent("m1", 1, load="sat-ham")))
    assert "walk-in door has sent nothing since" in says
    (says,) = silent(probed(w=sent("w1", 1, "walk-in"), m=sent("m1", 11, load="sat-ham")))
    assert "meat 1" in says
    assert silent(probed(w=sent("w1", 9, "walk-in"), m=sent("m1", 12))) == [], "a probe in no meat"
    assert silent(probed(w=sent("w1", 2000, "walk-in"))) == []


def put(probe: str, minutes_ago: float, load: str | None) -> PlacingFacts:
    """Where a probe was put by hand."""
    when = NOW - timedelta(minutes=minutes_ago)
    return PlacingFacts(7, probe, when, "ines", load, DAY if load else None)


@pytest.mark.parametrize(
    ("ago", "into", "last", "rings"),
    [
        (12, "sat-ham", None, True),
        (12, "sat-ham", 30, True),
        (12, "sat-ham", 5, False),
        (9, "sat-ham", None, False),
        (12, "sat-ribs", None, False),
    ],
    ids=["never sent", "not since", "sends", "just put in", "not on the fire"],
)
def test_a_probe_that_was_put_in_and_never_sends_rings(
    ago: float, into: str, last: float | None, rings: bool
) -> None:
    """Nobody must think that a load is looked after by a probe that is dead; once, whatever it did before."""
    known = probed(**({"m": sent("m1", last, load="sat-ham")} if last else {}))
    found = silent(replace(known, placed=(put("m1", ago, into),)))  # type: ignore[type-var]
    assert ["when it was put into the ham" in one for one in found] == [True] * rings


def test_a_probe_that_was_taken_out_may_be_silent() -> None:
    """It is in no meat any more, and whoever took it out knows."""
    known = probed(m=sent("m1", 12, load="sat-ham"))
    assert silent(known)
    assert silent(replace(known, placed=(put("m1", 11, None),))) == []  # type: ignore[type-var]


def test_a_probe_is_not_silent_for_having_been_struck() -> None:
    """What it sent a minute ago does not count; that it sent does."""
    struck = replace(sent("m1", 30, load="sat-ham"), struck_at=NOW - timedelta(minutes=1))
    assert silent(probed(m=struck)) == []


@pytest.mark.parametrize(
    ("out", "back", "stage", "rings"),
    [
        (20, 0, LoadStage.ON, True),
        (5, 0, LoadStage.ON, False),
        (20, 3, LoadStage.ON, False),
        (20, 0, LoadStage.RESTING, False),
    ],
    ids=["lies in the fire", "is on its way", "is back", "off the pit"],
)
def test_a_probe_that_reads_no_core_rings(out: int, back: int, stage: LoadStage, rings: bool) -> None:
    """Once it is out for longer than a probe is out of reach, with what to do and the load it is of."""
    cores = [*[60.0] * 30, *[240.0] * out, *[61.0] * back]
    begin = NOW - timedelta(minutes=len(cores))
    own = tuple(
        Reading(9, begin + timedelta(minutes=n), "m1", "sat-ham", core, "sat-ham", probe="m1")
        for n, core in enumerate(cores)
    )
    known = replace(
        probed(m=sent("m1", 1, load="sat-ham")),  # type: ignore[type-var]
        readings={(DAY, "sat-ham"): own},
        loads=standing(state("sat-ham", stage, on_at=at("01:00"), pit="north")),
    )
    found = [one for one in alarms(known) if one.key.startswith("out/")]
    assert [one.load for one in found] == [f"{DAY}/sat-ham"] * rings
    for one in found:
        assert one.says == "meat 1 has read no core of the hams since 05:22: hotter than any core"


def aside(minutes_ago: float, source: str = "stdin") -> Aside:
    """A message that was set aside."""
    when = NOW - timedelta(minutes=minutes_ago)
    return Aside(source, when, "found no unit\x1b, allowed C or F; or give m1 its unit", "m1 61")


def test_messages_that_cannot_be_taken_ring_once_they_are_several() -> None:
    """Two are noise on a line; three are told with the reason of the last, each feed by itself, harmless."""
    two = (aside(1), aside(2), aside(3, "csv pit.csv"))
    for found, rings in ((two, 0), ((*two, aside(20)), 1)):
        told = [one for one in alarms(replace(facts(), aside=found)) if one.kind is AlarmKind.ASIDE]
        assert len(told) == rings
    assert told[0].says.startswith("3 messages of stdin set aside since 05:22: found no unit")
    assert "allowed" not in told[0].says
    assert "\x1b" not in told[0].whole


def test_a_feed_that_stands_still_rings_once() -> None:
    """None of them sends: it is the feed, and not each probe."""
    (says,) = silent(probed(w=sent("w1", 20, "walk-in"), m=sent("m1", 21, load="sat-ham")))
    assert says.startswith("none of 2 probes has sent anything since")


def test_a_probe_that_a_hand_denies_rings() -> None:
    """Two kelvins are two thermometers at the end of what each may be off; within them both are right."""
    for off, rings in ((1.5, 0), (4.0, 1)):
        last = NOW - timedelta(minutes=20)
        read = (
            Reading(3, last, "w1", "walk-in", 3.0, probe="w1"),
            Reading(4, last + timedelta(minutes=2), "ines", "walk-in", 3.0 + off),
        )
        known = replace(probed(w=sent("w1", 1, "walk-in")), kept={"walk-in": read})  # type: ignore[type-var]
        assert sum(one.key.startswith("apart/") for one in alarms(known)) == rings


HOLD = next(id for id, hold in HOUSE.holds.items() if hold.setpoint_c is not None)


def holding(served: str | None, load_hold: str = HOLD) -> object:
    """The hams put into the hot hold at four, served then or still in it, and its air fed cold for hours."""
    of = plan()
    hams = replace(next(one for one in of.loads if one.id == "sat-ham"), hold=load_hold)
    stage = LoadStage.SERVED if served else LoadStage.HOLDING
    times = {"pulled_at": at("03:00"), "holding_at": at("04:00"), "served_at": at(served) if served else None}
    cold = tuple(fed(minute, 25.0) for minute in range(0, 220, 5))
    return facts(
        plans={DAY: replace(of, loads=(hams,))},
        loads=standing(state("sat-ham", stage, on_at=at("01:00"), **times)),
        kept={HOLD: cold},
    )


@pytest.mark.parametrize(
    ("served", "elsewhere", "rings"), [(None, False, 1), ("05:00", False, 0), (None, True, 0)]
)
def test_the_air_of_an_empty_hold_is_nobodys_food(served: str | None, elsewhere: bool, rings: int) -> None:
    """A cabinet that is fed cold rings while food is in it, not once it is served, nor for food elsewhere."""
    known = holding(served, "elsewhere" if elsewhere else HOLD)
    assert sum(one.about == f"place:{HOLD}" for one in failing(known)) == rings  # type: ignore[arg-type]


def test_food_is_in_a_hold_from_when_it_goes_in_until_it_is_served() -> None:
    """By the marks; what is still in ends now."""
    assert held_spans(holding("05:00"), HOLD) == [(at("04:00"), at("05:00"))]  # type: ignore[arg-type]
    assert held_spans(holding(None), HOLD) == [(at("04:00"), NOW)]  # type: ignore[arg-type]
