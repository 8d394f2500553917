"""Sharing out what past cooks told: against the same model solved another way, and what must always hold."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from board.cooking.known import Known
from board.cooking.learning.doubt import settled
from board.cooking.learning.gaussian import Belief, Common, Rows, believed, left_out, log_likelihood
from board.cooking.learning.shares import LASTING, LOAD, Shares, record, shares
from board.cooking.physics.parameters import parameters

Floats = NDArray[np.float64]
NAMES = ("h", "radius", "paper")
LEVELS = (*LASTING, LOAD)
SHARES = Shares(
    NAMES,
    {
        "house": np.array([0.0, 0.0, 0.8]),
        "kind": np.array([0.3, 0.0, 0.0]),
        "pit": np.array([0.6, 0.0, 0.0]),
        "cut": np.array([0.0, 0.7, 0.0]),
        "load": np.array([0.1, 0.3, 0.2]),
    },
)
NORTH = {"house": "", "kind": "offset", "pit": "north", "cut": "brisket"}
some = settings(max_examples=40, deadline=None, derandomize=True)


def rows_of(loads: list[tuple[str, str, str, float]], slopes: Floats, noise: float = 0.002) -> Rows:
    """Rows of (kind, pit, cut, told), each its own load."""
    keys = tuple(
        {"house": "", "kind": kind, "pit": pit, "cut": cut, "load": str(n)}
        for n, (kind, pit, cut, _) in enumerate(loads)
    )
    return Rows(SHARES, slopes, np.array([t for *_, t in loads]), np.full(len(loads), noise), keys)


@st.composite
def histories(draw: st.DrawFn, least: int = 1) -> Rows:
    """One to eight rows on a few pits of two kinds, of a few cuts."""
    count = draw(st.integers(least, 8))
    loads = [
        (
            draw(st.sampled_from(("offset", "cabinet"))),
            draw(st.sampled_from(("north", "south"))),
            draw(st.sampled_from(("brisket", "butt"))),
            draw(st.floats(-0.6, 0.6)),
        )
        for _ in range(count)
    ]
    loads = [(kind, f"{kind} {pit}", cut, told) for kind, pit, cut, told in loads]
    slopes = np.array([[draw(st.floats(-0.3, 0.3)) for _ in NAMES] for _ in range(count)])
    return rows_of(loads, slopes, draw(st.floats(0.001, 0.02)))


def dense(common: Common) -> Floats:
    """The covariance of all rows together, written out."""
    wide = np.sqrt(common.scatter / common.trust)
    alone = common.load * np.outer(wide, wide) + np.diag(common.noise / common.trust)
    return common.unlike * common.lasting[np.ix_(common.kind, common.kind)] + alone


def by_parts(rows: Rows, keys: dict[str, str]) -> Belief:
    """The same posterior by the normal equations of every part of every departure, one unknown each."""
    parts: dict[tuple[str, str, int], int] = {}
    for key in (*rows.keys, keys | {LOAD: "new"}):
        for level in LEVELS:
            for n in range(len(NAMES)):
                if SHARES.by[level][n] > 0.0:
                    parts.setdefault((level, key[level], n), len(parts))
    variance = np.array([SHARES.by[level][n] for level, _, n in parts])
    design = np.zeros((len(rows.keys), len(parts)))
    for row, key in enumerate(rows.keys):
        for (level, name, n), place in parts.items():
            design[row, place] = rows.slopes[row, n] * (key[level] == name)
    precision = np.diag(1.0 / variance) + design.T @ (design / rows.noise[:, None])
    covariance = np.linalg.inv(precision)
    mean = covariance @ design.T @ (rows.told / rows.noise)
    pick = np.zeros((len(NAMES), len(parts)))
    for (level, name, n), place in parts.items():
        pick[n, place] = level != LOAD and keys.get(level) == name
    return Belief(pick @ mean, pick @ covariance @ pick.T)


@some
@given(rows=histories(), pit=st.sampled_from(("offset north", "offset new")))
def test_the_posterior_is_that_of_the_normal_equations(rows: Rows, pit: str) -> None:
    """Summing over parts by covariances gives what solving for every part gives (both exact: 1e-9)."""
    keys = NORTH | {"pit": pit}
    ours, theirs = believed(rows, Common.of(rows), keys), by_parts(rows, keys)
    np.testing.assert_allclose(ours.mean, theirs.mean, atol=1e-9)
    np.testing.assert_allclose(ours.covariance, theirs.covariance, atol=1e-9)


def test_one_row_by_hand() -> None:
    """One cook 20 % long, told by h alone with slope −0.2: the shrunken shift of h, by hand.

    Variance of the row: 0.2² · 1 + 0.01 = 0.05; covariance with the lasting h: −0.2 · 0.9 = −0.18; so
    mean −0.18 / 0.05 · 0.2 = −0.72 and variance 0.9 − 0.18² / 0.05 = 0.252.
    """
    rows = rows_of([("offset", "north", "brisket", 0.2)], np.array([[-0.2, 0.0, 0.0]]), noise=0.01)
    belief = believed(rows, Common.of(rows), NORTH)
    assert belief.mean[0] == pytest.approx(-0.72)
    assert belief.covariance[0, 0] == pytest.approx(0.252)
    assert belief.mean[1:] == pytest.approx(0.0)


def test_without_rows_the_belief_is_the_prior() -> None:
    """No cook: means of nought, and all the variance that lasts."""
    rows = rows_of([], np.zeros((0, 3)))
    belief = believed(rows, Common.of(rows), NORTH)
    assert belief.mean.tolist() == [0.0, 0.0, 0.0]
    np.testing.assert_array_equal(belief.covariance, np.diag([0.9, 0.7, 0.8]))


@some
@given(rows=histories(least=2))
def test_one_more_cook_never_widens_what_is_known(rows: Rows) -> None:
    """Whatever the last cook told, no departure of any pit is known less well than without it."""
    fewer = Rows(SHARES, rows.slopes[:-1], rows.told[:-1], rows.noise[:-1], rows.keys[:-1])
    more_, less = (believed(r, Common.of(r), NORTH).covariance for r in (rows, fewer))
    assert np.linalg.eigvalsh(less - more_).min() > -1e-9


def test_a_pit_without_cooks_borrows_from_its_kind_and_a_cut_from_its_pit() -> None:
    """Slow cooks on one offset make another likely slow, less so; a new cut is as slow as its pit."""
    loads = [("offset", "north", "brisket", 0.3)] * 10
    rows = rows_of(loads, np.tile([-0.2, 0.1, 0.05], (10, 1)))
    common = Common.of(rows)
    here = believed(rows, common, NORTH)
    new_cut = believed(rows, common, NORTH | {"cut": "ham"})
    new_pit = believed(rows, common, NORTH | {"pit": "west"})
    other_kind = believed(rows, common, NORTH | {"pit": "south", "kind": "cabinet"})
    assert here.mean[0] < new_pit.mean[0] < other_kind.mean[0] == 0.0
    assert (
        here.covariance[0, 0] < new_pit.covariance[0, 0] < other_kind.covariance[0, 0] == pytest.approx(0.9)
    )
    assert new_cut.mean[0] == pytest.approx(here.mean[0])
    assert new_cut.mean[1] == 0.0 < here.mean[1]
    assert other_kind.mean[2] > 0.0  # the house's paper is the same everywhere


@some
@given(rows=histories(least=2))
def test_a_row_left_out_is_foretold_by_the_others(rows: Rows) -> None:
    """Residual and variance are those of foretelling the row from the rest, solved again without it."""
    common = Common.of(rows)
    residual, variance = left_out(common)
    whole = dense(common)
    across, rest = whole[0, 1:], whole[1:, 1:]
    foretold = across @ np.linalg.solve(rest, rows.told[1:])
    assert residual[0] == pytest.approx(rows.told[0] - foretold, abs=1e-9)
    assert variance[0] == pytest.approx(whole[0, 0] - across @ np.linalg.solve(rest, across), rel=1e-6)


def test_the_likelihood_is_that_of_a_normal() -> None:
    """But for the constant, the density of SciPy's multivariate normal."""
    scipy = pytest.importorskip("scipy.stats")
    rows = rows_of([("offset", "north", "brisket", t) for t in (0.1, 0.2, -0.1)], np.full((3, 3), 0.1))
    common = Common.of(rows)
    theirs = scipy.multivariate_normal(np.zeros(3), dense(common)).logpdf(rows.told)
    ours = log_likelihood(common)
    assert ours - 1.5 * np.log(2.0 * np.pi) == pytest.approx(theirs)


