"""The board's own time: what passes on the machine counts, asleep or awake, and no clock set under it."""

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from board.ledger.clocks import APART
from tests.app.laptop import START, Laptop

HOUR = timedelta(hours=1)


def test_a_clock_set_under_the_board_does_not_move_it() -> None:
    """Set on or back, the board goes on by what passes; it knows by how much the two differ since when."""
    for by in (2 * HOUR, -2 * HOUR, timedelta(days=365)):
        laptop = Laptop()
        board = laptop.board()
        laptop.passes(HOUR)
        assert board.now() == START + HOUR
        laptop.clock += by
        laptop.passes(HOUR)
        assert board.now() == START + 2 * HOUR
        assert (board.apart, board.apart_since) == (by, START + 2 * HOUR)
        laptop.clock -= by
        assert board.now() == START + 2 * HOUR
        assert (board.apart, board.apart_since) == (timedelta(0), None)


def test_a_person_may_say_that_the_machine_is_right() -> None:
    """Then the board goes on from what it shows."""
    laptop = Laptop()
    board = laptop.board()
    laptop.clock += HOUR
    assert board.now() == START
    board.follow_machine()
    laptop.passes(HOUR)
    assert (board.now(), board.apart_since) == (START + 2 * HOUR, None)


def test_a_laptop_asleep_for_six_hours_wakes_to_the_right_time() -> None:
    """At once and without a doubt, whether or not its count goes on in its sleep."""
    for boot in ("boot-1", ""):
        laptop = Laptop(boot)
        board = laptop.board()
        laptop.passes(6 * HOUR, asleep=True)
        assert board.now() == START + 6 * HOUR
        assert board.apart_since is None


def test_without_a_count_of_sleep_a_clock_set_back_is_still_known() -> None:
    """Time never goes back."""
    laptop = Laptop("")
    board = laptop.board()
    laptop.clock -= HOUR
    assert (board.now(), board.apart) == (START, -HOUR)


@given(st.lists(st.floats(-55, 55), max_size=20))
def test_small_corrections_are_followed(seconds: list[float]) -> None:
    """A clock that is kept right by small steps is the board's clock."""
    laptop = Laptop()
    board = laptop.board()
    for by in seconds:
        laptop.clock += timedelta(seconds=by)
        laptop.passes(HOUR)
        assert board.now() == laptop.clock
        assert board.apart_since is None


@given(st.lists(st.tuples(st.floats(0, 40_000), st.floats(-9_000, 9_000)), max_size=20))
def test_time_on_the_board_never_goes_back_by_more_than_a_small_correction(
    drawn: list[tuple[float, float]],
) -> None:
    """However a clock is set, the board's time goes on by what passed, give or take what it follows."""
    laptop = Laptop()
    board = laptop.board()
    before = board.now()
    for passed, by in drawn:
        laptop.passes(timedelta(seconds=passed))
        laptop.clock += timedelta(seconds=by)
        now = board.now()
        assert abs(now - before - timedelta(seconds=passed)) <= APART + timedelta(milliseconds=2)
        before = now


def test_a_board_goes_on_from_what_was_written_before_it_was_opened() -> None:
    """A clock that was set while no board was open is doubted as the first one opens."""
    laptop = Laptop()
    laptop.clock -= HOUR
    board = laptop.board(START)
    assert (board.now(), board.apart) == (START, -HOUR)
