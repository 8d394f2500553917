"""What one past cook tells: how far its time scatters, its line, its air and its first piece."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from board.cooking.cook import PitAir
from board.cooking.learning import evidence
from board.cooking.learning.evenness import Evenness, evenness_of
from board.cooking.learning.evidence import grouped, rows_of
from board.cooking.learning.learn import _there, learn
from board.cooking.learning.runs import Ran, ran
from board.cooking.learning.shares import LOAD, PROBE, record, shares
from board.cooking.physics.parameters import parameters
from board.cooking.sampling import Draws, slowest
from board.cooking.solver.course import constants, run
from board.cooking.solver.ensemble import ensemble
from board.house.past import PastCook
from board.house.spans import Span
from tests.cooking.test_learning import HOUSE, NAMES, as_cook, load, minutes_at

NORTH = PitAir.of(HOUSE.pits["north"])
TOLD = shares(parameters())


def group_of(*cooks: PastCook) -> Ran:
    """Past cooks of one kind, run."""
    (only,) = ran(grouped(cooks, HOUSE.cuts, HOUSE.pits, HOUSE.altitude_m), parameters())
    return only


def test_a_time_scatters_by_its_pieces_its_core_and_its_clock() -> None:
    """The noise of a row is the variance of ln(time) of loads that differ in just these, drawn and run.

    Four pieces, a core written down to 1.5 K and a time to 6 minutes: within a fifth of 1500 draws.
    """
    past, trust, count = load(2, pieces=4), record(), 1500
    cook, rng = as_cook(past), np.random.default_rng(5)
    mass, radius, spot = slowest(cook, count, rng)
    normal = {name: np.zeros(count) for name in NAMES}
    members = ensemble(cook, Draws(normal, mass, radius, spot), parameters(), 12)
    pull_c = members.aims.pull_c + trust.core_sd * rng.standard_normal(count)
    members.aims = replace(members.aims, pull_c=pull_c)
    minutes = run(members, constants(parameters())).pulled_s / 60.0
    written = minutes * past.minutes / minutes.mean() + trust.minutes_sd * rng.standard_normal(count)
    (row,) = rows_of([group_of(past)], TOLD)
    assert row.noise == pytest.approx(np.log(written).var(), rel=0.2)


def test_a_cores_error_is_worth_what_its_degrees_take(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a core read to 1.5 K adds to a row's noise: the square of what so many degrees about it take."""
    past = load(2)
    each, cook = group_of(past), as_cook(past)
    colder, hotter = (minutes_at(replace(cook, until_core_c=c), {}) for c in (91.0, 93.0))
    with_error = rows_of([each], TOLD)[0].noise
    exact = replace(record(), core_sd=0.0)
    monkeypatch.setattr(evidence, "record", lambda: exact)
    added = with_error - rows_of([each], TOLD)[0].noise
    assert added == pytest.approx((1.5 * np.log(hotter / colder) / 2.0) ** 2, rel=0.1)


def test_air_that_was_read_is_the_pits_and_its_probes() -> None:
    """A row of air goes with the pit's departure and with where the probe hangs, and with nothing else."""
    past = load(2, air_c=112.0)
    row = rows_of([group_of(past)], TOLD)[1]
    slopes = dict(zip(TOLD.names, row.slopes, strict=True))
    assert row.told == pytest.approx(112.0 - past.setpoint_c)
    assert slopes.pop("air") == pytest.approx(0.25 * NORTH.control_band_c)
    assert slopes.pop(PROBE) == pytest.approx(0.15 * NORTH.unevenness_c)
    assert set(slopes.values()) == {0.0}
    assert row.wild_sd == record().wrong_air_sd


