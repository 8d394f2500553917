"""Live estimates of loads in zones of a pit, and of loads whose pit is turned hotter with them on it."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from board.cooking.estimate import estimate
from board.ledger.state import LoadStage, LoadState, Reading
from board.planning.cook_times import AirChange, CookQuestion, cook_times
from board.planning.load_cook import cook_of
from board.planning.plan import PlannedLoad
from board.views.doors_ahead import door_minutes_ahead
from board.views.facts import Done, Facts, find_load, find_step
from board.views.remedying import scene_of
from board.views.revising import cook_now, estimate_now, fingerprint, revised, to_revise
from board.views.steps import due_at, is_done
from board.views.turning import turn_ahead
from tests.app import zoned
from tests.app.house_fixture import DAY, at
from tests.app.zoned import THEN_C, TURN, WARMER_K
from tests.views.facts_fixture import standing, state

ON = at("19:12", -1)
TURN_MINUTE = 418.0  # from 19:12 to 02:10
NOW = at("01:30")
MINUTE = timedelta(minutes=1)


def night(now: datetime = NOW, *states: LoadState, **changes: object) -> Facts:
    """Saturday's plan with its turn; the briskets on North on time, and whatever else stands."""
    on = state("sat-brisket", LoadStage.ON, on_at=ON, pit="north")
    known = Facts(zoned.house(), now, {DAY: zoned.plan()}, loads=standing(on, *states))
    lit = {"north": ((ON - timedelta(hours=1), 118.0),), "south": ((at("19:00", -1), 121.0),)}
    return replace(known, **{"asked": lit, **changes})  # type: ignore[arg-type]


def of(known: Facts, id: str) -> PlannedLoad:
    """A load of Saturday."""
    load = find_load(known.plans[DAY], id)
    assert load is not None
    return load


def minutes(known: Facts, id: str = "sat-brisket") -> float:
    """The middle minutes a load is expected to take."""
    cook = cook_now(known, known.plans[DAY], of(known, id))
    return estimate([cook], members=64)[0].minutes.p50


def air_at(known: Facts, minute: float, id: str = "sat-brisket") -> float:
    """The air a load is expected to meet at a minute from its loading."""
    air = cook_now(known, known.plans[DAY], of(known, id)).air
    assert air is not None
    return air.at(minute)


def asked(*later: tuple[datetime, float]) -> dict[str, tuple[tuple[datetime, float], ...]]:
    """North lit to 118 °C, then set so."""
    return {"north": ((ON - timedelta(hours=1), 118.0), *later)}


def test_a_turn_ahead_is_in_the_air() -> None:
    """Until the turn the air is the setpoint, an hour and a half after it the new one."""
    known = night()
    assert air_at(known, TURN_MINUTE - 1) == pytest.approx(118.0, abs=0.1)
    assert air_at(known, TURN_MINUTE + 90) == pytest.approx(THEN_C, abs=1.0)


def test_a_turn_lies_between_never_and_always() -> None:
    """Hotter for the last part: sooner than 118 °C throughout, later than 130 °C throughout."""
    known = night()
    cool, hot = (cook_of(known.house, replace(of(known, "sat-brisket"), setpoint_c=c, turn_at=None))
                 for c in (118.0, THEN_C))  # fmt: skip
    never, always = (one.minutes.p50 for one in estimate([cool, hot], members=64))
    assert always + 10 < minutes(known) < never - 10


def test_a_turn_comes_as_late_as_the_load() -> None:
    """On 40 minutes late, it is turned 40 minutes later: the same minute from loading; its step as well."""
    late = state("sat-brisket", LoadStage.ON, on_at=ON + 40 * MINUTE, pit="north")
    known = night(loads=standing(late))
    ahead = turn_ahead(known, known.plans[DAY], of(known, "sat-brisket"))
    assert ahead is not None
    assert ahead.at == TURN + 40 * MINUTE
    step = find_step(known.plans[DAY], "s-set-north")
    assert step is not None
    assert due_at(known, known.plans[DAY], step) == TURN + 40 * MINUTE


