"""The bound lies below what was proved best, and the search never makes a plan worse."""

from dataclasses import replace

import pytest

from board.planning.bound.rising import lower_bound
from board.planning.build import build
from board.planning.demand import needs_of
from board.planning.dues import occasions_on
from board.planning.problem import points
from board.planning.search.insertion import insertion
from board.planning.search.tidy import tidy
from board.planning.solver.solve import solve
from board.planning.weights import usual_weights
from tests.planning.by_hand import FILES, written
from tests.planning.conftest import DAY


def problem_of(house, promises):
    """The planning problem of an ordinary day with these promises."""
    weights = usual_weights()
    needs = needs_of(house, occasions_on(house, DAY, promises), weights.enough_chance)
    return build(house, needs, weights, seed=0, now=None)


@pytest.mark.parametrize(
    "promises",
    [
        {},
        {("lunch", "sliced"): 0},
        {("supper", "bird"): 0},
        {("lunch", "sliced"): 120, ("lunch", "bird"): 20},
    ],
)
def test_the_relaxation_stays_below_the_proved_best(two_fires, promises):
    """Two programs that share no rule agree: the linear bound never passes the proved optimum."""
    problem = problem_of(two_fires, promises)
    found = solve(problem, insertion(problem), seconds=20, seed=0)
    assert found.proved
    best = points(problem, found.solution)
    assert found.bound == pytest.approx(best, abs=0.5)
    assert 0 < lower_bound(problem) <= best + 1e-6


def test_a_fire_kept_through_the_gaps_of_a_long_day_is_not_counted_twice(tmp_path):
    """Four services six hours apart over one cheap fire: the bound stays below the proved best."""
    times = ("00:30", "06:30", "12:30", "18:30")
    service = '[s{0}]\nat = "{1}"\nlasts = "1 h"\nrule = "FREQ=DAILY"\npromises = {{ bird = 6 }}\n'
    pits = FILES["pits.toml"]
    pits = pits[pits.index("[box]") :].replace('"40 min"', '"15 min"').replace('"1 / kg"', '"0.1 / kg"')
    always = (
        '[people.ann]\n[shifts.always]\npeople = ["ann"]\nat = "00:00"\nlasts = "24 h"\nrule = "FREQ=DAILY"\n'
    )
    house = written(
        tmp_path,
        services="".join(service.format(i, at) for i, at in enumerate(times)),
        pits=pits,
        crew=always,
    )
    problem = problem_of(house, {})
    found = solve(problem, insertion(problem), seconds=20, seed=0)
    assert found.proved
    assert lower_bound(problem) <= points(problem, found.solution) + 1e-6


def test_one_load_alone_costs_its_fire_and_its_hands_and_nothing_else(two_fires):
    """With a single load, the best plan is one fire from its lighting to its slowest piece: by hand.

    Box: 40 min to heat; fuel 0.5 kg/h at 1 a kg, and its share of an hand at 18 an hour, in hundredths
    for each twelfth of an hour, rounded; and the hands that load, wrap and pull it, at 18 an hour.
    """
    problem = problem_of(two_fires, {("lunch", "sliced"): 0, ("supper", "bird"): 0})
    found = solve(problem, None, seconds=10, seed=0)
    (part,) = problem.parts
    mode = min((m for m in part.modes if m.pit == "box"), key=lambda m: m.d90)
    slot = round((0.5 * 1 + two_fires.pits["box"].tend_fraction * 18) * 100 / 12)
    hands = part.load + part.pull + (part.wrap if mode.wrap is not None else 0)
    by_hand = 300 + slot * (8 + part.load + mode.d90) + hands * 1800 / 12
    assert found.proved
    assert points(problem, found.solution) == pytest.approx(by_hand, abs=0.1)


def test_searching_and_tidying_never_cost_more(two_fires):
    """The solver's plan is no dearer than the first, and tidying it no dearer still."""
    problem = problem_of(two_fires, {})
    first = insertion(problem)
    found = solve(problem, first, seconds=2, seed=0)
    assert points(problem, found.solution) <= points(problem, first) + 1e-6
    assert points(problem, tidy(problem, found.solution)) <= points(problem, found.solution) + 1e-6


def test_a_wider_house_never_has_a_higher_bound(two_fires):
    """More room in every pit can only lower what no plan can beat."""
    wide = replace(two_fires, pits={k: replace(p, area_m2=3 * p.area_m2) for k, p in two_fires.pits.items()})
    promises = {("lunch", "sliced"): 80}
    assert lower_bound(problem_of(wide, promises)) <= lower_bound(problem_of(two_fires, promises)) + 1e-6
