"""Goes over advice without sharing a line with the code that gives it, and lists what it breaks.

The cooking rules are typed in again from the FDA Food Code 2022, 3-401.11 and 3-501.16 (from memory).
"""

from collections.abc import Iterator
from datetime import datetime, timedelta

from board.house.model import Cut
from board.planning.remedies.remedy import Advice, CostKind, Kind, Remedy
from board.planning.remedies.scene import Scene

HOT_C = 57.0
A_HAIR = 1e-6
# °C and the seconds the middle stays there; 145 °F and 165 °F stand for 63 and 74 °C where they are lower
ROASTS = (
    (54.44, 6720), (55.0, 5340), (56.11, 3360), (57.22, 2160), (57.78, 1680), (58.89, 1080), (60.0, 720),
    (61.11, 480), (62.22, 300), (62.78, 240), (63.89, 134), (65.0, 85), (66.11, 54), (67.22, 34),
    (68.33, 22), (69.44, 14), (70.0, 0),
)  # fmt: skip
RULES = {
    "intact-roast": ROASTS,
    "cured-ham": ROASTS,
    "intact-cut": ((62.77, 15),),
    "injected": ((62.77, 180), (65.55, 60), (68.0, 17), (70.0, 0)),
    "ground": ((62.77, 180), (65.55, 60), (68.0, 17), (70.0, 0)),
    "poultry": ((73.88, 0),),
    "stuffed": ((73.88, 0),),
}
BIRDS = {"poultry", "stuffed"}


def broken(scene: Scene, advice: Advice) -> list[str]:
    """Every rule that a remedy breaks, in words."""
    found = [f"{one.action.kind}: {says}" for one in advice.remedies for says in _broken(scene, one)]
    return found + list(_swapped(scene, advice)) + list(_order(advice))


def _broken(scene: Scene, one: Remedy) -> Iterator[str]:
    kind = one.action.kind
    if not 0.0 <= one.chance <= 1.0:
        yield f"chance {one.chance}"
    if not one.ready.p10 <= one.ready.p50 <= one.ready.p90:
        yield "span out of order"
    if kind is not Kind.OTHER_FIRST and one.ready.p10 < scene.now:
        yield "ready in the past"
    if kind in (Kind.RAISE, Kind.RAISE_AND_WRAP):
        yield from _raised(scene, one)
    if kind in (Kind.WRAP, Kind.RAISE_AND_WRAP):
        yield from _wrapped(scene)
    yield from {
        Kind.MOVE: _moved,
        Kind.PULL_LOWER: _pulled,
        Kind.SHORTER_REST: _rested,
        Kind.LOWER: _lowered,
        Kind.HOLD: _held,
        Kind.BOX: _held_long,
        Kind.OTHER_FIRST: _served,
    }.get(kind, _nothing)(scene, one)


def _nothing(_: Scene, __: Remedy) -> Iterator[str]:
    return iter(())


def _raised(scene: Scene, one: Remedy) -> Iterator[str]:
    to = one.action.setpoint_c or 0.0
    on = [scene.load, *(other for other in scene.beside if other.pit == scene.load.pit)]
    if to > scene.house.pits[scene.load.pit].setpoint_c[1] + A_HAIR:
        yield f"{to} is over what the pit reaches"
    for other in on:
        if to > other.cook.cut.pit_c.high + A_HAIR:
            yield f"{to} is over {other.cook.cut.id}"
    for coming in _comes(scene, scene.load.pit, one.ready.p90):
        if to > coming.pit_c.high + A_HAIR:
            yield f"{to} is over {coming.id}, which comes"


def _lowered(scene: Scene, one: Remedy) -> Iterator[str]:
    to = one.action.setpoint_c or 0.0
    if to < scene.house.pits[scene.load.pit].setpoint_c[0] - A_HAIR:
        yield f"{to} is under what the pit keeps"
    for other in (scene.load, *(o for o in scene.beside if o.pit == scene.load.pit)):
        if to < other.cook.cut.pit_c.low - A_HAIR:
            yield f"{to} is under {other.cook.cut.id}"
        if _comes(scene, scene.load.pit, scene.load.due):
            yield "another load comes while it stays on"
        cores = [core for _, core in sorted(other.taken)]
        if not cores or cores[-1] < HOT_C:
            yield f"{other.load.id} would stay between 5 and 57 °C for longer"


def _wrapped(scene: Scene) -> Iterator[str]:
    if scene.load.is_wrapped:
        yield "wrapped twice"
    if scene.load.cook.cut.wrap is None:
        yield "a cut that is never wrapped"


def _moved(scene: Scene, one: Remedy) -> Iterator[str]:
    pit, cut, to = scene.house.pits[one.action.pit], scene.load.cook.cut, one.action.setpoint_c or 0.0
    there = [other for other in scene.beside if other.pit == pit.id]
    if pit.id == scene.load.pit:
        yield "moved to where it is"
    if pit.takes and cut.id not in pit.takes:
        yield f"{pit.id} does not take it"
    if to > cut.pit_c.high + A_HAIR or not pit.setpoint_c[0] <= to <= pit.setpoint_c[1] + A_HAIR:
        yield f"{to} on {pit.id}"
    if scene.lit and pit.id in scene.lit and abs(scene.lit[pit.id] - to) > 1.0:
        yield f"{pit.id} burns at {scene.lit[pit.id]}, not {to}"
    meets = [*(o.cook.cut for o in there), *_comes(scene, pit.id, one.ready.p90)]
    if any((cut.handling in BIRDS) != (other.handling in BIRDS) for other in meets):
        yield "raw poultry meets other meat"
    if _fullest(scene, pit.id, one.ready.p90) + scene.load.load.area_m2 > pit.area_m2 + 1e-4:
        yield f"no room on {pit.id}"


