"""Whether a load as planned is cooked at its pull, by its rest, or not at all."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board.cooking.cook import Rest
from board.cooking.resting import CoreCourse, core_courses
from board.house.model import Cut, Handling
from board.house.spans import Spread
from board.planning.cooked.judge import cooked_as_planned
from board.planning.load_cook import cook_of
from board.planning.plan import Cooked, CookedBy, PlannedLoad
from board.safety.cooked import Oven, cooked
from board.safety.handling import handled
from board.safety.log import TemperatureLog
from board.safety.verdict import Answer
from tests.planning.cooked.loads import cut_of, house_with, injected, planned

ORDER = [CookedBy.NOT_MET, CookedBy.REST, CookedBy.PULL]


def judged(house, cut: Cut, load: PlannedLoad) -> Cooked:
    """The verdict of one load."""
    return cooked_as_planned(house_with(house, cut), [load])[load.id]


@pytest.mark.parametrize(
    ("cut", "stay_c", "stay_minutes"),
    [
        (cut_of("chicken-half", 74.0), 74.0, 0.0),
        (cut_of("sausage", 72.0), 68.0, 17 / 60),
        (cut_of("pork-shoulder-boned", 71.0), 68.3, 22 / 60),
        (injected("pork-shoulder-boned", 68.0), 68.0, 17 / 60),
        (cut_of("spare-ribs", 63.0), 63.0, 15 / 60),
    ],
)
def test_a_pull_at_a_core_that_needs_no_wait_is_cooked_there(two_fires, cut, stay_c, stay_minutes):
    """Food Code 3-401.11: the pairs held half a minute or less are met with the probe in the meat."""
    found = judged(two_fires, cut, planned(cut))
    assert (found.by, found.at_pull) == (CookedBy.PULL, 1.0)
    assert found.stay_c == pytest.approx(stay_c, abs=0.25)  # the code prints °F too, up to 0.23 K lower
    assert found.stay_minutes == pytest.approx(stay_minutes)


def test_an_injected_cut_pulled_as_a_roast_relies_on_its_rest(two_fires):
    """Pulled at 62 °C, injected pork passes 63 °C (3 min) only as it rises on the bench; the plan says so."""
    found = judged(two_fires, cut := injected("pork-shoulder-boned", 62.0), planned(cut, rest=45.0))
    assert found.by is CookedBy.REST
    assert found.at_pull == 0.0
    assert found.when_served >= 0.9
    assert 3.0 <= found.rest_minutes < 45.0


def test_the_same_cut_without_injection_is_judged_as_a_roast(two_fires):
    """A whole roast of 7 kg in a pit at 121.5 °C meets the chart (12 min at 60 °C) sooner, and always."""
    needled, whole = (
        judged(two_fires, cut, planned(cut, rest=45.0))
        for cut in (injected("pork-shoulder-boned", 62.0), cut_of("pork-shoulder-boned", 62.0))
    )
    assert (needled.rule, whole.rule) == (Handling.INJECTED, Handling.INTACT_ROAST)
    assert whole.when_served == 1.0
    assert whole.at_pull > needled.at_pull
    assert whole.rest_minutes < needled.rest_minutes


def test_a_roast_in_a_pit_under_the_charts_oven_is_not_judged_by_the_chart(two_fires):
    """Food Code 3-401.11(B) asks 121 °C of a dry oven for 4.5 kg and more; cooler, 63 °C counts."""
    cut = cut_of("pork-shoulder-boned", 57.0)
    hot, cool = (judged(two_fires, cut, planned(cut, setpoint_c=c, spare=240.0)) for c in (121.5, 110.0))
    assert not hot.cool_pit
    assert cool.cool_pit
    assert cool.by is CookedBy.NOT_MET
    assert cool.pull_c == pytest.approx(63.0, abs=0.25)


def test_a_light_roast_needs_the_hotter_oven(two_fires):
    """Food Code 3-401.11(B): under 4.5 kg a still dry oven is at 177 °C or more."""
    cut = cut_of("pork-loin", 60.0)
    assert judged(two_fires, cut, planned(cut)).cool_pit
    assert not judged(two_fires, cut, planned(cut, setpoint_c=177.0)).cool_pit


def test_a_hold_may_be_what_cooks_a_roast(two_fires):
    """A rib roast pulled at 54 °C is not cooked by 15 min of rest, but by three hours in a hold at 65 °C."""
    cut = cut_of("beef-rib-roast", 54.0)
    soon, held = (judged(two_fires, cut, planned(cut, spare=minutes)) for minutes in (0.0, 180.0))
    assert soon.by is CookedBy.NOT_MET
    assert held.by is CookedBy.REST
    assert held.rest_minutes > 15.0


def test_poultry_pulled_under_its_core_that_does_not_rise_to_it_is_not_met(two_fires):
    """A chicken half pulled at 68 °C does not come to 74 °C by resting; 74 °C is what would."""
    found = judged(two_fires, cut := cut_of("chicken-half", 68.0), planned(cut))
    assert found.by is CookedBy.NOT_MET
    assert found.pull_c == pytest.approx(74.0, abs=0.15)


def test_a_late_load_is_judged_by_the_shortest_rest(two_fires):
    """A load planned late still gets its shortest rest and no more."""
    cut = injected("pork-shoulder-boned", 62.0)
    late = planned(cut, rest=20.0, spare_minutes_p50=-60.0)
    assert judged(two_fires, cut, late) == judged(two_fires, cut, replace(late, spare_minutes_p50=0.0))


def test_loads_of_meat_or_pits_the_house_no_longer_knows_are_left_out(two_fires):
    """Nothing is said of what cannot be judged, and nothing fails."""
    load = planned(cut_of("beef-rib-roast", 54.0))
    assert cooked_as_planned(two_fires, [replace(load, cut="elk"), replace(load, pit="gone")]) == {}


def test_a_cook_that_cannot_be_is_not_met_and_spoils_no_other(two_fires):
    """A load in a pit cooler than its pull is not cooked; the one beside it is judged as alone."""
    cut = injected("pork-shoulder-boned", 62.0)
    house, load = house_with(two_fires, cut), planned(cut, rest=45.0)
    cold = replace(load, id="cold", setpoint_c=60.0)
    found = cooked_as_planned(house, [cold, load])
    assert found["cold"].by is CookedBy.NOT_MET
    assert found["one"] == cooked_as_planned(house, [load])["one"]


PULLS = st.sampled_from([58.0, 60.0, 61.0, 62.0, 63.0, 64.5])
CUTS = st.sampled_from(["pork-shoulder-boned", "pork-loin", "beef-round-roast"])


@settings(max_examples=12)
@given(CUTS, PULLS, st.floats(5.0, 60.0), st.floats(0.0, 120.0), st.floats(0.0, 90.0), st.floats(0.0, 8.0))
def test_a_longer_wait_or_a_hotter_hold_never_loses_the_verdict(
    two_fires, id, pull_c, rest, spare, longer, hotter_k
):
    """More time held, or a hotter hold, never makes fewer likely cooks meet the rule."""
    cut = injected(id, pull_c)
    cabinet = two_fires.holds["cabinet"]
    warmer = replace(cabinet, setpoint_c=cabinet.setpoint_c + hotter_k)
    hot = replace(two_fires, holds={**two_fires.holds, "cabinet": warmer})
    plain = judged(two_fires, cut, planned(cut, rest=rest, spare=spare, hold="cabinet"))
    held = judged(two_fires, cut, planned(cut, rest=rest, spare=spare + longer, hold="cabinet"))
    hotter = judged(hot, cut, planned(cut, rest=rest, spare=spare, hold="cabinet"))
    for more in (held, hotter):
        assert more.when_served >= plain.when_served
        assert ORDER.index(more.by) >= ORDER.index(plain.by)


@settings(max_examples=12)
@given(CUTS, PULLS, st.floats(0.0, 6.0))
def test_a_higher_pull_never_loses_the_verdict(two_fires, id, pull_c, more_k):
    """The same cook taken further meets the rule at least as surely."""
    low, high = injected(id, pull_c), injected(id, pull_c + more_k)
    before, after = (judged(two_fires, cut, planned(cut, rest=20.0)) for cut in (low, high))
    assert after.at_pull >= before.at_pull
    assert after.when_served >= before.when_served - 1 / 64  # members' landing on the pull, one of them


@settings(max_examples=15)
@given(st.floats(54.5, 62.5), st.floats(15.0, 60.0))
def test_a_load_pulled_below_the_rules_least_core_is_never_called_cooked_there(two_fires, pull_c, rest):
    """Below 63 °C no time cooks injected meat: rested long enough it relies on the rest, and says so."""
    cut = injected("pork-shoulder-boned", pull_c)
    found = judged(two_fires, cut, planned(cut, rest=rest))
    assert found.at_pull == 0.0
    assert found.by is not CookedBy.PULL
    assert (found.by is CookedBy.REST) == (found.when_served >= 0.9)


def test_pieces_are_judged_by_the_slowest_of_them(two_fires):
    """Six pieces of the same mass are pulled no sooner than two of them, and judged one by one."""
    cut = injected("pork-shoulder-boned", 62.0)
    cut = replace(cut, mass_kg=Spread(3.0, 7.0, 10.0))
    load = planned(cut)
    cook = replace(cook_of(house_with(two_fires, cut), load), rest=Rest("room", 15.0))
    two, six = core_courses([cook, replace(cook, pieces=6)], members=16)
    assert np.median([c.pulled_minute for c in six]) >= np.median([c.pulled_minute for c in two])


def test_a_pull_that_would_do_is_the_rules_own_row_and_does(two_fires):
    """Pulled at what is told instead, the same load meets its rule."""
    cut = cut_of("pork-shoulder-boned", 55.0)
    low = judged(two_fires, cut, planned(cut))
    assert low.by is CookedBy.NOT_MET
    cured = replace(cut, pull_core_c=low.pull_c)
    assert judged(two_fires, cured, planned(cured)).by is not CookedBy.NOT_MET


@pytest.mark.parametrize("place", ["us", "uk", "eu"])
@pytest.mark.parametrize("cut", [injected("pork-loin", 62.5), cut_of("pork-shoulder-boned", 60.0)])
def test_the_verdict_of_each_likely_cook_is_that_of_its_own_record(two_fires, place, cut):
    """Read each minute and judged by the safety sums, likely cooks pass as often as they count here.

    Each until it is served: when it is due, and no sooner than its shortest rest.
    """
    house = replace(house_with(two_fires, cut), jurisdiction=place)
    load = planned(cut, rest=45.0)
    cook = replace(cook_of(house, load), rest=Rest("room", 45.0))
    oven = Oven(load.setpoint_c, cook.mass_kg)
    courses = core_courses([cook], members=64, seed=0)[0]
    due = np.median([course.pulled_minute for course in courses]) + 45.0
    answers = []
    for course in courses:
        served = max(due, course.pulled_minute + min(45.0, cut.rest_minutes[0]))
        record = log_of(course, min(served, course.minutes[-1]))
        answers.append(cooked(record, handled(cut, house.recipes), place=place, oven=oven).answer)
    found = cooked_as_planned(house, [load])[load.id]
    shown = sum(answer is Answer.PASS for answer in answers) / len(answers)
    assert found.when_served == pytest.approx(shown, abs=1 / 64)  # straight between whole minutes


def log_of(course: CoreCourse, until: float) -> TemperatureLog:
    """A course read each minute until it is served."""
    minutes = np.append(np.arange(0.0, until, 1.0), until)
    cores = np.interp(minutes, course.minutes, course.core_c)
    return TemperatureLog(tuple(minutes.tolist()), tuple(cores.tolist()))
