"""Zones share a fire and nothing else: each has its room, its heat and its level."""

from datetime import date

from tests.planning.traps import exact

DAY = date(2026, 6, 10)

TWO_LEVELS = """
[[box.zone]]
id = "upper"
area = "0.5 m2"
warmer = "10 K"
level = 1
[[box.zone]]
id = "lower"
area = "0.5 m2"
"""
BIRD, SLICE = exact.item("bird", "chicken-half"), exact.item("slice", "pork-loin")


def zoned(folder, cuts, items, **promises):
    """One pit of two zones of half a square metre, the upper ten kelvin hotter."""
    return exact.house(
        folder,
        pits=exact.pit("box", 1) + TWO_LEVELS,
        cuts=cuts,
        items=items,
        services=exact.service("lunch", "11:00", **promises),
    )


def test_a_load_goes_where_its_heat_is(tmp_path, monkeypatch):
    """Two cuts of one hour: one cooks at 120 only and the other at 130 only; one fire at 120 serves both.

    Ten kelvin more above makes 130 of 120; nothing else would have them on together.
    """
    exact.exactly(monkeypatch, chicken_half=60, pork_loin=60)
    cuts = exact.cut("chicken-half", "0.1", low=120, high=122) + exact.cut(
        "pork-loin", "0.1", low=130, high=132
    )
    plan = exact.planned(zoned(tmp_path, cuts, BIRD + SLICE, bird=4, slice=4), DAY)
    where = {load.item: (load.zone, load.setpoint_c) for load in plan.loads}
    assert where == {"bird": ("lower", 120.0), "slice": ("upper", 120.0)}
    assert plan.short == ()


def test_a_zone_holds_no_more_than_its_own_room(tmp_path, monkeypatch):
    """Six pieces of a tenth: five fit a zone, and the zone's heat lets them lie in one zone only."""
    exact.exactly(monkeypatch, pork_loin=60)
    cuts = exact.cut("pork-loin", "0.1", low=160, high=165)
    plan = exact.planned(zoned(tmp_path, cuts, SLICE, slice=6), DAY)
    assert sum(load.portions for load in plan.loads if load.spare_minutes_p50 >= 0) == 5
    assert {load.zone for load in plan.loads if load.spare_minutes_p50 >= 0} == {"upper"}


def test_a_bird_never_lies_above_other_meat(tmp_path, monkeypatch):
    """Both cook anywhere; five birds and five loins fill both zones, so the birds must lie below."""
    exact.exactly(monkeypatch, chicken_half=60, pork_loin=60)
    cuts = exact.cut("chicken-half", "0.1", high=130) + exact.cut("pork-loin", "0.1", high=130)
    plan = exact.planned(zoned(tmp_path, cuts, BIRD + SLICE, bird=5, slice=5), DAY)
    assert plan.short == ()
    assert {(load.item, load.zone) for load in plan.loads} == {("bird", "lower"), ("slice", "upper")}


def test_where_only_above_has_room_a_bird_is_left_out(tmp_path, monkeypatch):
    """The loins' heat keeps them below and the birds' above: together they may not be on, and it is said."""
    exact.exactly(monkeypatch, chicken_half=60, pork_loin=60)
    cuts = exact.cut("chicken-half", "0.1", low=130, high=132) + exact.cut(
        "pork-loin", "0.1", low=120, high=122
    )
    plan = exact.planned(zoned(tmp_path, cuts, BIRD + SLICE, bird=4, slice=5), DAY)
    assert [(short.item, short.portions) for short in plan.short] == [("bird", 4)]
    assert "above other meat" in plan.short[0].why
