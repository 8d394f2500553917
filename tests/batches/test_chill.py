"""How a hot brine cools, beside the figures of the reference."""

from dataclasses import replace
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.batches.chill import checks, chilled, ice_to_weigh_kg, pots_for, too_slow
from board.house import chilling
from board.house.model import ChillWay, Container, Display, Ingredient, Recipe, RecipeKind, Work
from board.safety.limits import cooling

RULE = cooling()
# the reference's pot: 20 L of 5 % brine, 20.7 kg
KG, LITRES = 20.7, 20.0


def pot(ua: float | None = None, way: ChillWay = ChillWay.ICE_BATH, **changes) -> Container:
    """A pot that the reference's brine fills."""
    known = {} if ua is None else {way: ua}
    return replace(Container("pot", "pot", LITRES, KG, ua_w_k=known), **changes)


def brine(chill: ChillWay | None = ChillWay.ICE_BATH, **changes) -> Recipe:
    """A boiled brine of 5 % salt."""
    lines = (
        Ingredient("water", 9.5, "kg", "water", 1.0),
        Ingredient("salt", 0.5, "kg", "salt"),
    )
    plain = Recipe("brine", "brine", RecipeKind.BRINE, lines, 0.6, Work(20.0), 60.0, 2880.0)
    return replace(plain, boil_minutes=10.0, chill=chill, **changes)


@pytest.mark.parametrize(
    ("from_c", "share", "share_at_minus_10"),
    [(95, 0.500, 0.486), (80, 0.457, 0.443), (60, 0.385, 0.371), (40, 0.288, 0.277)],
)
def test_ice_share_of_a_brine_as_published(from_c, share, share_at_minus_10):
    """The shares that end a 5 % brine at 4 °C: demand_batches, ice_as_water, to its rounding."""
    assert chilling.ice_share(from_c, 4.0) == pytest.approx(share, abs=6e-4)
    assert chilling.ice_share(from_c, 4.0, ice_c=-10.0) == pytest.approx(share_at_minus_10, abs=6e-4)


@pytest.mark.parametrize(
    ("u", "tau", "minutes"),
    [
        (50, 73, (110, 215, 73, 177)),
        (100, 36, (55, 107, 36, 89)),
        (200, 18, (28, 54, 18, 44)),
        (400, 9, (14, 27, 9, 22)),
    ],
)
def test_a_pot_in_an_ice_bath_as_published(u, tau, minutes):
    """The stirred pot of 0.38 m2 in ice: demand_batches, boiled_brine_model, to whole minutes."""
    found = chilling.tau_minutes(KG, u * 0.38)
    assert found == pytest.approx(tau, abs=0.6)
    spans = ((95, 21), (95, 5), (57, 21), (57, 5))
    for (first, last), published in zip(spans, minutes, strict=True):
        assert chilling.cooling_minutes(found, first, last, 0.0) == pytest.approx(published, abs=0.6)


@pytest.mark.parametrize(("h", "hours"), [(10, (5.1, 15.2)), (6, (8.5, 25.4))])
def test_a_pot_in_the_walk_in_as_published(h, hours):
    """The same pot, 0.5 m2, in 3 °C air: demand_batches, walk_in, to 0.1 h."""
    tau = chilling.tau_minutes(KG, h * 0.5)
    for last, published in zip((21, 5), hours, strict=True):
        assert chilling.cooling_minutes(tau, 57, last, 3.0) / 60 == pytest.approx(published, abs=0.06)


def test_salt_that_dissolves_off_the_heat_cools_a_little():
    """0.83 K at 5 % and 1.72 K at 10 %: demand_batches, dissolving, to its rounding."""
    assert chilling.dissolving_cools_k(0.05) == pytest.approx(0.83, abs=0.006)
    assert chilling.dissolving_cools_k(0.10) == pytest.approx(1.72, abs=0.006)


def test_the_ice_of_a_bath_as_published():
    """1.08 kg of ice melts for each kilogram from 95 to 5 °C: its heat over 334 kJ/kg."""
    assert chilling.heat_kj_kg_k() * 90 / 334 == pytest.approx(1.08, abs=0.006)
    bath = chilled(brine(), KG, pot(), RULE)
    assert bath is not None
    assert 1.2 * 1.08 <= bath.ice_kg / KG <= 1.5 * 1.08  # and 20 to 50 % of losses


@given(ua=st.floats(0.5, 200), mass=st.floats(1, 200), last=st.floats(5, 56), around=st.floats(-2, 4))
def test_two_readings_give_back_the_vessel(ua, mass, last, around):
    """What is fitted from a cooling that the sum itself made is the UA it was made with."""
    minutes = chilling.cooling_minutes(chilling.tau_minutes(mass, ua), 57.0, last, around)
    assert chilling.fitted_ua_w_k(mass, 57.0, last, minutes, around) == pytest.approx(ua)


