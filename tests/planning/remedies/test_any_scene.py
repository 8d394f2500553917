"""Houses, loads and pits at random: nothing offered breaks a rule, by a checker of its own."""

from dataclasses import replace
from datetime import timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from board.house.library import library_cuts
from board.house.model import Hold, House, Pit, PitKind
from board.house.spans import TimeSpan
from board.planning.plan import PlannedLoad
from board.planning.remedies import altered
from board.planning.remedies.advise import advise
from board.planning.remedies.scene import OnPit, Scene, Stay, Supply
from tests.planning.remedies.rules import broken
from tests.planning.remedies.scenes import NOW, house, on_pit, pit, planned

MINUTE = timedelta(minutes=1)
CUTS = tuple(library_cuts())
WRAPPED = tuple(id for id, cut in library_cuts().items() if cut.wrap)
PIT_IDS = ("north", "south", "alcove")
FEW = 24  # the fewest members that readings are weighed by


@st.composite
def pits(draw: st.DrawFn, id: str) -> Pit:
    """A pit of any kind and size, with a range of its own, that may refuse some cuts."""
    low = draw(st.integers(80, 130))
    return pit(
        id,
        draw(st.sampled_from(PitKind)),
        area_m2=draw(st.floats(0.3, 3.0)),
        setpoint_c=(float(low), float(low + draw(st.integers(10, 90)))),
        takes=draw(st.sampled_from((frozenset(), frozenset(CUTS[::2])))),
    )


@st.composite
def houses(draw: st.DrawFn) -> House:
    """Three pits, a bench, and a hold that may be too cool or too small."""
    holds = (
        Hold("bench", "bench", 3.0),
        Hold("hold", "hold", draw(st.floats(0.1, 3.0)), draw(st.sampled_from((56.9, 57.0, 65.0)))),
    )
    return house(tuple(draw(pits(id)) for id in PIT_IDS), holds)


@st.composite
def loads(draw: st.DrawFn, where: House, id: str) -> PlannedLoad:
    """A load of any cut, on or coming to any pit."""
    cut = where.cuts[draw(st.sampled_from(CUTS) | st.sampled_from(WRAPPED))]
    pulled = NOW + draw(st.integers(5, 900)) * MINUTE
    return planned(
        id,
        cut,
        draw(st.sampled_from(PIT_IDS)),
        load_at=NOW - draw(st.integers(1, 400)) * MINUTE,
        pull_at=pulled,
        pieces=draw(st.integers(1, 12)),
        needed=float(draw(st.integers(-300, 300) | st.integers(0, 900))),
        setpoint=float(draw(st.integers(100, 150))),
        rest=draw(st.floats(cut.rest_minutes[0], cut.rest_minutes[1])),
        area=draw(st.floats(0.05, 1.5)),
    )


@st.composite
def on_pits(draw: st.DrawFn, where: House, id: str) -> OnPit:
    """A load that cooks, read or not, wrapped or not."""
    load = draw(loads(where, id))
    elapsed = float(draw(st.integers(3, 400)))
    end_c = where.cuts[load.cut].end_core_c - 0.5
    core_c = draw(st.none() | st.floats(5.0, end_c) | st.floats(min(57.0, end_c), end_c))
    one = on_pit(where, load, elapsed=elapsed, core_c=core_c)
    if one.cook.wrap is not None and draw(st.booleans()):
        return replace(one, is_wrapped=True, cook=altered.wrapped_at(one.cook, elapsed / 2))
    return replace(one, has_moved=draw(st.sampled_from((False, False, False, True))))


@st.composite
def scenes(draw: st.DrawFn) -> Scene:
    """A load in question, others beside it, some to come, some to serve, and holds partly full."""
    where = draw(houses())
    late = draw(on_pits(where, "late"))
    beside = tuple(draw(on_pits(where, f"beside-{n}")) for n in range(draw(st.integers(0, 2))))
    coming = tuple(draw(loads(where, f"coming-{n}")) for n in range(draw(st.integers(0, 2))))
    later = tuple(replace(one, load_at=NOW + draw(st.integers(1, 600)) * MINUTE) for one in coming)
    lit = {one.pit: one.load.setpoint_c for one in (*beside, late)}
    ready = NOW + draw(st.integers(-60, 300)) * MINUTE
    span = TimeSpan(ready - 20 * MINUTE, ready, ready + 20 * MINUTE)
    due = NOW + draw(st.integers(-60, 900)) * MINUTE
    supplies = (Supply(replace(late.load, id="other"), span, due, draw(st.integers(0, 80))),)
    end = NOW + draw(st.integers(0, 1500)) * MINUTE
    held = (Stay("hold", draw(st.floats(0.0, 2.0)), NOW, end),)
    return Scene(where, NOW, late, beside, later, lit, supplies, held)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(scenes())
def test_no_remedy_breaks_a_rule(scene: Scene) -> None:
    """Whatever the house, the load and what is around it."""
    found = advise(scene, members=FEW)
    if found is not None:
        assert broken(scene, found) == []