def test_a_line_drawn_anew_meets_the_model_where_the_answer_lies() -> None:
    """On a pit found far harder than usual, the line at that heat is the model's own time there, to 1.5 %."""
    quick = [load(n) for n in range(6)]
    cooks = tuple(replace(c, minutes=minutes_at(as_cook(c), {"h": 2.5})) for c in quick)
    first = learn(replace(HOUSE, cooks=cooks))
    each = group_of(*cooks)
    belief = first.belief("pork-shoulder", "north", NORTH.kind)
    assert belief is not None
    h = NAMES.index("h")
    z = float(belief.mean[h])
    assert z > 1.0
    line = _there(each, first, {})
    at_z = line.expected[2] + line.slopes.departures[h] * z
    assert at_z == pytest.approx(np.log(minutes_at(as_cook(cooks[2]), {"h": z})), abs=0.015)


def test_a_load_on_a_less_even_pit_is_expected_later() -> None:
    """What a found unevenness adds to the time of eight pieces is what running them in such air adds."""
    past = load(2, pieces=8)
    each, first = group_of(past), learn(replace(HOUSE, cooks=(past,)))
    usual = NORTH.unevenness_c
    wide = 2.0 * usual
    found = {"north": Evenness(Span(wide, wide, wide), 5)}
    flat = _there(each, first, {"north": Evenness(Span(usual, usual, usual), 5)})
    uneven = replace(each.group, air=replace(each.group.air, unevenness_c=wide))
    rerun = ran([uneven], parameters())[0].expected[0] - each.expected[0]
    moved = _there(each, first, found).expected[0] - flat.expected[0]
    assert rerun > 0.01
    assert moved == pytest.approx(rerun, rel=0.15)


def test_pieces_written_down_together_say_little_of_a_short_cook() -> None:
    """Written to six minutes, first and last of an hour at one minute leave the pit nearly as uneven."""
    half = load(0, "chicken-half", pieces=6, minutes=75.0, first_minutes=75.0, core_c=74.0, setpoint_c=135.0)
    long = load(0, pieces=6, first_minutes=600.0)
    short, told = (evenness_of([group_of(each)])["north"].kelvin.p50 for each in (half, long))
    assert told < short < NORTH.unevenness_c
    assert short > 0.5 * NORTH.unevenness_c


def test_a_new_pit_scatters_as_the_houses_others_do() -> None:
    """Loads of a pit without cooks are taken to scatter as the house's loads do, not as any house's."""
    cooks = tuple(replace(load(n), minutes=600.0 * float(np.exp(0.3 * (-1) ** n))) for n in range(12))
    learned = learn(replace(HOUSE, cooks=cooks))
    assert learned.scatter["north"] > 1.3
    of = learned.known("pork-shoulder", "new", NORTH.kind)
    belief = learned.belief("pork-shoulder", "new", NORTH.kind)
    assert of is not None
    assert belief is not None
    many = len(NAMES)
    spread = np.array(of.spread)
    drawn = np.diag(spread @ spread.T - belief.covariance[:many, :many])
    np.testing.assert_allclose(drawn, learned.scatter["north"] * TOLD.by[LOAD][:many], atol=1e-9)


def test_a_pit_whose_loads_scatter_gives_wider_members() -> None:
    """Four times the variance between a pit's loads is four times what is new with each load in a draw."""
    cooks = tuple(replace(load(n), day=load(n).day + timedelta(days=n)) for n in range(4))
    learned = learn(replace(HOUSE, cooks=cooks))

    def covariance(scatter: float) -> np.ndarray:
        of = replace(learned, scatter={"north": scatter}).known("pork-shoulder", "north", NORTH.kind)
        assert of is not None
        spread = np.array(of.spread)
        return np.asarray(spread @ spread.T)

    new = TOLD.by[LOAD][: len(NAMES)]
    np.testing.assert_allclose(covariance(4.0) - covariance(1.0), 3.0 * np.diag(new), atol=1e-9)


def test_a_cook_whose_times_are_doubtful_teaches_nothing_and_says_why() -> None:
    """It is left out before any sum, whatever its minutes; the others count."""
    cooks = (load(2), replace(load(2), is_untimed=True, minutes=900.0))
    kept, refused = evidence.possible(cooks, HOUSE.cuts, HOUSE.pits, HOUSE.altitude_m)
    assert kept == [cooks[0]]
    (out,) = refused
    assert out.cook is cooks[1]
    assert "put right" in out.why
