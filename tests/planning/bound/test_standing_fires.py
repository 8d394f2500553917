"""Fires that burn already, and committed places: no bound passes what is proved best beside them."""

from dataclasses import replace

import pytest
from hypothesis import given

from board.planning.bound.buckets import bucket_bound, whole_bound
from board.planning.problem import Kept
from board.planning.run import Run
from tests.planning.bound.tiny import DRAW, DRAWN, bounds_of, proved_least, tiny
from tests.planning.planted import COOK, planted
from tests.planning.test_bound import problem_of


@pytest.fixture(scope="module")
def template(two_fires):
    """A problem to take a house and a part from."""
    return problem_of(two_fires, {("lunch", "sliced"): 0, ("supper", "bird"): 0})


def lit(problem, chance):
    """The problem with a fire or two on most pits, about when loads could start, at any setpoint."""
    runs = dict(problem.frame.taken.runs)
    for pit in problem.frame.pits:
        modes = [mode for part in problem.parts for mode in part.modes if mode.pit == pit]
        if modes and chance.random() < 4 / 5:
            runs[pit] = tuple(_burning(problem, chance, modes))
    return burning(problem, runs)


def _burning(problem, chance, modes):
    pit, last = modes[0].pit, None
    begin = max(0, chance.choice(chance.choice(modes).starts) + chance.randrange(-60, 40))
    for _ in range(chance.choice([1, 1, 2])):
        end = min(problem.frame.grid.slots, begin + chance.randrange(6, 120))
        setpoint = chance.choice([chance.choice(modes).setpoint_c, chance.choice(problem.frame.offers[pit])])
        if end > begin and not problem.frame.pits[pit].shut[begin:end].any():
            last = Run(begin, end, setpoint, chained=last is not None and last.end == begin, known=True)
            yield last
        begin = end + chance.choice([0, 1, 30])


def burning(problem, runs):
    """The problem with these fires burning already, whatever is cooked in them."""
    return replace(problem, frame=replace(problem.frame, taken=replace(problem.frame.taken, runs=runs)))


@DRAW
@given(DRAWN)
def test_with_fires_that_burn_no_bound_passes_the_proof(tmp_path_factory, drawn):
    """A fire may be shared, kept longer or brought over; one part in four is kept somewhere."""
    problem = lit(tiny(tmp_path_factory.mktemp("lit"), drawn), drawn[4])
    least = proved_least(problem)
    assert max(bounds_of(problem)) <= least + 1e-6


def test_a_fire_that_burns_all_the_time_is_all_that_is_paid(template):
    """By hand: three loads fit the pit and its fire, so a plan costs that fire's lighting and fuel."""
    problem, _ = planted(template, 1, 0)
    starts, room = problem.parts[0].modes[0].starts, problem.frame.pits["p0"]
    known = Run(starts[0] - 20, starts[-1] + COOK + 30, problem.parts[0].modes[0].setpoint_c, known=True)
    problem = burning(problem, {"p0": (known,)})
    by_hand = problem.frame.weights.lighting + room.fuel_points * (known.end - known.begin)
    assert proved_least(problem) == pytest.approx(by_hand)
    for bucket in (1, 3, 12):
        assert bucket_bound(problem, bucket) == pytest.approx(by_hand)
        assert whole_bound(problem, bucket, seed=0) == pytest.approx(by_hand)


@pytest.mark.parametrize("burnt", range(20, 45, 2))
def test_a_fire_kept_longer_is_paid_from_where_it_would_end(template, burnt):
    """By hand: on at the first start, the meat asks for its 61 slots less those the fire burns anyway.

    A bound counts lit edges, of which a fire kept longer has one less than slots: it may lie a slot lower.
    """
    problem, _ = planted(template, 1, 0)
    starts, room = problem.parts[0].modes[0].starts, problem.frame.pits["p0"]
    known = Run(starts[0] - 20, starts[0] + burnt, problem.parts[0].modes[0].setpoint_c, known=True)
    problem = burning(problem, {"p0": (known,)})
    slots = known.end - known.begin + (1 + COOK - burnt)
    by_hand = problem.frame.weights.lighting + room.fuel_points * slots
    assert proved_least(problem) == pytest.approx(by_hand)
    assert bucket_bound(problem, 1) >= by_hand - room.fuel_points - 0.1
    assert max(bucket_bound(problem, bucket) for bucket in (1, 2, 3, 12, 24)) <= by_hand + 1e-6


@pytest.mark.parametrize("gap", [2, 3, 4, 5])
def test_a_fire_brought_over_is_paid_from_where_it_would_end(template, gap):
    """By hand: too near to be lit from cold, so it burns from its end to the meat's, at another setpoint.

    As with a fire kept longer the bound may lie a slot lower.
    """
    problem, _ = planted(template, 1, 0)
    starts, room = problem.parts[0].modes[0].starts, replace(problem.frame.pits["p0"], change_over=2)
    assert starts[-1] - room.warm <= starts[0] - gap
    problem = replace(problem, frame=replace(problem.frame, pits={"p0": room}))
    known = Run(starts[0] - 60, starts[0] - gap, problem.parts[0].modes[0].setpoint_c - 20, known=True)
    problem = burning(problem, {"p0": (known,)})
    weights, slots = problem.frame.weights, known.end - known.begin + gap + 1 + COOK
    by_hand = weights.lighting + weights.change_over + room.fuel_points * slots
    assert proved_least(problem) == pytest.approx(by_hand)
    assert bucket_bound(problem, 1) >= by_hand - room.fuel_points - 0.1
    assert max(bucket_bound(problem, bucket) for bucket in (1, 2, 3, 12, 24)) <= by_hand + 1e-6


def test_beside_one_pit_that_burns_only_the_other_is_lit(template):
    """By hand: six loads fill two pits, one of them lit anyway: one more planted fire is paid."""
    problem, both = planted(template, 2, 0)
    starts, room = problem.parts[0].modes[0].starts, problem.frame.pits["p0"]
    known = Run(starts[0] - 20, starts[-1] + COOK + 30, problem.parts[0].modes[0].setpoint_c, known=True)
    problem = burning(problem, {"p0": (known,), "p1": ()})
    by_hand = both / 2 + problem.frame.weights.lighting + room.fuel_points * (known.end - known.begin)
    assert proved_least(problem) == pytest.approx(by_hand)
    assert bucket_bound(problem, 1) == pytest.approx(by_hand, rel=1e-6)


def test_loads_kept_a_slot_apart_cost_a_slot_of_fire_more(template):
    """By hand: moving a load costs more than a slot of this fire, so all stay, and it burns a slot longer."""
    problem, best = planted(template, 1, 0)
    mode, fuel = problem.parts[0].modes[0], problem.frame.pits["p0"].fuel_points
    assert fuel < problem.frame.weights.moved_load
    starts = (mode.starts[0], mode.starts[0], mode.starts[1])
    parts = [
        replace(part, kept=Kept("p0", mode.setpoint_c, start))
        for part, start in zip(problem.parts, starts, strict=True)
    ]
    problem = replace(problem, parts=tuple(parts))
    assert proved_least(problem) == pytest.approx(best + fuel)
    assert bucket_bound(problem, 1) == pytest.approx(best + fuel, rel=1e-6)
