"""What helps a load in a zone of its pit, or one whose pit is still to be turned."""

from dataclasses import replace
from datetime import timedelta

from board.house.model import PitKind, Zone
from board.planning.remedies import altered, fire, meat, move
from board.planning.remedies.remedy import CostKind, Kind, Reason
from board.planning.remedies.scene import Scene
from tests.planning.remedies.scenes import NOW, PITS, house, pit, planned, scene

SHELVES = (Zone("lower", "lower shelves", 1.2), Zone("upper", "upper shelves", 1.2, 14.0, 1))
SOON = NOW + timedelta(hours=8)


def zoned(scene: Scene, **changes: object) -> Scene:
    """The scene with South's shelves told apart, and its load changed."""
    pits = (*(one for one in PITS if one.id != "south"), pit("south", PitKind.CABINET, zones=SHELVES))
    return replace(scene, house=house(pits), load=replace(scene.load, **changes))  # type: ignore[arg-type]


def test_a_warm_zone_is_raised_less_far() -> None:
    """The meat's highest air less what its zone is hotter: 14 K of the way are there already."""
    plain = fire.raised(scene(), SOON)[0]
    warm = fire.raised(replace(scene(), load=replace(scene().load, warmer_k=14.0)), SOON)[0]
    highest = [max(one.action.setpoint_c or 0.0 for one in found) for found in (plain, warm)]
    assert highest[0] - highest[1] == 14.0
    assert highest[0] == scene().load.cut.pit_c.high


def test_a_cool_zone_is_not_lowered_as_far() -> None:
    """The least setpoint keeps the meat's own air at its least where it lies."""
    hot = scene(core_c=80.0, lit={"north": 135.0})
    plain, cool = (
        fire.lowered(hot, SOON)[0],
        fire.lowered(replace(hot, load=replace(hot.load, warmer_k=-10.0)), SOON)[0],
    )
    least = [min(one.action.setpoint_c or 0.0 for one in found) for found in (plain, cool)]
    assert least[1] - least[0] == 10.0


def test_a_raise_ends_at_the_turn() -> None:
    """Raised now and turned later as planned: after the turn the air is that of the turn, not of both."""
    late = scene()
    turn = late.elapsed + 120.0
    cook = altered.set_to(late.load.cook, turn, 118.0, 125.0)
    load = replace(late.load, cook=cook, turn_minute=turn, load=replace(late.load.load, then_c=125.0))
    for one in fire.raised(replace(late, load=load), SOON)[0]:
        air = altered.told(one.cook)
        assert abs(air.at(turn - 1.0) - (one.action.setpoint_c or 0.0)) < 1.0
        assert abs(air.at(turn + 240.0) - 125.0) < 1.0
    furthest = max(
        fire.raised(replace(late, load=load), SOON)[0], key=lambda one: one.action.setpoint_c or 0.0
    )
    assert [cost.celsius for cost in furthest.costs if cost.kind is CostKind.BACK] == [125.0]


def test_a_move_names_the_zone_and_its_air() -> None:
    """South burns at 121 °C: on its upper shelves a load meets 14 K more, which their remedy counts with."""
    late = zoned(scene(lit={"north": 118.0, "south": 121.0}))
    found = {one.action.zone: one for one in move.moved(late, SOON)[0] if one.action.pit == "south"}
    air = {zone: altered.told(one.cook).celsius[-1] for zone, one in found.items()}
    assert air == {"upper": 135.0, "lower": 121.0}
    hotter = zoned(
        scene(lit={"north": 118.0, "south": 128.0})
    )  # 142 °C on the upper ones is over its highest
    assert {one.action.zone for one in move.moved(hotter, SOON)[0] if one.action.pit == "south"} == {"lower"}


def test_a_move_needs_room_in_the_zone() -> None:
    """The upper shelves are full: none of it goes there, and a load that may lie anywhere fills both."""
    late = zoned(scene(lit={"north": 118.0, "south": 121.0}))
    other = planned("other", late.load.cut, "south", load_at=NOW, pull_at=SOON, area=1.1)
    beside = replace(late.load, load=other, pit="south", zone="upper", warmer_k=14.0)
    full = replace(late, beside=(beside,))
    found, left = move.moved(full, SOON)
    assert all(one.action.zone != "upper" for one in found if one.action.pit == "south")
    unknown = replace(late, beside=(replace(beside, zone=None),))
    found, left = move.moved(unknown, SOON)
    assert not [one for one in found if one.action.pit == "south"]
    assert Reason.NO_ROOM in {one.reason for one in left if one.kind is Kind.MOVE and one.about == "south"}


def test_a_pit_about_to_be_turned_is_no_place_to_move_to() -> None:
    """What South is to be set to with its own load on it is not what it burns at now."""
    late = scene(lit={"north": 118.0, "south": 128.0})
    other = replace(
        planned("other", late.load.cut, "south", load_at=NOW, pull_at=SOON, area=0.2), then_c=110.0
    )
    beside = replace(late.load, load=other, pit="south", turn_minute=late.elapsed + 60.0)
    assert [one for one in move.moved(late, SOON)[0] if one.action.pit == "south"]
    found = move.moved(replace(late, beside=(beside,)), SOON)[0]
    assert not [one for one in found if one.action.pit == "south"]


def test_a_roast_in_a_cool_zone_is_under_no_chart() -> None:
    """The chart for roasts asks an oven of 121 °C for a large piece (FDA Food Code 2022, 3-401.11(B)(1), from
    memory): shelves 10 K cooler are no such oven, and warmer ones are no proof of it."""
    light = scene("beef-round-roast", lit={"north": 125.0})
    late = replace(light, load=replace(light.load, cook=replace(light.load.cook, mass_kg=6.0)))
    charted = meat._minutes_at(late, 58.0)
    assert charted is not None
    assert meat._minutes_at(replace(late, load=replace(late.load, warmer_k=-10.0)), 58.0) is None
    cool = replace(late, lit={"north": 115.0})
    assert meat._minutes_at(replace(cool, load=replace(cool.load, warmer_k=14.0)), 58.0) is None