@pytest.mark.parametrize("wild", [1.1, -1.2, 3.0])
@pytest.mark.parametrize("others", [0, 1, 6])
def test_a_wild_record_hardly_moves_the_pit(wild: float, others: int) -> None:
    """A time three times too long, or a third, alone or among others, moves h by less than 0.1 sd."""
    good = [("offset", "north", "brisket", 0.05 * (-1) ** n) for n in range(others)]
    loads = [*good, ("offset", "north", "brisket", wild)]
    rows = rows_of(loads, np.tile([-0.2, 0.1, 0.05], (len(loads), 1)))
    common = settled(Common.of(rows), ["north"] * len(loads), np.ones(len(loads)), record())
    assert common.trust[-1] < 0.05
    assert np.all(common.trust[:-1] > 0.9)
    moved = believed(rows, common, NORTH).mean[0]
    kept = rows_of(good, np.tile([-0.2, 0.1, 0.05], (others, 1)))
    before = believed(kept, Common.of(kept), NORTH).mean[0] if others else 0.0
    assert abs(moved - before) < 0.1


def test_loads_that_scatter_more_than_assumed_are_found_to() -> None:
    """Thirty cooks that vary twice as much as assumed give a scatter well above one, alike ones below it."""
    rng = np.random.default_rng(3)
    slopes = np.tile([-0.2, 0.1, 0.05], (30, 1))

    def scatter(sd: float) -> float:
        loads = [("offset", "north", "brisket", float(t)) for t in rng.normal(0.0, sd, 30)]
        rows = rows_of(loads, slopes, noise=0.001)
        return float(settled(Common.of(rows), ["north"] * 30, np.ones(30), record()).scatter[0])

    assumed = float(np.sqrt(np.diag(Common.of(rows_of([("a", "b", "c", 0.0)], slopes[:1])).load)[0]))
    assert scatter(2.0 * assumed) > 1.8
    assert scatter(0.3 * assumed) < 0.8


