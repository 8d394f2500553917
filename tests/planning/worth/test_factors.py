"""Finishes that move together, against what is known of normal draws that share factors."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import multivariate_normal, norm

from board.planning.factors import Cooked, draws_of, quantile_together, score, usual_factors

USUAL = usual_factors()
ALONE = replace(USUAL, house=0.0, night=0.0, kind=0.0, pit=0.0, cut=0.0, load=1.0)
AS_ONE = replace(ALONE, house=1.0, load=0.0)
# three standard errors of a chance of 0.9 from 8,192 draws, mirrored or not: 3 √(0.9·0.1/8192)
SIMULATED = 0.01

ON_ONE_PIT = (Cooked("offset", "north", "brisket"), Cooked("offset", "north", "brisket"))
THREE = (
    Cooked("offset", "north", "brisket"),
    Cooked("offset", "north", "shoulder"),
    Cooked("cabinet", "box", "brisket"),
)


def all_in_time(loads, scores, factors):
    """The simulated chance that each load lies under its own score."""
    late = [z > bound for z, bound in zip(draws_of(loads, factors), scores, strict=True)]
    return 1.0 - np.logical_or.reduce(late).mean()


def together(a, b, f):
    """How two loads go together by the table: what they share."""
    shared = f.house + f.night + f.kind * (a.kind == b.kind)
    return shared + f.pit * (a.pit == b.pit) + f.cut * (a.cut == b.cut)


def test_the_shares_of_the_table_make_up_the_whole():
    """Otherwise a load's own chance would not be its cook time's."""
    assert sum((USUAL.house, USUAL.night, USUAL.kind, USUAL.pit, USUAL.cut, USUAL.load)) == pytest.approx(1.0)


def test_loads_that_share_nothing_multiply():
    """Independent events: the product rule."""
    loads = tuple(Cooked("offset", f"pit {i}", f"cut {i}") for i in range(4))
    assert all_in_time(loads, [score(0.9)] * 4, ALONE) == pytest.approx(0.9**4, abs=1.5 * SIMULATED)


def test_loads_that_share_everything_are_as_sure_as_the_least_sure():
    """Comonotone events: the minimum of their chances (the upper Fréchet bound)."""
    scores = [score(q) for q in (0.97, 0.9, 0.99)]
    assert all_in_time(THREE, scores, AS_ONE) == pytest.approx(0.9, abs=SIMULATED)


@pytest.mark.parametrize("loads", [ON_ONE_PIT, THREE])
@pytest.mark.parametrize("chance", [0.8, 0.9, 0.97])
def test_simulated_chances_are_those_of_a_normal_orthant(loads, chance):
    """scipy.stats.multivariate_normal integrates the same orthant by its own rule (Genz)."""
    covariance = [[1.0 if a is b else together(a, b, USUAL) for b in loads] for a in loads]
    exact = multivariate_normal(cov=covariance).cdf([norm.ppf(chance)] * len(loads))
    assert all_in_time(loads, [score(chance)] * len(loads), USUAL) == pytest.approx(exact, abs=SIMULATED)


def test_two_loads_of_one_cut_on_one_pit_go_together_more_than_on_two():
    """Their correlation is the sum of what they share."""
    same = np.corrcoef(list(draws_of(ON_ONE_PIT, USUAL)))[0, 1]
    apart = np.corrcoef(list(draws_of((THREE[0], THREE[2]), USUAL)))[0, 1]
    assert same == pytest.approx(together(*ON_ONE_PIT, USUAL), abs=0.02)
    assert apart == pytest.approx(together(THREE[0], THREE[2], USUAL), abs=0.03)


def test_the_chance_a_load_needs_is_the_orthants_inverse():
    """At the chance found, scipy's orthant gives the service's own chance back."""
    needed = quantile_together(THREE, 0.9, USUAL)
    covariance = [[1.0 if a is b else together(a, b, USUAL) for b in THREE] for a in THREE]
    back = multivariate_normal(cov=covariance).cdf([norm.ppf(needed)] * 3)
    assert back == pytest.approx(0.9, abs=SIMULATED)


def test_independent_loads_need_the_root_of_the_chance():
    """All of n independent loads at q make q to the n."""
    loads = tuple(Cooked("offset", f"pit {i}", f"cut {i}") for i in range(5))
    assert quantile_together(loads, 0.9, ALONE) == pytest.approx(0.9 ** (1 / 5), abs=0.004)


@given(n=st.integers(1, 12), wanted=st.floats(0.5, 0.97))
def test_a_load_needs_no_less_than_its_service_and_no_more_than_alone(n, wanted):
    """Between the service's own chance (all shared) and the nth root of it (nothing shared)."""
    loads = tuple(Cooked("offset", f"pit {i % 3}", f"cut {i % 2}") for i in range(n))
    needed = quantile_together(loads, wanted, USUAL)
    assert wanted <= needed <= max(wanted, wanted ** (1 / n) + SIMULATED)
