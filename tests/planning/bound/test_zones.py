"""Zones of a pit, levels and raw birds: no bound passes what is proved best with them."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.planning.birds import is_bird
from board.planning.bound.buckets import bucket_bound
from board.planning.problem import Spot
from tests.planning.bound.tiny import DRAW, bounds_of, proved_least, small
from tests.planning.planted import planted
from tests.planning.solver.zoned import ZONED, problem_zoned
from tests.planning.test_bound import problem_of


@DRAW
@given(ZONED, st.sampled_from([0.4, 1.0]))
def test_in_zones_no_bound_passes_the_proof(tmp_path_factory, drawn, room):
    """Pits of two levels, raw birds and other meat, some of it standing, turns, kept and pinned parts."""
    problem = small(problem_zoned(tmp_path_factory.mktemp("zoned"), drawn), drawn[-1], room)
    assert max(bounds_of(problem)) <= proved_least(problem) + 1e-6


@pytest.fixture
def two_levels(two_fires):
    """A bird and a brisket that each fill a zone of one pit, a rack over a floor, and what its fire costs."""
    problem, fire = planted(problem_of(two_fires, {("supper", "bird"): 0}), 1, 0)
    day = problem_of(two_fires, {})
    cuts = {is_bird(part.need.cut): part for part in day.parts}
    half = problem.frame.pits["p0"].area_cm2 // 2
    spots = {spot.id: spot for spot in (Spot("p0/rack", "p0", half, level=1), Spot("p0/floor", "p0", half))}
    taken = replace(problem.frame.taken, cooking=dict.fromkeys(spots, ()))
    frame = replace(problem.frame, spots=spots, taken=taken)
    parts = tuple(
        replace(
            part,
            id=name,
            area_cm2=half,
            share=replace(part.share, need=cuts[bird].need),
            modes=tuple(replace(part.modes[0], spot=spot) for spot in spots),
        )
        for part, (name, bird) in zip(problem.parts, {"bird": True, "brisket": False}.items(), strict=False)
    )
    return replace(problem, frame=frame, parts=parts), fire


def test_birds_below_other_meat_share_its_fire(two_levels):
    """By hand: the brisket on the rack and the birds on the floor fill the pit, so one fire is paid."""
    problem, fire = two_levels
    assert proved_least(problem) == pytest.approx(fire)
    assert bucket_bound(problem, 1) == pytest.approx(fire, rel=1e-6)


def test_where_birds_would_drip_one_load_is_left_out_and_the_bound_lies_below(two_levels):
    """By hand: birds that fit the rack only and a brisket that fits the floor only are never on together.

    Their windows are shorter than their cooks, so one is not served. The bound lets levels go: one fire.
    """
    problem, fire = two_levels
    parts = [
        replace(part, modes=tuple(mode for mode in part.modes if mode.spot == spot))
        for part, spot in zip(problem.parts, ("p0/rack", "p0/floor"), strict=True)
    ]
    problem = replace(problem, parts=tuple(parts))
    worth = min(part.worth for part in parts) * problem.frame.weights.unserved_portion
    assert proved_least(problem) == pytest.approx(fire + worth)
    assert bucket_bound(problem, 1) == pytest.approx(fire, rel=1e-6)


def test_meat_that_stands_in_a_zone_leaves_no_room_there(two_levels):
    """By hand: with the floor full all day, two loads of a zone each do not fit: one is not served."""
    problem, fire = two_levels
    stands = ((0, problem.frame.grid.slots, problem.frame.spots["p0/floor"].area_cm2),)
    taken = replace(problem.frame.taken, cooking={"p0/rack": (), "p0/floor": stands})
    problem = replace(problem, frame=replace(problem.frame, taken=taken))
    worth = min(part.worth for part in problem.parts) * problem.frame.weights.unserved_portion
    assert proved_least(problem) == pytest.approx(fire + worth)
    assert bucket_bound(problem, 1) == pytest.approx(fire + worth, rel=1e-6)