def _fullest(scene: Scene, pit: str, until: datetime) -> float:
    """The most room taken on a pit at any minute until then."""
    stays = [(scene.now, o.pull.p90, o.load.area_m2) for o in scene.beside if o.pit == pit]
    stays += [(c.load_at, c.pull_at.p90, c.area_m2) for c in scene.coming if c.pit == pit]
    minutes = int((until - scene.now) / timedelta(minutes=1))
    moments = (scene.now + timedelta(minutes=m) for m in range(0, max(1, minutes), 5))
    return max(sum(a for begin, end, a in stays if begin <= moment < end) for moment in moments)


def _comes(scene: Scene, pit: str, until: datetime) -> list[Cut]:
    return [scene.house.cuts[c.cut] for c in scene.coming if c.pit == pit and c.load_at < until]


def _pulled(scene: Scene, one: Remedy) -> Iterator[str]:
    core_c, cut = one.action.core_c or 0.0, scene.load.cook.cut
    oven_c, heavy = scene.setpoint_c, scene.load.cook.mass_kg >= 4.5
    by_chart = oven_c >= (121.0 if heavy else 176.6)  # 3-401.11(B)(1), a still dry oven
    if core_c < 62.77 and not by_chart:
        yield f"{cut.id} at {core_c} °C in a pit at {oven_c} °C is under no chart"
    enough = [seconds for c, seconds in RULES[cut.handling] if core_c >= c - A_HAIR]
    if not enough:
        yield f"{cut.id} at {core_c} °C is raw"
    elif enough[-1] >= 60.0 and enough[-1] / 60.0 > _kept_on(one) + A_HAIR:
        yield f"{cut.id} at {core_c} °C needs {enough[-1]} s"
    if core_c < HOT_C:
        yield f"{core_c} °C is too cool to hold"
    if core_c >= scene.load.cook.until_core_c:
        yield "no cooler than it was"


def _kept_on(one: Remedy) -> float:
    return sum(cost.minutes for cost in one.costs if cost.kind is CostKind.WAIT_AT_CORE)


def _rested(scene: Scene, one: Remedy) -> Iterator[str]:
    cut, pulled_c = scene.load.cook.cut, scene.load.cook.until_core_c
    enough = [seconds for c, seconds in RULES[cut.handling] if pulled_c >= c - A_HAIR]
    if not enough or enough[-1] / 60.0 > cut.rest_minutes[0]:
        yield f"{cut.id} pulled at {pulled_c} °C is cooked by its rest"
    if one.ready.p10 < scene.now + timedelta(minutes=scene.load.cook.cut.rest_minutes[0]) - timedelta(
        seconds=1
    ):
        yield "rested less than its least"


def _held(scene: Scene, one: Remedy) -> Iterator[str]:
    hold = scene.house.holds[one.action.hold]
    if hold.setpoint_c is None or hold.setpoint_c < HOT_C:
        yield f"{hold.id} is too cool"
    if (scene.load.due - one.ready.p50) / timedelta(
        minutes=1
    ) > scene.load.cook.cut.hold_longest_minutes + A_HAIR:
        yield "held too long"
    at_due = sum(s.area_m2 for s in scene.held if s.hold == hold.id and s.begin < scene.load.due <= s.end)
    if at_due + scene.load.load.area_m2 > hold.area_m2 + 1e-4:
        yield f"no room in {hold.id}"


def _held_long(scene: Scene, one: Remedy) -> Iterator[str]:
    wait = (scene.load.due - one.ready.p50) / timedelta(minutes=1)
    if wait > scene.load.cook.cut.hold_longest_minutes + A_HAIR:
        yield "kept in a box too long"
    if (one.action.core_c or 0.0) < HOT_C:
        yield "the box cools it too far"


def _served(scene: Scene, one: Remedy) -> Iterator[str]:
    other = next(o for o in scene.supplies if o.load.id == one.action.other)
    if other.due <= scene.load.due:
        yield "the other load is needed as soon"
    if other.portions <= 0:
        yield "the other load has nothing left"


def _swapped(scene: Scene, advice: Advice) -> Iterator[str]:
    longest = timedelta(minutes=scene.load.cook.cut.hold_longest_minutes)
    for one in advice.remedies:
        for other in scene.supplies:
            too_long = other.due - advice.nothing.ready.p50 > longest
            if one.action.kind is Kind.OTHER_FIRST and one.action.other == other.load.id and too_long:
                yield "it would itself wait too long"


def _order(advice: Advice) -> Iterator[str]:
    chances = [round(one.chance / 0.05) for one in advice.remedies]
    if chances != sorted(chances, reverse=True):
        yield f"not the likeliest first: {chances}"