def test_what_was_really_set_counts() -> None:
    """Set half an hour early the air turns then, the step has nothing left to do, and it is done sooner."""
    early = night(asked=asked((TURN - 90 * MINUTE, THEN_C)))
    step = find_step(early.plans[DAY], "s-set-north")
    assert step is not None
    assert is_done(early, early.plans[DAY], step)
    assert turn_ahead(early, early.plans[DAY], of(early, "sat-brisket")) is None
    assert air_at(early, TURN_MINUTE) == pytest.approx(THEN_C, abs=1.0)
    assert minutes(early) < minutes(night()) - 5


def test_a_step_done_with_another_setpoint_is_done() -> None:
    """Somebody set 124 °C at the turn: that is what stays."""
    known = night(at("02:30"), asked=asked((TURN, 124.0)), done={(DAY, "s-set-north"): Done(TURN, "ines")})
    assert air_at(known, TURN_MINUTE + 120) == pytest.approx(124.0, abs=1.0)


def test_another_setpoint_before_leaves_the_turn_ahead() -> None:
    """Raised to 122 °C at midnight, the pit is still to be brought to 130 °C at its time."""
    known = night(asked=asked((at("00:00"), 122.0)))
    assert air_at(known, TURN_MINUTE - 1) == pytest.approx(122.0, abs=1.0)
    assert air_at(known, TURN_MINUTE + 90) == pytest.approx(THEN_C, abs=1.0)


def test_an_overdue_turn_is_not_in_the_past() -> None:
    """Nobody turned it by three: it comes from now on, the load is asked about and done later."""
    known, on_time = night(at("03:05")), night()
    ahead = turn_ahead(known, known.plans[DAY], of(known, "sat-brisket"))
    assert ahead is not None
    assert known.now < ahead.at <= known.now + 15 * MINUTE
    assert air_at(known, (known.now - ON) / MINUTE) == pytest.approx(118.0, abs=0.1)
    assert minutes(known) > minutes(on_time) + 5
    assert [load.id for _, load in to_revise(known)] == ["sat-brisket"]
    assert not list(to_revise(on_time))
    assert fingerprint(known) != fingerprint(replace(known, now=at("03:35")))
    assert revised(known)["sat-brisket"].p50 > known.now


def test_a_turn_ends_with_the_load_or_its_move() -> None:
    """Pulled, or carried to another pit, there is no turn ahead for it, and its step is done."""
    gone = (
        state("sat-brisket", LoadStage.PULLED, on_at=ON, pulled_at=at("01:00"), pit="north"),
        state("sat-brisket", LoadStage.ON, on_at=ON, pit="little", moved_at=at("01:00"), moved_from="north"),
    )
    for one in gone:
        known = night(loads=standing(one))
        step = find_step(known.plans[DAY], "s-set-north")
        assert step is not None
        assert turn_ahead(known, known.plans[DAY], of(known, "sat-brisket")) is None
        assert is_done(known, known.plans[DAY], step)


def test_the_plan_and_the_live_estimate_agree() -> None:
    """On time and not read, a turned load is expected within a thirtieth of what the plan's own sum says.

    Both turn at one minute by as much; they differ in how the pit gets there within its change-over.
    """
    known = night()
    load = replace(of(known, "sat-brisket"), pieces=8, mass_kg=8 * 6.4)
    question = CookQuestion("brisket", "north", 118.0, 8, AirChange(TURN_MINUTE, 20.0, THEN_C))
    house = known.house
    planned = cook_times([question], house.cuts, house.pits, altitude_m=house.altitude_m, seed=0)[question]
    cook = cook_now(known, known.plans[DAY], load)
    live = estimate([cook], members=64)[0]
    assert live.minutes.p50 == pytest.approx(planned.minutes.p50, rel=1 / 30)


def shoulder(zone: str | None = "upper", **changes: object) -> LoadState:
    """The shoulders on South."""
    times = {"on_at": at("20:10", -1), "pit": "south", "zone": zone, **changes}
    return state("sat-shoulder", LoadStage.ON, **times)


def test_a_zone_is_as_a_pit_set_hotter() -> None:
    """Upper shelves 14 K over 121 °C cook as a pit at 135 °C does, lower shelves as the pit itself."""
    upper, lower = night(NOW, shoulder()), night(NOW, shoulder("lower"))
    plain = zoned.plain.house()
    hot = cook_of(plain, replace(of(upper, "sat-shoulder"), setpoint_c=121.0 + WARMER_K))
    even = cook_of(plain, of(upper, "sat-shoulder"))
    for known, like in ((upper, hot), (lower, even)):
        assert minutes(known, "sat-shoulder") == estimate([like], members=64)[0].minutes.p50


