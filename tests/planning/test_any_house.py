"""Whatever house and day, a plan can be cooked from or says what is short: houses drawn at random."""

from datetime import UTC, date, datetime

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from board.planning.bound.rising import lower_bound
from board.planning.planner import plan_day
from board.planning.problem import points
from board.planning.search.insertion import insertion
from board.planning.solver.solve import solve
from tests.planning.by_hand import written
from tests.planning.checker import faults
from tests.planning.test_bound import problem_of

PIT = """
[p{number}]
kind = "{kind}"
area = "{area} m2"
setpoint = ["{low} F", "{high} F"]
warm_up = "{warm} min"
fuel = "oak"
fuel_rate = "{rate} kg/h"
fuel_price = "{price} / kg"
"""
PITS = st.lists(
    st.builds(
        dict,
        kind=st.sampled_from(["offset", "cabinet", "oven", "rotisserie"]),
        area=st.sampled_from([0.3, 0.5, 0.9, 1.6]),
        low=st.sampled_from([200, 225]),
        high=st.sampled_from([290, 350]),
        warm=st.sampled_from([15, 40, 60, 90]),
        rate=st.sampled_from([0.2, 0.5, 4]),
        price=st.sampled_from([0.1, 0.3, 1]),
    ),
    min_size=1,
    max_size=3,
)
SHIFT = '[shifts.{name}]\npeople = {people}\nat = "{at}"\nlasts = "{hours} h"\nrule = "FREQ=DAILY"\n'
CREWS = st.builds(
    lambda night, hours, day, people: (
        "[people.nan]\n[people.abe]\n[people.dot]\n"
        + SHIFT.format(name="night", people='["nan"]', at=night, hours=hours)
        + SHIFT.format(name="day", people=people, at=day, hours=15)
    ),
    st.sampled_from(["18:00", "20:00", "22:02"]),
    st.sampled_from([9, 10, 12]),
    st.sampled_from(["05:00", "05:30", "06:30"]),
    st.sampled_from(['["abe"]', '["abe", "dot"]']),
)
HOLDS = st.builds(
    '[bench]\narea = "{} m2"\n[cabinet]\narea = "{} m2"\nsetpoint = "65 C"\n'.format,
    st.sampled_from([0.2, 0.6, 1.2]),
    st.sampled_from([0.1, 0.4, 1.6]),
)
PORTIONS = st.fixed_dictionaries(
    {
        ("lunch", "sliced"): st.sampled_from([0, 20, 60, 110]),
        ("lunch", "bird"): st.sampled_from([0, 14, 40]),
        ("supper", "bird"): st.sampled_from([0, 12, 30]),
    }
)
DAYS = st.sampled_from([date(2026, 6, 10), date(2026, 3, 8), date(2026, 11, 1)])
HOURS = st.none() | st.integers(0, 30)


def rows_of(pits):
    """Drawn pits as a house file writes them."""
    return "".join(PIT.format(number=i, **pit) for i, pit in enumerate(pits))


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(PITS, CREWS, HOLDS, PORTIONS, DAYS, HOURS)
def test_any_house_gets_a_plan_without_fault(tmp_path_factory, pits, crew, holds, portions, day, hours):
    """Pits, crew, holds, promises, the day and the hour of asking drawn at random: nothing is wrong."""
    house = written(tmp_path_factory.mktemp("any"), pits=rows_of(pits), crew=crew, holds=holds)
    now = None if hours is None else datetime(day.year, day.month, day.day - 1 or 1, hours % 24, tzinfo=UTC)
    plan = plan_day(house, day, seconds=0, promises=portions, now=now)
    unnamed = [fault for fault in faults(plan, house, now=now) if not fault.endswith("nobody does it")]
    assert unnamed == []
    assert plan.bound <= plan.cost


@settings(max_examples=12)
@given(PITS, PORTIONS)
def test_the_bound_never_passes_a_searched_plan(tmp_path_factory, pits, portions):
    """The linear bound lies below the cost of whatever the search finds."""
    assume(any(portions.values()))
    house = written(tmp_path_factory.mktemp("any"), pits=rows_of(pits))
    problem = problem_of(house, portions)
    found = solve(problem, insertion(problem), seconds=1, seed=0)
    assert lower_bound(problem) <= points(problem, found.solution) + 1e-6
