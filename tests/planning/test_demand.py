"""From promises to pieces."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import PlanError
from board.house.files import read_house
from board.house.library import library_cut
from board.house.model import Zone
from board.house.seeds import seed_house
from board.planning.demand import needs_of, pieces_for
from board.planning.dues import occasions_on
from board.planning.parts import cut_into, shares_of
from tests.planning.conftest import DAY


def test_portions_become_whole_pieces_through_the_yields():
    """60 portions of 170 g from briskets of 6.5 kg at 0.85 × 0.58 × 0.93: 2.98 kg a piece, 17.5 portions.

    The yields are the usual ones of the library (common practice); 60 / 17.53 = 3.42, so 4 pieces.
    """
    brisket = library_cut("brisket")
    served = 6.5 * 0.85 * 0.58 * 0.93
    assert brisket.mass_kg.usual * brisket.yields.raw_to_served == pytest.approx(served, rel=1e-9)
    assert pieces_for(60, served / 0.170, brisket, 0.5) == 4


def test_the_published_smoked_yield_lies_inside_the_brisket_range():
    """96 briskets smoked to 85 and 90 °C kept 59.3 and 56.0 % after a 3 h hold.

    Kerth, Wall and Grayson-Holter, Meat and Muscle Biology (article 18269).
    """
    kept = library_cut("brisket").yields.trimmed_to_cooked
    assert kept.low <= 0.560 <= kept.high
    assert kept.low <= 0.593 <= kept.high


@given(st.integers(1, 500), st.floats(0.5, 60), st.floats(0.5, 0.95))
def test_pieces_give_the_portions_and_one_fewer_would_not(portions, each, chance):
    """The pieces cover the promise at usual yields, and surer never means fewer."""
    brisket = library_cut("brisket")
    pieces = pieces_for(portions, each, brisket, chance)
    assert pieces * each >= portions - 1e-6
    assert pieces_for(portions, each, brisket, 0.5) <= pieces


def test_an_item_the_house_does_not_make_is_refused(two_fires):
    """A promise of an unknown item is one line that names it."""
    occasions = occasions_on(two_fires, DAY, {("lunch", "pie"): 4})
    with pytest.raises(PlanError, match="'pie': not an item"):
        needs_of(two_fires, occasions, 0.7)


def test_orders_lie_on_their_own_day():
    """A catering order and pieces ordered ahead are occasions of the day they are collected."""
    house = read_house(seed_house("tallow_row"))
    on_day = {o.id for o in occasions_on(house, date(2026, 12, 19)) if o.is_order}
    ordered = {o.id for o in house.orders if o.collect_at.date() == date(2026, 12, 19)}
    assert on_day == ordered
    assert on_day


@given(st.integers(1, 60), st.integers(1, 9))
def test_cutting_a_need_loses_no_piece_and_no_portion(two_fires, pieces, count):
    """Parts add up to the need: pieces, portions given, and portions due."""
    occasions = occasions_on(two_fires, DAY, {("lunch", "bird"): pieces})
    need = next(n for n in needs_of(two_fires, occasions, 0.7) if n.item == "bird")
    sizes = [pieces * (i + 1) // count - pieces * i // count for i in range(count)]
    parts = cut_into(need, [size for size in sizes if size])
    assert sum(part.pieces for part in parts) == pieces
    assert sum(part.due for part in parts) == need.portions
    assert sum(part.portions for part in parts) == need.pieces * need.portions_a_piece


def test_a_part_takes_half_a_pit_at_most(two_fires):
    """Parts leave room for a second cut on the same fire."""
    occasions = occasions_on(two_fires, DAY, {("lunch", "sliced"): 300})
    need = next(n for n in needs_of(two_fires, occasions, 0.7) if n.item == "sliced")
    parts = shares_of(need, list(two_fires.pits.values()))
    assert all(part.pieces * need.cut.area_m2 <= 0.8 for part in parts)


def test_a_part_fits_the_largest_zone_of_its_pit(two_fires):
    """A pit of three zones a third each takes parts of a third, not of half: no zone is that large."""
    pits = [
        replace(pit, zones=tuple(Zone(n, n, pit.area_m2 / 3) for n in "abc"))
        for pit in two_fires.pits.values()
    ]
    need = next(n for n in needs_of(two_fires, occasions_on(two_fires, DAY, {("lunch", "sliced"): 300}), 0.7))
    parts = shares_of(need, pits)
    assert all(part.pieces * need.cut.area_m2 <= 1.6 / 3 for part in parts)
    assert sum(part.pieces for part in parts) == need.pieces