def test_readings_of_the_pit_are_of_the_pit() -> None:
    """South read at its setpoint all night: upper shelves meet 14 K more, and no reading is left out."""
    begun = at("20:10", -1)
    air = tuple(Reading(90 + n, begun + n * 30 * MINUTE, "ines", "south", 121.0) for n in range(1, 11))
    known = night(NOW, shoulder(), air={"south": air})
    assert air_at(known, 200.0, "sat-shoulder") == pytest.approx(121.0 + WARMER_K, abs=1.0)
    assert revised(known)["sat-shoulder"].left_out == ()


def test_a_move_between_zones_is_met_from_then_on() -> None:
    """Carried from the upper to the lower shelves after five hours, the air is 14 K cooler from there."""
    moved = shoulder("lower", moved_at=at("01:10"), moved_from="south", moved_from_zone="upper")
    known = night(NOW, moved)
    assert air_at(known, 200.0, "sat-shoulder") == pytest.approx(121.0 + WARMER_K, abs=0.1)
    assert air_at(known, 320.0, "sat-shoulder") == pytest.approx(121.0, abs=0.1)


def test_a_move_to_a_pit_of_unknown_zone_meets_the_pit() -> None:
    """Where nobody said which shelves, the pit's own air counts."""
    moved = shoulder(None, moved_at=at("01:10"), moved_from="little")
    known = night(NOW, moved)
    assert air_at(known, 320.0, "sat-shoulder") == pytest.approx(121.0, abs=0.1)


def test_the_scene_of_remedies_knows_zone_and_turn() -> None:
    """A load in a zone comes with its air over the pit's, a turned one with the minute of its turn."""
    known = night(NOW, shoulder())
    plan = known.plans[DAY]
    turned = scene_of(known, plan, of(known, "sat-brisket")).load
    assert (turned.turn_minute, turned.then_c, turned.warmer_k) == (TURN_MINUTE, THEN_C, 0.0)
    upper = scene_of(known, plan, of(known, "sat-shoulder")).load
    assert (upper.turn_minute, upper.then_c, upper.warmer_k, upper.zone) == (None, None, WARMER_K, "upper")


def test_doors_still_to_be_opened_come_on_top() -> None:
    """Each five minutes in which other meat is loaded or pulled after the last reading costs what the pit's
    door costs: ribs loaded 11:30 and pulled 15:50 are two openings, of which one lies before the pull."""
    known = replace(night(NOW, shoulder()), house=zoned.house(door_minutes=4.0))
    plan, load = known.plans[DAY], of(known, "sat-shoulder")
    pull_ribs = replace(next(s for s in plan.steps if s.id == "s-load-ribs"), id="s-pull-ribs", what="pull")
    plan = replace(plan, steps=(*plan.steps, replace(pull_ribs, at=at("15:50"))))
    known = replace(known, plans={DAY: plan})

    def cost(since: str, until: str) -> float:
        return door_minutes_ahead(known, plan, load, since=at(since), until=at(until))

    assert cost("01:30", "11:00") == 0.0
    assert cost("01:30", "12:00") == 4.0
    assert cost("01:30", "16:00") == 8.0
    assert cost("11:40", "16:00") == 4.0
    read = Reading(1, at("01:20"), "ines", "sat-shoulder", 60.0, "sat-shoulder")
    ribs_now = replace(plan, steps=tuple(
        replace(s, at=at("01:40")) if s.id == "s-load-ribs" else s for s in plan.steps
    ))  # fmt: skip
    ribs = tuple(replace(ld, load_at=at("01:40")) if ld.id == "sat-ribs" else ld for ld in plan.loads)
    shut = replace(known, readings={(DAY, "sat-shoulder"): (read,)})
    opened = replace(shut, plans={DAY: replace(ribs_now, loads=ribs)})
    before, after = (
        estimate_now(one, [(one.plans[DAY], of(one, "sat-shoulder"))])["sat-shoulder"].pull
        for one in (shut, opened)
    )
    assert (after.p50 - before.p50) / MINUTE == pytest.approx(4.0)
