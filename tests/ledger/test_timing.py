"""Times put right: what happened counts at its true time, and never at one that cannot be."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from board.errors import LedgerError
from board.ledger import read, write
from board.ledger.checking import Right
from board.ledger.open import Ledger
from board.ledger.past import past_cooks
from board.ledger.state import BatchStage, LoadStage, Read, Took, WatchEnd, WatchKind
from board.ledger.timing import counted_at
from board.ledger.watching import Watched
from board.ledger.when import moment_ago

from .by_hand import DAY, EVENING, ZONE
from .test_rebuild import assert_rebuilt
from .test_write import BRISKET

GLAZE = "1209-glaze-1"


def said(minutes: float = 0, who: str = "Ines") -> dict[str, object]:
    """Who and when, so many minutes into the evening."""
    at = EVENING + timedelta(minutes=minutes)
    return {"who": who, "at": at, "noted_at": at}


def after(minutes: float) -> datetime:
    """So many minutes into the evening."""
    return EVENING + timedelta(minutes=minutes)


def brisket(ledger: Ledger) -> object:
    """The brisket as it stands."""
    return next(load for load in read.load_states(ledger, DAY) if load.id == BRISKET)


def test_a_mark_counts_at_the_time_that_was_put_right(planned: Ledger) -> None:
    """The state follows, the record keeps both, and undo brings the first time back."""
    on = write.mark_load(planned, BRISKET, LoadStage.ON, **said(60))
    fixed = write.correct(planned, on.seq, Right(taken_at=after(50)), **said(61))
    assert brisket(planned).on_at == after(50)
    assert counted_at(planned, on) == after(50)
    assert read.entry(planned, on.seq).at == after(60)
    assert (fixed.data["was"][:16], fixed.data["at"][:16]) == (
        f"{after(60):%Y-%m-%dT%H:%M}",
        f"{after(50):%Y-%m-%dT%H:%M}",
    )
    assert_rebuilt(planned)
    write.undo(planned, **said(62))
    assert brisket(planned).on_at == after(60)
    assert_rebuilt(planned)


def test_a_second_correction_stands_over_the_first(planned: Ledger) -> None:
    """The last time said is the one that counts."""
    on = write.mark_load(planned, BRISKET, LoadStage.ON, **said(60))
    write.correct(planned, on.seq, Right(taken_at=after(50)), **said(61))
    again = write.correct(planned, on.seq, Right(taken_at=after(55)), **said(62))
    assert (brisket(planned).on_at, again.data["was"][:16]) == (after(55), f"{after(50):%Y-%m-%dT%H:%M}")
    with pytest.raises(LedgerError, match="says that already"):
        write.correct(planned, on.seq, Right(taken_at=after(55)), **said(63))


def test_stages_stay_in_their_order(planned: Ledger) -> None:
    """A wrap is not put before the loading, nor the loading after the wrap, nor anything into the future."""
    on = write.mark_load(planned, BRISKET, LoadStage.ON, **said(60))
    wrap = write.mark_load(planned, BRISKET, LoadStage.WRAPPED, **said(120))
    for seq, at, why in (
        (wrap.seq, after(30), "cannot be wrapped"),
        (on.seq, after(121), "cannot be on"),
        (wrap.seq, after(900), "still to come"),
    ):
        with pytest.raises(LedgerError, match=why):
            write.correct(planned, seq, Right(taken_at=at), **said(130))
    assert len(read.entries(planned, kinds=("correction",))) == 0


def test_a_correction_is_not_undone_when_another_time_rests_on_it(planned: Ledger) -> None:
    """The loading put earlier lets a wrap stand; taking that back would put the wrap before the loading."""
    on = write.mark_load(planned, BRISKET, LoadStage.ON, **said(60))
    fixed = write.correct(planned, on.seq, Right(taken_at=after(10)), **said(61))
    write.mark_load(planned, BRISKET, LoadStage.WRAPPED, who="Ines", at=after(30), noted_at=after(62))
    with pytest.raises(LedgerError, match="and is on before that"):
        write.undo(planned, fixed.seq, **said(63))


def late(at: float, noted: float) -> dict[str, object]:
    """Who, when, and how much later that is written down."""
    return {"who": "Ines", "at": after(at), "noted_at": after(noted)}


def test_a_correction_is_not_undone_once_a_use_a_sale_a_move_or_an_end_rests_on_it(planned: Ledger) -> None:
    """What came after the time put right would come before the time as it was first said."""
    made = write.make_batch(planned, GLAZE, **said(100))
    on = write.mark_load(planned, BRISKET, LoadStage.ON, **said(110))
    lit = write.light(planned, "north", 110.0, **said(120))
    beans = write.start_watch(planned, Watched(WatchKind.COOLING, "beans"), **said(130))
    fixed = [
        write.correct(planned, entry.seq, Right(taken_at=after(50)), **said(131))
        for entry in (made, on, lit, beans)
    ]
    took = [Took(GLAZE, DAY, 0.5)]
    write.mark_step(planned, f"{BRISKET}.slice", took=took, **late(60, 132))
    write.move_load(planned, BRISKET, "south", **late(70, 133))
    write.put_out(planned, "north", **late(80, 134))
    write.end_watch(planned, beans.subject, WatchEnd.USED, **late(90, 135))
    pulled = write.mark_load(planned, BRISKET, LoadStage.PULLED, **said(200))
    fixed.append(write.correct(planned, pulled.seq, Right(taken_at=after(150)), **said(201)))
    write.sell(planned, DAY, "lunch", "sliced-brisket", 3, **late(160, 202))
    for correction in fixed:
        with pytest.raises(LedgerError, match=r"before that|before which it is on"):
            write.undo(planned, correction.seq, **said(203))
    assert_rebuilt(planned)


def test_a_batch_is_made_before_what_used_it(planned: Ledger) -> None:
    """Its making moves earlier, but not past its use nor before its weighing."""
    made = write.mark_batch(planned, GLAZE, BatchStage.MADE, **said(60))
    write.correct(planned, made.seq, Right(taken_at=after(40)), **said(61))
    glaze = next(batch for batch in read.batch_states(planned, DAY) if batch.id == GLAZE)
    assert glaze.made_at == after(40)
    used = write.mark_batch(planned, GLAZE, BatchStage.USED, **said(70))
    with pytest.raises(LedgerError, match="cannot be used"):
        write.correct(planned, used.seq, Right(taken_at=after(30)), **said(71))


def test_a_fire_keeps_its_place(planned: Ledger) -> None:
    """Lit earlier counts as lit earlier; put out cannot come before it."""
    lit = write.light(planned, "north", 110.0, **said(10))
    out = write.put_out(planned, "north", **said(90))
    with pytest.raises(LedgerError, match="this came after that"):
        write.correct(planned, out.seq, Right(taken_at=after(5)), **said(91))
    write.undo(planned, out.seq, **said(92))
    write.correct(planned, lit.seq, Right(taken_at=after(2)), **said(93))
    assert read.pit_states(planned)["north"].lit_at == after(2)
    assert write.light(planned, "north", 110.0, **said(94)).seq == lit.seq


def test_sales_and_watches_have_their_time_put_right(planned: Ledger) -> None:
    """What ran out, and since when food is watched, count at their true times."""
    gone = write.sold_out(planned, DAY, "lunch", "sliced-brisket", **said(30))
    write.correct(planned, gone.seq, Right(taken_at=after(20)), **said(31))
    assert read.sold(planned, DAY)["lunch", "sliced-brisket"].sold_out_at == after(20)
    watch = write.start_watch(planned, Watched(WatchKind.COOLING, "beans"), **said(40))
    write.correct(planned, watch.seq, Right(taken_at=after(25)), **said(41))
    assert read.watch(planned, watch.subject).started_at == after(25)
    ended = write.end_watch(planned, watch.subject, WatchEnd.DISCARDED, **said(50))
    with pytest.raises(LedgerError, match="nothing ends before that"):
        write.correct(planned, ended.seq, Right(taken_at=after(24)), **said(51))


def test_past_cooks_count_a_fire_at_its_true_time(planned: Ledger) -> None:
    """The setpoint of a finished cook is weighed by the times that were put right."""
    write.light(planned, "north", 110.0, **said(0))
    write.mark_load(planned, BRISKET, LoadStage.ON, **said(60))
    hotter = write.set_pit(planned, "north", 130.0, **said(120))
    write.mark_load(planned, BRISKET, LoadStage.PULLED, **said(180))
    from board.house.library import library_cuts  # noqa: PLC0415

    def setpoint() -> float:
        return past_cooks(planned, library_cuts(), DAY - timedelta(days=9))[-1].setpoint_c

    assert setpoint() == pytest.approx(120.0)
    write.correct(planned, hotter.seq, Right(taken_at=after(90)), **said(181))
    assert setpoint() == pytest.approx(125.0)


def test_readings_entered_together_are_one_act(planned: Ledger) -> None:
    """All or none are recorded, one undo takes all back, and a reading by itself stays."""
    alone = write.take_reading(planned, 50.0, place="hold", **said(1))
    with pytest.raises(LedgerError):
        write.take_readings(planned, [Read(60.0, "hold"), Read(900.0, "walk-in")], **said(2))
    both = write.take_readings(planned, [Read(60.0, "hold"), Read(61.0, load=BRISKET)], **said(3))
    assert read.last_timed(planned, "Ines") == both
    taken = write.undo_together(planned, **said(4))
    assert [one.undoes for one in taken] == [both[1].seq, both[0].seq]
    assert [r.seq for r in read.readings(planned)] == [alone.seq]
    assert [one.undoes for one in write.undo_together(planned, **said(5))] == [alone.seq]
    with pytest.raises(LedgerError, match="nothing of Ines's"):
        write.undo_together(planned, **said(6))


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [("10", 10), ("10 min", 10), ("10m", 10), ("1 h 10", 70), ("1h", 60), ("2 h 5 min", 125), ("0", 0)],
)
def test_how_long_ago_is_understood(typed: str, minutes: int) -> None:
    """Minutes, or hours and minutes, as people say them."""
    assert moment_ago(typed, ZoneInfo(ZONE), EVENING) == after(-minutes)


def test_a_time_of_day_is_the_last_one(planned: Ledger) -> None:
    """On the house's clock, of 24 hours or of 12; what is neither is refused in a line."""
    local = EVENING.astimezone(ZoneInfo(ZONE)) - timedelta(hours=3)
    for typed in (f"{local:%H:%M}", f"{local:%I:%M} {'am' if local.hour < 12 else 'pm'}"):
        assert moment_ago(typed, ZoneInfo(ZONE), EVENING) == local.replace(second=0, microsecond=0)
    for typed in ("", "soon", "h", "-5", "9999", "13:00 pm", "10 h 10 h"):
        with pytest.raises(LedgerError):
            moment_ago(typed, ZoneInfo(ZONE), EVENING)


@given(minutes=st.integers(0, 2880))
def test_minutes_ago_are_that_many(minutes: int) -> None:
    """A bare number is minutes, whatever their number up to two days."""
    assert EVENING - moment_ago(str(minutes), ZoneInfo(ZONE), EVENING) == timedelta(minutes=minutes)
