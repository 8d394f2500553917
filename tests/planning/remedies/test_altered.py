"""One load's cook as it would go on if something were done now."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from board.cooking.cook import AirCurve, Cook, Move, PitAir
from board.house.library import library_cut
from board.house.model import PitKind
from board.planning.remedies.altered import moved_to, set_to, told

PIT, OTHER = PitAir.usual(PitKind.OFFSET), PitAir.usual(PitKind.CABINET)
BRISKET = Cook(library_cut("brisket"), 6.5, 1, PIT, 118.0, 92.0)
CARRIED = replace(
    BRISKET,
    air=AirCurve((0.0, 20.0, 240.0, 240.0, 260.0), (118.0, 118.0, 118.0, 130.0, 130.0)),
    move=Move(240.0, OTHER, 130.0),
)
some = settings(max_examples=40, deadline=None, derandomize=True)


def test_another_setpoint_leaves_the_air_so_far_as_it_was() -> None:
    """A load that was carried to a hotter pit met the first pit's air until then, whatever is set later."""
    air = told(set_to(CARRIED, 300.0, 130.0, 140.0))
    assert [air.at(minute) for minute in (10.0, 120.0, 239.0)] == [118.0] * 3
    assert air.at(240.0) == air.at(300.0) == 130.0
    assert 139.0 < air.at(400.0) < 140.5


@some
@given(
    st.floats(1.0, 600.0), st.floats(95.0, 140.0), st.floats(0.0, 1.0), st.sampled_from((BRISKET, CARRIED))
)
def test_what_is_done_now_changes_no_air_before(minute: float, to_c: float, part: float, cook: Cook) -> None:
    """Up to the moment something is done, the air is what it was; afterwards knots still run forward."""
    earlier, was = 0.999 * part * minute, told(cook)
    for done in (set_to(cook, minute, 130.0, to_c), moved_to(cook, minute, OTHER, to_c)):
        air = told(done)
        assert abs(air.at(earlier) - was.at(earlier)) < 1e-9
        assert list(air.minutes) == sorted(air.minutes)