def test_the_shares_of_every_departure_sum_to_one() -> None:
    """What is drawn in all is what is drawn without history."""
    told = shares(parameters())
    np.testing.assert_allclose(sum(told.by[level] for level in LEVELS), 1.0)


def test_members_are_drawn_from_what_is_known() -> None:
    """Standard normals become draws of the mean and covariance known; other names stay."""
    spread = np.array([[0.5, -0.3], [-0.3, 0.7]])
    known = Known(("h", "radius"), (1.0, -0.5), tuple(map(tuple, spread.tolist())))
    rng = np.random.default_rng(1)
    normal = {name: rng.standard_normal(200_000) for name in ("h", "radius", "paper")}
    moved = known.moved(normal)
    assert moved["paper"] is normal["paper"]
    assert (moved["h"].mean(), moved["radius"].mean()) == pytest.approx((1.0, -0.5), abs=0.01)
    np.testing.assert_allclose(np.cov(moved["h"], moved["radius"]), spread @ spread.T, atol=0.01)
    assert replace(known, spread=((1.0, 0.0), (0.0, 1.0)), middle=(0.0, 0.0)).moved(normal)["h"].tolist() == (
        normal["h"].tolist()
    )


@some
@given(
    rows=histories(least=3),
    trust=st.floats(1e-3, 1.0),
    scatter=st.floats(0.3, 5.0),
    unlike=st.floats(0.3, 5.0),
)
def test_the_inverse_is_that_of_the_whole_covariance(
    rows: Rows, trust: float, scatter: float, unlike: float
) -> None:
    """Loads of two rows, a row trusted less, a pit that scatters: all is as of the matrix written out."""
    keys = (*rows.keys[:-1], {**rows.keys[-1], "load": rows.keys[0]["load"]})
    common = Common.of(replace(rows, keys=keys))
    ones = np.ones(len(keys))
    common = replace(common, trust=np.where(np.arange(len(keys)) == 1, trust, 1.0), scatter=scatter * ones)
    common = replace(common, unlike=unlike)
    whole, inverse = dense(common), common.inverse
    np.testing.assert_allclose(inverse.times(whole), np.eye(len(whole)), atol=1e-8)
    np.testing.assert_allclose(inverse.diagonal(), np.diag(np.linalg.inv(whole)), rtol=1e-8)
    assert inverse.log_det == pytest.approx(np.linalg.slogdet(whole)[1], abs=1e-8)


def test_cooks_alike_in_all_that_lasts_are_one_kind() -> None:
    """Ten cooks of one cut on one pit share one place in the covariance of what lasts."""
    rows = rows_of([("offset", "north", "brisket", 0.1)] * 10, np.tile([-0.2, 0.1, 0.05], (10, 1)))
    common = Common.of(rows)
    assert common.lasting.shape == (1, 1)
    assert set(common.kind.tolist()) == {0}