@given(from_c=st.floats(30, 100), to_c=st.floats(0, 10), dissolved=st.floats(0, 0.2))
def test_the_ice_weighed_ends_where_it_was_meant_to(from_c, to_c, dissolved):
    """The heat that the hot part gives is what the ice takes: both sums agree."""
    share = chilling.ice_share(from_c, to_c, dissolved=dissolved)
    assert chilling.ends_at_c(from_c, share, dissolved=dissolved) == pytest.approx(to_c, abs=1e-6)


@given(mass=st.floats(1, 19), more=st.floats(1.01, 5))
def test_more_brine_in_a_pot_cools_no_faster(mass, more):
    """A fuller pot takes longer, though more of it is wetted."""
    big = pot(litres=500.0, takes_kg=500.0)
    slow, fast = (chilled(brine(), kg, big, RULE) for kg in (mass * more, mass))
    assert slow is not None
    assert fast is not None
    assert slow.minutes > fast.minutes


def test_a_pot_put_straight_into_the_walk_in_warns_with_what_would_do():
    """20 L in 3 °C air misses both limits; ice in its water, a bath and shallow pans are offered."""
    recipe = brine(ChillWay.WALK_IN)
    found = chilled(recipe, KG, pot(), RULE)
    assert found is not None
    assert not found.in_time(RULE)
    says = too_slow(recipe, found, RULE, Display())
    assert says is not None
    for words in (
        "57 °C to 21 °C",
        "allowed 2 h",
        "10.3 kg of its water weighed in as ice",
        "ice bath",
        "1/4",
    ):
        assert words in says, says


def test_the_pans_offered_are_shallow_enough_and_no_shallower():
    """A quarter of the depth keeps both limits, a third does not: tau over 1.82 h (ln 3 in 2 h at 3 °C)."""
    found = chilled(brine(ChillWay.WALK_IN), KG, pot(), RULE)
    assert found is not None
    assert found.tau_minutes is not None
    for parts, enough in ((4, True), (3, False)):
        took = chilling.cooling_minutes(found.tau_minutes / parts, 57.0, 21.0, 3.0)
        assert (took <= 120.0) is enough


def test_a_pot_in_ice_keeps_the_limits_and_is_read_at_both():
    """A stirred bath: nothing to warn of; read at 21 °C, and once it is cold enough for use."""
    recipe = brine()
    found = chilled(recipe, KG, pot(), RULE)
    assert found is not None
    assert too_slow(recipe, found, RULE, Display()) is None
    marks = checks(found, 4.0, RULE)
    assert [mark.most_c for mark in marks] == [RULE.first_c, 4.0]
    assert [mark.after_minutes for mark in marks] == pytest.approx([55, 115], abs=1.5)


def test_a_slow_brine_is_read_no_later_than_the_rule_allows():
    """The reading at two hours from 57 °C is taken though the sum knows it is too warm then."""
    found = chilled(brine(ChillWay.WALK_IN), KG, pot(), RULE)
    assert found is not None
    first, cold, ready = checks(found, 4.0, RULE)
    assert cold.after_minutes - first.after_minutes == pytest.approx(RULE.all_minutes - RULE.first_minutes)
    assert ready.most_c == 4.0
    assert ready.after_minutes > cold.after_minutes


def test_ice_is_part_of_the_water():
    """Half of a 95 °C brine is weighed in as ice; more than its water it never is."""
    assert ice_to_weigh_kg(brine(ChillWay.ICE), 20.0) == pytest.approx(10.0, abs=0.02)
    thick = replace(
        brine(ChillWay.ICE),
        ingredients=(Ingredient("cider", 8.0, "kg"), Ingredient("water", 2.0, "kg", "water", 1.0)),
    )
    found = chilled(thick, 10.0, None, RULE)
    assert found is not None
    assert found.minutes == inf
    says = too_slow(thick, found, RULE, Display())
    assert says is not None
    assert "all the ice its water allows" in says


def test_what_is_not_boiled_is_not_chilled():
    """A recipe made cold, or one whose cooling is not told, asks for nothing."""
    assert chilled(brine(None), KG, pot(), RULE) is None
    assert chilled(replace(brine(), boil_minutes=0.0), KG, pot(), RULE) is None
    assert chilled(brine(), KG, None, RULE) is None


@pytest.mark.parametrize(("kg", "pots"), [(1.0, 1), (20.7, 1), (20.8, 2), (62.0, 3)])
def test_a_batch_takes_as_many_pots_as_it_needs(kg, pots):
    """Pots are whole."""
    assert pots_for(kg, pot()) == pots
